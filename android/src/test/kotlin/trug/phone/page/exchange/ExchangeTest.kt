package trug.phone.page.exchange

import android.content.Intent
import java.io.File
import org.junit.Assert.assertEquals
import org.junit.Assert.assertTrue
import org.junit.Before
import org.junit.Test
import org.junit.runner.RunWith
import org.robolectric.RobolectricTestRunner
import org.robolectric.Shadows.shadowOf
import org.robolectric.annotation.Config
import org.robolectric.annotation.GraphicsMode
import trug.phone.app.Phone
import trug.phone.files.Drive
import trug.phone.job.shot
import trug.phone.page.receive.until

/** One owner's two phones over one folder that another app keeps: whatever breaks off, both come to hold the same. */
@RunWith(RobolectricTestRunner::class)
@GraphicsMode(GraphicsMode.Mode.NATIVE)
@Config(sdk = [34, 35], qualifiers = "w360dp-h740dp-xhdpi")
class ExchangeTest {
    @Before
    fun drive() = Drive.install()

    @Test
    fun `two phones are paired, and exchange both ways over a folder`() = Phone().use { phone ->
        phone.tap("Photograph a find")
        phone.shoot(shot())
        phone.back()
        phone.tap("My other devices")
        phone.assertReads("None yet. Pair two devices once")
        phone.draw("x1-alone")
        phone.assertTouchable()
        val ours = ownKey(phone)
        phone.becomes("other")
        phone.tap("Pair a device")
        val theirs = phone.core { it.peers() }.own.text
        phone.type(ours, KEY)
        phone.die()
        assertEquals("what was pasted is still there", ours, phone.field(KEY).text.toString())
        phone.type("Phone", NAME)
        phone.turn()
        phone.draw("x2-pair")
        phone.assertTouchable()
        phone.tap("Pair it")
        phone.assertReads("Compare these figures")
        phone.draw("x3-device")
        phone.back()
        choose(phone)
        phone.tap("Exchange now")
        phone.until("Exchanged")
        phone.tap("Done")
        phone.becomes("first")
        phone.pair(theirs, "Tablet")
        phone.draw("x4-paired")
        phone.assertReads("“Shared wood”")
        exchange(phone)
        phone.draw("x5-exchanged")
        phone.die()
        phone.assertReads("Exchanged")
        phone.tap("Done")
        phone.becomes("other")
        phone.core { it.beginFind(null, "whole", null) }
        exchange(phone)
        phone.assertReads("1 new find came in")
        phone.assertReads("1 new photo came in")
        phone.tap("Done")
        phone.becomes("first")
        exchange(phone)
        phone.assertReads("1 new find came in")
        phone.tap("Done")
        val ids = { phone.core { book -> book.now(null).finds.map { it.id }.toSet() } }
        val here = ids()
        assertEquals(2, here.size)
        phone.becomes("other")
        assertEquals(here, ids())
        exchange(phone)
        phone.tap("Done")
        val there = files()
        exchange(phone)
        phone.assertReads("Nothing new came in")
        phone.assertReads("The others lack nothing")
        assertEquals("nothing is written again", there, files())
    }

    @Test
    fun `cut short for want of room, it goes on where it was`() = together { phone, other ->
        repeat(3) { n -> phone.core { it.beginFind(photo(phone, n), "whole", null) } }
        Drive.room = 2
        phone.tap("Exchange now")
        phone.until("Exchange now")
        phone.draw("x6-broken-off")
        assertEquals(emptyList<String>(), files().filter { it.first.startsWith(".") }.map { it.first }.drop(1))
        Drive.room = Int.MAX_VALUE
        exchange(phone)
        phone.tap("Done")
        assertTrue("nothing half written is left", files().none { it.first.startsWith(".") })
        phone.becomes(other)
        exchange(phone)
        phone.assertReads("3 new finds came in")
        phone.assertReads("3 new photos came in")
        assertEquals(3, phone.core { it.now(null).finds.size })
    }

