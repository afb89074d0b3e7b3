package trug.phone.page.receive

import android.content.Intent
import android.net.Uri
import java.io.File
import java.io.IOException
import java.io.InputStream
import org.junit.Assert.assertEquals
import org.junit.Assert.assertFalse
import org.junit.Assert.assertTrue
import org.junit.Test
import org.junit.runner.RunWith
import org.robolectric.Robolectric
import org.robolectric.RobolectricTestRunner
import org.robolectric.Shadows.shadowOf
import org.robolectric.annotation.Config
import org.robolectric.annotation.GraphicsMode
import trug.phone.app.MainActivity
import trug.phone.app.Phone

/** Files that somebody sent: whatever they are, and whenever the phone dies, they are taken whole or not at all. */
@RunWith(RobolectricTestRunner::class)
@GraphicsMode(GraphicsMode.Mode.NATIVE)
@Config(sdk = [34, 35], qualifiers = "w360dp-h740dp-xhdpi")
class ReceiveTest {
    @Test
    fun `a file that another app hands over is looked into, and taken when asked`() = Phone().use { phone ->
        phone.handed(Post.file(Post.NOTEBOOK))
        phone.until("A notebook from a device that is not paired with this phone")
        phone.assertReads("2 finds that are new here")
        phone.assertReads("2 photos that are new here")
        phone.assertTouchable()
        assertEquals("looking keeps nothing", 0, finds(phone))
        phone.turn()
        phone.assertReads("2 finds that are new here")
        phone.die()
        phone.until("2 finds that are new here")
        phone.draw("r1-found")
        phone.tap("Take it in")
        phone.until("2 new finds")
        phone.draw("r2-taken")
        assertEquals(2, finds(phone))
        phone.turn()
        phone.assertReads("2 new finds")
        phone.die()
        phone.assertReads("2 new finds")
        phone.assertReads("2 new photos")
        phone.tap("Done")
        phone.assertReads("Today")
        assertNothingLiesAbout(phone)
        phone.handed(Post.file(Post.NOTEBOOK))
        phone.until("All of it is here already.")
        assertFalse(phone.canTap("Take it in"))
        phone.tap("Done")
        assertEquals(2, finds(phone))
    }

    @Test
    fun `it dies while it takes it in, and goes on`() = Phone().use { phone ->
        phone.handed(Post.file(Post.NOTEBOOK))
        phone.until("2 finds that are new here")
        phone.tapAtOnce("Take it in")
        phone.die()
        phone.until { phone.reads("2 new finds") || phone.reads("All of it was here already.") || phone.canTap("Take it in") || phone.canTap("Done") }
        if (phone.canTap("Take it in")) {
            phone.tap("Take it in")
            phone.until("2 new finds")
        }
        phone.until { finds(phone) == 2 }
    }

    @Test
    fun `a file is chosen from the phone, and it dies in the picker and while it is fetched`() = Phone().use { phone ->
        phone.tap("Open a file from somebody")
        phone.assertReads("Copies from others")
        phone.draw("r3-start")
        phone.assertTouchable()
        phone.tap("Choose a file")
        val asked = checkNotNull(phone.asked())
        assertEquals(Intent.ACTION_OPEN_DOCUMENT, asked.intent.action)
        phone.die()
        phone.result(asked.requestCode, data = Intent().setData(Post.document(phone, Post.file(Post.COPIES))))
        phone.until("Copies from R. Invented")
        phone.assertReads("Places as squares of 10 km")
        phone.assertReads("2 copies that are new here")
        phone.draw("r4-copies-found")
        phone.tap("Take it in")
        phone.until("2 new copies")
        phone.die()
        phone.tap("Done")
        phone.assertReads("Copies from others")
        phone.until { phone.canTap("Jelly ear") || phone.reads("elly ear") }
        phone.draw("r5-copies")
        phone.tapWhat("elly ear")
        phone.turn()
        phone.assertReads("Recorded by R. Invented")
        phone.assertReads("fallen trunk")
        phone.assertReads("4 to 6")
        phone.assertReads("by the bent elder")
        phone.draw("r6-copy")
        phone.assertTouchable()
        assertEquals("they are nobody’s finds here", 0, finds(phone))
        phone.tap("Delete this copy")
        phone.turn()
        phone.tap("Keep it")
        phone.tap("Delete this copy")
        phone.die()
        phone.tap("Delete it")
        assertEquals(1, phone.core { it.receivedCopies() }.size)
        phone.assertReads("Copies from others")
    }

    @Test
    fun `a sealed file wants its passphrase, and says when it is another`() = Phone().use { phone ->
        phone.handed(Post.file(Post.SEALED), Intent.ACTION_SEND)
        phone.until("It is sealed")
        phone.draw("r7-sealed")
        phone.assertTouchable()
        phone.tap("Open it")
        phone.assertReads("The passphrase is empty. Give one.")
        phone.type("three wet words", "Passphrase")
        phone.tap("Open it")
        phone.until("That is not the passphrase. Try again.")
        phone.draw("r8-wrong-passphrase")
        assertEquals("what was typed stands there to be put right", "three wet words", phone.field("Passphrase").text.toString())
        phone.die()
        phone.until("It is sealed")
        assertEquals("but not after the process has died", "", phone.field("Passphrase").text.toString())
        phone.type(Post.PASSPHRASE, "Passphrase")
        phone.tap("Open it")
        phone.until("2 finds that are new here")
        phone.turn()
        phone.tap("Take it in")
        phone.until("2 new finds")
        assertEquals(2, finds(phone))
    }

