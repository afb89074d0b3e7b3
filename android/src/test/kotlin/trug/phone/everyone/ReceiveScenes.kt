package trug.phone.everyone

import android.content.Intent
import trug.phone.app.Phone
import trug.phone.page.receive.Post
import trug.phone.page.receive.handed
import trug.phone.page.receive.until

private const val COPIES = "Copies from others"

/** The page on which a file is opened. */
internal val receiveScenes = listOf(
    Scene("receive-empty") { it.tap("Open a file from somebody") },
    Scene("receive-fetching") { phone ->
        phone.newIntentAtOnce(Intent(Intent.ACTION_VIEW).setDataAndType(Post.document(phone, Post.file(Post.COPIES)), "application/zip"))
    },
    Scene("receive-looking") { phone ->
        phone.handed(Post.file(Post.SEALED))
        phone.until("It is sealed")
        phone.type(Post.PASSPHRASE, "Passphrase")
        phone.tapAtOnce("Open it")
    },
    Scene("receive-sealed") { phone ->
        phone.handed(Post.file(Post.SEALED))
        phone.until("It is sealed")
    },
    Scene("receive-wrong-passphrase") { phone ->
        phone.handed(Post.file(Post.SEALED))
        phone.until("It is sealed")
        phone.type("three wet words", "Passphrase")
        phone.tap("Open it")
        phone.until("That is not the passphrase.")
    },
    Scene("receive-notebook") { found(it, Post.NOTEBOOK) },
    Scene("receive-copies") { found(it, Post.COPIES) },
    Scene("receive-all-here") { phone ->
        taken(phone, Post.NOTEBOOK)
        phone.tap("Done")
        phone.handed(Post.file(Post.NOTEBOOK))
        phone.until("All of it is here already.")
    },
    Scene("receive-left-out") { phone ->
        taken(phone, Post.NOTEBOOK)
        phone.tap("Done")
        phone.handed(Post.file(Post.LATER))
        phone.until("stays out")
    },
    Scene("receive-taken") { taken(it, Post.NOTEBOOK) },
    Scene("receive-taken-copies") { taken(it, Post.COPIES) },
    Scene("receive-refused") { phone ->
        phone.handed("Dear all,".toByteArray())
        phone.until("Not opened")
    },
    Scene("receive-gone") { phone ->
        phone.newIntent(Intent(Intent.ACTION_VIEW).setDataAndType(Post.gone(phone), "application/zip"))
        phone.until("Not opened")
    },
    Scene("receive-list") { listed(it) },
    Scene("receive-copy") { phone ->
        listed(phone)
        phone.tapWhat("elly ear")
    },
    Scene("receive-copy-delete") { phone ->
        listed(phone)
        phone.tapWhat("elly ear")
        phone.tap("Delete this copy")
    },
)

private fun found(phone: Phone, name: String) {
    phone.handed(Post.file(name))
    phone.until("new here")
}

private fun taken(phone: Phone, name: String) {
    found(phone, name)
    phone.tap("Take it in")
    phone.until { phone.canTap("Done") }
}

private fun listed(phone: Phone) {
    taken(phone, Post.COPIES)
    phone.tap("Done")
    phone.until(COPIES)
}
