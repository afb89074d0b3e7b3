package trug.phone.job

import android.content.Intent
import android.graphics.Color
import java.io.File
import java.util.concurrent.CountDownLatch
import org.junit.Assert.assertArrayEquals
import org.junit.Assert.assertEquals
import org.junit.Assert.assertFalse
import org.junit.Assert.assertNotEquals
import org.junit.Assert.assertTrue
import org.junit.Test
import org.junit.runner.RunWith
import org.robolectric.RobolectricTestRunner
import org.robolectric.annotation.Config
import org.robolectric.annotation.GraphicsMode
import trug.core.FindPage
import trug.core.JobReport
import trug.phone.app.Look
import trug.phone.app.Phone

/** The notebook outlives the phone: a backup through the pickers, and the way back, with the process dying and the phone turning between the steps. */
@RunWith(RobolectricTestRunner::class)
@GraphicsMode(GraphicsMode.Mode.NATIVE)
@Config(sdk = [34, 35], qualifiers = "en-rGB-w360dp-h740dp-xhdpi")
class BackupTest {
    private val Phone.finds: List<FindPage> get() = core { book -> book.now(null).finds.map { book.findPage(it.id) } }

    private val Phone.made get() = File(app.filesDir, "leaving/backup.zip")

    private val Phone.chosen get() = File(app.filesDir, "arriving/backup.zip")

    private fun photos(page: FindPage): List<ByteArray> = page.photos.map { File(checkNotNull(it.path)).readBytes() }

    private fun Phone.record(colours: List<Int>) = colours.forEach { colour ->
        tap("Photograph a find")
        shoot(shot(colour))
        type("${colour and 7}", "Seen")
        back()
    }

    private fun Phone.open(leaf: String) {
        tap("Settings")
        tap(leaf)
    }

    /** Whatever happens between two steps on a bad day. */
    private fun Phone.badMoment() {
        turn()
        die()
    }

    private fun Phone.backup(to: Elsewhere) {
        open("Backup and check")
        badMoment()
        tap("Make a backup")
        finish()
        assertReads("The backup is made")
        badMoment()
        assertReads("The backup is made")
        tap("Choose where it goes")
        assertEquals(Intent.ACTION_CREATE_DOCUMENT, asked()?.intent?.action)
        badMoment()
        result(PICKED, data = Intent().setData(to.uri))
        finish()
        assertReads("read back whole")
        badMoment()
        assertReads("Last backup: ")
        assertFalse("it takes up room no longer", made.exists())
        back()
        back()
    }

    private fun Phone.choose(from: Elsewhere) {
        tap("Choose a backup")
        assertEquals(Intent.ACTION_OPEN_DOCUMENT, asked()?.intent?.action)
        badMoment()
        result(PICKED, data = Intent().setData(from.uri))
    }

    @Test
    fun `everything comes back after the app’s data were wiped`() = Phone(Look.DARK).use { phone ->
        phone.record(listOf(Color.RED, Color.rgb(10, 200, 30)))
        val before = phone.finds
        val pictures = before.map(::photos)
        assertEquals(listOf(1, 1), pictures.map { it.size })
        val card = Elsewhere(phone)
        phone.backup(card)
        phone.wipe()
        assertTrue(phone.finds.isEmpty())
        phone.open("Restore")
        phone.badMoment()
        phone.choose(card)
        // Dead while it is read: what was brought in is still there, and it goes on.
        phone.die { phone.chosen.apply { parentFile?.mkdirs() }.writeBytes(checkNotNull(card.bytes)) }
        phone.finish()
        phone.badMoment()
        phone.assertReads("The backup is whole")
        phone.assertReads("2 finds · 2 photos")
        phone.assertTouchable()
        phone.draw("90-restore-ready")
        assertTrue("nothing has changed yet", phone.finds.isEmpty())
        phone.tapTwice("Use this backup")
        assertEquals("Today", phone.activity.getString(checkNotNull(phone.activity.page).title))
        phone.badMoment()
        val after = phone.finds
        assertEquals(before.map { it.id to it.fields }, after.map { it.id to it.fields })
        after.map(::photos).zip(pictures).forEach { (now, then) -> now.zip(then).forEach { (one, other) -> assertArrayEquals(other, one) } }
        phone.open("Backup and check")
        phone.tap("Check the notebook")
        phone.finish()
        phone.assertReads("Everything is whole: 2 finds, 2 photos.")
        assertFalse(phone.chosen.exists())
    }

    @Test
    fun `over a notebook with content that one is set aside, and comes back`() = Phone().use { phone ->
        phone.record(listOf(Color.RED))
        val card = Elsewhere(phone)
        phone.backup(card)
        phone.record(listOf(Color.BLUE, Color.CYAN))
        phone.open("Restore")
        phone.choose(card)
        phone.finish()
        phone.assertReads("The notebook on this phone: 3 finds · 3 photos")
        phone.badMoment()
        phone.tap("Use this backup")
        assertEquals(1, phone.finds.size)
        phone.open("Restore")
        phone.assertReads("Set aside")
        phone.assertTouchable()
        phone.draw("91-restore-aside")
        phone.tapWhat("3 finds")
        phone.badMoment()
        phone.tap("Go back to this one")
        assertEquals(3, phone.finds.size)
        phone.open("Restore")
        phone.tapWhat("1 find · 1 photo")
        phone.tap("Delete it for good")
        phone.badMoment()
        phone.assertReads("Nothing brings it back.")
        phone.back()
        phone.assertReads("1 find · 1 photo")
        phone.tap("Delete it for good")
        phone.tap("Keep it")
        phone.tap("Delete it for good")
        phone.tap("Delete it for good")
        assertTrue(phone.canTap("Choose a backup") && !phone.reads("Set aside"))
        assertEquals(3, phone.finds.size)
    }