    @Test
    fun `the passphrase is in nothing that the phone writes down`() = Phone().use { phone ->
        phone.handed(Post.file(Post.SEALED))
        phone.until("It is sealed")
        phone.type(Post.PASSPHRASE, "Passphrase")
        phone.tap("Open it")
        phone.until("2 finds that are new here")
        assertFalse(Post.PASSPHRASE in phone.remembered())
        assertTrue("and the check can fail", "received" in phone.remembered() || "FOUND" in phone.remembered())
    }

    @Test
    fun `every file that is none of ours is refused for its own reason, and nothing changes`() = Phone().use { phone ->
        val whole = Post.file(Post.NOTEBOOK)
        val reasons = listOf(
            "Dear all, …".toByteArray() to "That is no bundle of Trug’s, or it was cut short.",
            whole.copyOf(whole.size / 2) to "That is no bundle of Trug’s, or it was cut short.",
            Post.bent() to "The bundle",
            Post.ofALaterFormat() to "The bundle was written by a newer Trug. Bring this one up to date.",
            ByteArray(0) to "That is no bundle of Trug’s, or it was cut short.",
        )
        for ((bytes, reason) in reasons) {
            phone.handed(bytes)
            phone.until("Not opened")
            phone.assertReads(reason)
            phone.assertReads("Nothing in your notebook was changed.")
            phone.assertTouchable()
            phone.die()
            phone.assertReads(reason)
            assertEquals(0, finds(phone))
            assertNothingLiesAbout(phone)
        }
        phone.draw("r9-refused")
        phone.tap("Choose another file")
        phone.pick(Post.document(phone, whole))
        phone.until("2 finds that are new here")
    }

    @Test
    fun `a file that breaks off while it is fetched leaves nothing`() = Phone().use { phone ->
        val broken = Uri.parse("content://post/broken")
        val stream = { object : InputStream() {
            private var left = 2000

            override fun read(): Int = if (left-- > 0) 7 else throw IOException("gone")
        } }
        shadowOf(phone.app.contentResolver).registerInputStreamSupplier(broken) { stream() }
        phone.newIntent(Intent(Intent.ACTION_VIEW).setDataAndType(broken, "application/zip"))
        phone.until("The file could not be read to its end.")
        assertNothingLiesAbout(phone)
        phone.newIntent(Intent(Intent.ACTION_VIEW).setDataAndType(Post.gone(phone), "application/zip"))
        phone.until("That file cannot be read any more.")
    }

    @Test
    fun `whoever goes back does not want it`() = Phone().use { phone ->
        phone.handed(Post.file(Post.NOTEBOOK))
        phone.until("2 finds that are new here")
        phone.back()
        phone.assertReads("Today")
        assertNothingLiesAbout(phone)
        phone.handed(Post.file(Post.NOTEBOOK))
        phone.until("2 finds that are new here")
        phone.tap("Leave it")
        phone.assertReads("Today")
        assertEquals(0, finds(phone))
        assertNothingLiesAbout(phone)
    }

    @Test
    fun `another file while one is open takes its place`() = Phone().use { phone ->
        phone.handed(Post.file(Post.NOTEBOOK))
        phone.until("2 finds that are new here")
        phone.handed(Post.file(Post.NAMELESS))
        phone.until("Copies from somebody who gave no name")
        phone.back()
        phone.assertReads("Today")
    }

    @Test
    fun `someone who is not paired adds and changes nothing`() = Phone().use { phone ->
        phone.handed(Post.file(Post.NOTEBOOK))
        phone.until("2 finds that are new here")
        phone.tap("Take it in")
        phone.until("2 new finds")
        phone.tap("Done")
        phone.handed(Post.file(Post.LATER))
        phone.until("1 change stays out: only a device that you paired may change what is here.")
        phone.draw("r10-stays-out")
        assertEquals(2, finds(phone))
    }

    @Test
    fun `a path is no document, and is not opened`() = Phone().use { phone ->
        phone.newIntent(Intent(Intent.ACTION_VIEW, Uri.fromFile(File(phone.app.filesDir, "notebook/notebook.json"))))
        phone.assertReads("Today")
    }

    @Test
    fun `Trug begins with the file that it was started for, once`() {
        Phone().use { phone ->
            val document = Post.document(phone, Post.file(Post.NOTEBOOK))
            val started = Robolectric.buildActivity(MainActivity::class.java, Intent(Intent.ACTION_VIEW).setDataAndType(document, "application/zip"))
            started.setup()
            assertTrue(started.get().page is Receive)
            started.recreate()
            assertTrue(started.get().page is Receive)
            started.get().leave(checkNotNull(started.get().page))
            started.recreate()
            assertFalse("it is not opened again by turning the phone", started.get().page is Receive)
            started.close()
        }
    }

    private fun finds(phone: Phone) = phone.core { it.now(null).finds.size }

    private fun assertNothingLiesAbout(phone: Phone) {
        phone.settle()
        assertEquals(emptyList<String>(), File(phone.app.filesDir, "received").list().orEmpty().toList())
    }
}