    @Test
    fun `it dies in the middle, and exchanges once it is back`() = together { phone, other ->
        repeat(5) { n -> phone.core { it.beginFind(photo(phone, n), "whole", null) } }
        Drive.slowMs = 300
        phone.tapAtOnce("Exchange now")
        phone.until { files().isNotEmpty() }
        var cut = 0
        phone.die { cut = files().size }
        Drive.slowMs = 0
        phone.until("Exchanged")
        val all = files().size
        assertTrue("$cut of $all", cut in 1 until all)
        phone.tap("Done")
        phone.becomes(other)
        phone.tapAtOnce("Exchange now")
        phone.turn()
        phone.until("Exchanged")
        assertEquals(5, phone.core { it.now(null).finds.size })
    }

    @Test
    fun `it is stopped, and what is done stays done`() = together { phone, _ ->
        repeat(5) { n -> phone.core { it.beginFind(photo(phone, n), "whole", null) } }
        Drive.slowMs = 1000
        phone.tap("Exchange now")
        phone.assertReads("What is done stays done, whenever it stops.")
        phone.draw("x7-busy")
        phone.assertTouchable()
        phone.turn()
        phone.back()
        phone.assertReads("Today")
        phone.tap("My other devices")
        phone.assertReads("What is done stays done, whenever it stops.")
        phone.until { files().isNotEmpty() }
        phone.tap("Stop")
        phone.until("Stopped, as you asked.")
        val cut = files().size
        Drive.slowMs = 0
        exchange(phone)
        assertTrue("$cut of ${files().size}", cut in 1 until files().size)
    }

    @Test
    fun `a keeper that gives no other names is written to all the same`() = together { phone, other ->
        Drive.renames = false
        phone.core { it.beginFind(photo(phone, 1), "whole", null) }
        exchange(phone)
        phone.tap("Done")
        assertTrue(files().none { it.first.startsWith(".") })
        phone.becomes(other)
        exchange(phone)
        phone.assertReads("1 new find came in")
    }

    @Test
    fun `a keeper that gives names as it likes is not filled with the same piece`() = together { phone, _ ->
        Drive.ending = ".bin"
        phone.core { it.beginFind(null, "whole", null) }
        Drive.renames = false
        repeat(3) {
            phone.tap("Exchange now")
            phone.until("The phone could not write to the exchange folder.")
        }
        assertEquals(emptyList<Any>(), files())
    }

    @Test
    fun `pieces that came over torn, or from a stranger, are said to be unread, and are read another time`() = together { phone, other ->
        phone.core { it.beginFind(photo(phone, 1), "whole", null) }
        exchange(phone)
        phone.tap("Done")
        val largest = checkNotNull(Drive.folder.walk().filter { it.isFile }.maxByOrNull { it.length() })
        val whole = largest.readBytes()
        largest.writeBytes(whole.copyOf(whole.size / 2))
        File(Drive.folder, "letter.txt").writeText("Dear all,")
        phone.becomes(other)
        exchange(phone)
        phone.assertReads("Not all there yet, or no piece of Trug’s.")
        phone.assertReads("2 files")
        phone.draw("x8-unread")
        phone.die()
        phone.assertReads("2 files")
        phone.tap("Done")
        largest.writeBytes(whole)
        exchange(phone)
        phone.assertReads("1 file")
        phone.assertReads("1 new photo came in")
        assertTrue("what is not ours is left alone", File(Drive.folder, "letter.txt").exists())
    }

    @Test
    fun `a folder that may not be used any more is chosen again`() = together { phone, _ ->
        phone.app.contentResolver.releasePersistableUriPermission(Drive.tree, BOTH)
        phone.turn()
        phone.assertReads("This phone does not let Trug use it any more. Choose it again.")
        phone.draw("x9-lost")
        phone.tap("Choose the folder")
        phone.pick(Drive.tree)
        phone.assertReads("Exchange now")
        Drive.isLost = true
        phone.tap("Exchange now")
        phone.until("The phone could not look into the exchange folder.")
    }

