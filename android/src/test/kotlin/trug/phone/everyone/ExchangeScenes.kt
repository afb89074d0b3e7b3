package trug.phone.everyone

import android.content.Intent
import java.io.File
import trug.phone.app.Phone
import trug.phone.files.Drive
import trug.phone.page.receive.until

/** The page of the owner's other devices. */
internal val exchangeScenes = listOf(
    Scene("exchange-empty") { it.tap("My other devices") },
    Scene("exchange-pair") { phone ->
        phone.tap("My other devices")
        phone.tap("Pair a device")
    },
    Scene("exchange-no-key") { phone ->
        phone.tap("My other devices")
        phone.tap("Pair a device")
        phone.type("hello", "Its key: the line that begins with trug1")
        phone.tap("Pair it")
    },
    Scene("exchange-no-folder") { paired(it) },
    Scene("exchange-ready") { ready(it) },
    Scene("exchange-lost") { phone ->
        ready(phone)
        phone.app.contentResolver.releasePersistableUriPermission(Drive.tree, BOTH)
        phone.turn()
    },
    Scene("exchange-device") { phone ->
        paired(phone)
        phone.tap("Tablet")
    },
    Scene("exchange-unpair") { phone ->
        paired(phone)
        phone.tap("Tablet")
        phone.tap("Trust it no longer")
    },
    Scene("exchange-busy") { phone ->
        ready(phone)
        repeat(3) { phone.core { it.beginFind(null, "whole", null) } }
        Drive.slowMs = SLOW_MS
        phone.tapAtOnce("Exchange now")
    },
    Scene("exchange-done") { phone ->
        ready(phone)
        phone.tap("Exchange now")
        phone.until("Exchanged")
    },
    Scene("exchange-unread") { phone ->
        ready(phone)
        File(Drive.folder, "letter.txt").writeText("Dear all,")
        phone.tap("Exchange now")
        phone.until("1 file")
    },
    Scene("exchange-broken-off") { phone ->
        ready(phone)
        Drive.room = 0
        phone.tap("Exchange now")
        phone.until("Exchange now")
    },
)

/** The key of a notebook that is nobody's, as it showed it. */
private const val THEIRS = "trug1r5dzg8zczlyxfg0tjyelwnakc99fgla76qhsaecdx53luyu3gvag7p8xk23xkjad8h6n5m3r56gsjt0nq8mr75xxa69qkjq0wxgttasyy6qs9"
private const val BOTH = Intent.FLAG_GRANT_READ_URI_PERMISSION or Intent.FLAG_GRANT_WRITE_URI_PERMISSION
private const val SLOW_MS = 2000L

private fun paired(phone: Phone) {
    Drive.install()
    phone.core { it.pair(THEIRS, "Tablet") }
    phone.tap("My other devices")
}

private fun ready(phone: Phone) {
    paired(phone)
    phone.tap("Choose the folder")
    phone.pick(Drive.tree)
}