    @Test
    fun `one that is ready need not be used`() = Phone().use { phone ->
        phone.record(listOf(Color.RED))
        val card = Elsewhere(phone)
        phone.backup(card)
        phone.open("Restore")
        phone.choose(card)
        phone.finish()
        phone.tap("Do not use it")
        phone.badMoment()
        assertTrue(phone.canTap("Choose a backup"))
        assertEquals(listOf("notebook"), phone.app.filesDir.list().orEmpty().filter { "notebook" in it || "restoring" in it })
        assertEquals(1, phone.finds.size)
    }

    @Test
    fun `a wrong file, a damaged one, and one that cannot be read change nothing, and are said in words`() = Phone().use { phone ->
        phone.record(listOf(Color.RED))
        val card = Elsewhere(phone)
        phone.backup(card)
        val whole = checkNotNull(card.bytes)
        val flipped = whole.copyOf().also { it[it.size / 2] = (it[it.size / 2] + 1).toByte() }
        phone.open("Restore")
        for ((bytes, words) in listOf(
            shot() to "The backup cannot be used",
            ByteArray(0) to "The backup cannot be used",
            whole.copyOf(whole.size - 30) to "The backup cannot be used",
            flipped to "The backup cannot be used",
            null to "The document could not be read",
        )) {
            card.bytes = bytes
            phone.tap("Choose a backup")
            phone.pick(card.uri)
            phone.finish()
            phone.assertReads("That did not work")
            phone.assertReads(words)
            phone.turn()
            phone.assertReads(words)
            phone.die()
            assertFalse(phone.reads("That did not work"))
            assertFalse(phone.chosen.exists())
            assertEquals(1, phone.finds.size)
        }
    }

    @Test
    fun `no room there, or torn on the way, the backup waits here`() = Phone().use { phone ->
        phone.record(listOf(Color.RED))
        val card = Elsewhere(phone).apply { room = 100 }
        phone.open("Backup and check")
        phone.tap("Make a backup")
        phone.finish()
        val there = { document: Elsewhere ->
            phone.tap("Choose where it goes")
            phone.pick(document.uri)
            phone.finish()
        }
        there(card)
        phone.assertReads("The phone is full")
        assertTrue(phone.made.exists())
        card.room = Int.MAX_VALUE
        card.tears = true
        there(card)
        phone.assertReads("What was written there is not the backup")
        phone.draw("92-backup-torn")
        assertTrue(phone.made.exists() && !phone.reads("Last backup"))
        card.tears = false
        there(card)
        phone.assertReads("read back whole")
        phone.tap("Make a backup")
        phone.finish()
        phone.tap("Throw it away")
        assertFalse(phone.made.exists())
        phone.assertReads("Last backup")
    }

    @Test
    fun `where the notebook will not open a backup comes back all the same`() = Phone().use { phone ->
        phone.record(listOf(Color.RED))
        val card = Elsewhere(phone)
        phone.backup(card)
        val identity = File(phone.app.filesDir, "notebook/notebook.json")
        phone.die { identity.writeText("""{"format": 99, "device": "0199f3a0-0000-7000-8000-000000000000"}""") }
        phone.assertReads("written by a newer Trug")
        phone.tap("Choose a backup")
        phone.badMoment()
        phone.choose(card)
        phone.finish()
        phone.assertReads("1 find · 1 photo")
        phone.tap("Use this backup")
        assertEquals(1, phone.finds.size)
        assertNotEquals(true, identity.readText().contains("99"))
    }

    @Test
    fun `long work goes on from page to page, tells how far it is, and is stopped`() = Phone().use { phone ->
        phone.record(listOf(Color.RED))
        phone.open("Backup and check")
        val held = CountDownLatch(1)
        phone.app.errands.begin("backup") { way ->
            while (!way.isStopped) Thread.sleep(1)
            held.countDown()
            throw trug.phone.files.Documents.Stopped()
        }
        phone.settle()
        phone.assertReads("The backup is being made")
        phone.turn()
        phone.back()
        phone.tap("Backup and check")
        phone.assertReads("The backup is being made")
        phone.assertTouchable()
        phone.tap("Stop")
        held.await()
        phone.finish()
        assertTrue(phone.canTap("Make a backup"))
        assertFalse("whoever has stopped it knows", phone.reads("That did not work"))
    }

    @Test
    fun `the lists are built afresh, and all is there`() = Phone().use { phone ->
        phone.record(listOf(Color.RED, Color.BLUE))
        val before = phone.finds.map { it.id }
        phone.open("Backup and check")
        phone.tap("Build the lists afresh")
        phone.finish()
        phone.assertReads("The lists are built afresh.")
        phone.turn()
        phone.assertReads("The lists are built afresh.")
        assertEquals(before, phone.finds.map { it.id })
        val job = phone.core { it.startCheck() }
        phone.app.errands.begin("check") { it.wait(job) }
        phone.finish()
        val over = phone.app.errands.state as trug.phone.app.Errands.State.Over
        assertTrue((over.result.getOrThrow() as JobReport.Checked).ok)
    }

    private companion object {
        /** What MainActivity asks pickers under. */
        const val PICKED = 31
    }
}