    @Test
    fun `what is no key is said to be none, and stays to be put right`() = Phone().use { phone ->
        phone.tap("My other devices")
        phone.tap("Pair a device")
        phone.type("hello", KEY)
        phone.type("Tablet", NAME)
        phone.tap("Pair it")
        phone.assertReads("That is no key. Copy the whole line: it begins with trug1.")
        assertEquals("Tablet", phone.field(NAME).text.toString())
        phone.type(phone.core { it.peers() }.own.text, KEY)
        phone.tap("Pair it")
        phone.assertReads("that is this notebook's own key")
        phone.draw("x10-no-key")
        phone.back()
        phone.assertReads("None yet. Pair two devices once")
    }

    @Test
    fun `a device is trusted no longer, once that is confirmed`() = together { phone, _ ->
        phone.tap("Tablet")
        phone.tap("Trust it no longer")
        phone.turn()
        phone.tap("Keep it paired")
        phone.tap("Trust it no longer")
        phone.die()
        phone.draw("x11-unpair")
        phone.tap("Trust it no longer")
        phone.assertReads("None yet. Pair two devices once")
        assertTrue(phone.core { it.peers() }.peers.isEmpty())
    }

    @Test
    fun `the key is handed to another app as text`() = Phone().use { phone ->
        phone.tap("My other devices")
        phone.tap("Send the key")
        val chooser = shadowOf(phone.activity).nextStartedActivity
        @Suppress("DEPRECATION")
        val sent = checkNotNull(chooser.getParcelableExtra<Intent>(Intent.EXTRA_INTENT))
        assertEquals(Intent.ACTION_SEND to ownKey(phone), sent.action to sent.getStringExtra(Intent.EXTRA_TEXT))
    }

    private fun ownKey(phone: Phone): String = phone.core { it.peers() }.own.text

    private fun photo(phone: Phone, n: Int): String =
        File(phone.app.cacheDir, "$n.jpg").apply { writeBytes(shot(COLOURS[n])) }.path

    private fun files(): List<Pair<String, Long>> =
        Drive.folder.walk().filter { it.isFile }.map { it.name to it.length() }.sortedBy { it.first }.toList()

    private fun choose(phone: Phone) {
        phone.tap("Choose the folder")
        val asked = checkNotNull(phone.asked())
        assertEquals(Intent.ACTION_OPEN_DOCUMENT_TREE, asked.intent.action)
        phone.die()
        phone.result(asked.requestCode, data = Intent().setData(Drive.tree))
        phone.assertReads("“Shared wood”")
    }

    private fun exchange(phone: Phone) {
        phone.tap("Exchange now")
        phone.until("Exchanged")
    }

    /** Two phones that are paired and have chosen the folder; the page is open on the first. */
    private fun together(test: (Phone, String) -> Unit) = Phone().use { phone ->
        val ours = ownKey(phone)
        phone.tap("My other devices")
        phone.becomes("other")
        val theirs = ownKey(phone)
        phone.core { it.pair(ours, "Phone") }
        phone.turn()
        choose(phone)
        phone.becomes("first")
        phone.core { it.pair(theirs, "Tablet") }
        phone.turn()
        test(phone, "other")
    }

    private companion object {
        const val KEY = "Its key: the line that begins with trug1"
        const val NAME = "What you call it"
        const val BOTH = Intent.FLAG_GRANT_READ_URI_PERMISSION or Intent.FLAG_GRANT_WRITE_URI_PERMISSION
        val COLOURS = listOf(0xFF112233, 0xFF442211, 0xFF335511, 0xFF775533, 0xFF117755).map(Long::toInt)
    }
}

/** The other phone is in the hand: its notebook is the one that is open, on the page that was open here. */
internal fun Phone.becomes(name: String) = die {
    val notebook = File(app.filesDir, "notebook")
    val present = File(app.filesDir, "now").takeIf { it.exists() }?.readText() ?: "first"
    notebook.renameTo(File(app.filesDir, "phone-$present"))
    File(app.filesDir, "phone-$name").renameTo(notebook)
    File(app.filesDir, "now").writeText(name)
}

/** Pairs by the page. */
private fun Phone.pair(key: String, name: String) {
    tap("Pair a device")
    type(key, "Its key: the line that begins with trug1")
    type(name, "What you call it")
    tap("Pair it")
    back()
}
