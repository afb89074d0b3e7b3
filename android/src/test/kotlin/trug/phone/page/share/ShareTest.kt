package trug.phone.page.share

import android.content.Intent
import android.graphics.Color
import android.net.Uri
import java.io.File
import java.io.FileNotFoundException
import org.junit.Assert.assertEquals
import org.junit.Assert.assertFalse
import org.junit.Assert.assertTrue
import org.junit.Test
import org.junit.runner.RunWith
import org.robolectric.RobolectricTestRunner
import org.robolectric.Shadows.shadowOf
import org.robolectric.annotation.Config
import org.robolectric.annotation.GraphicsMode
import trug.core.FieldValue
import trug.core.JobReport
import trug.core.ShareTerms
import trug.core.ShareWhat
import trug.core.ShareWhich
import trug.phone.app.Phone
import trug.phone.app.Place
import trug.phone.app.Stop
import trug.phone.words.Ids

/** Sharing, through the screens, over the real core; dying and turning between the steps. People and places are invented. */
@RunWith(RobolectricTestRunner::class)
@GraphicsMode(GraphicsMode.Mode.NATIVE)
@Config(sdk = [34, 35], qualifiers = "en-rGB-w360dp-h740dp-xhdpi")
class ShareTest {
    private fun Phone.outbox(): List<File> = app.filesDir.resolve("outbox").walk().filter { it.isFile && it.name != ".sent" }.toList()

    private fun Phone.hurt(part: String) {
        die()
        await(part)
        turn()
        await(part)
    }

    @Test
    fun `a find is shared from its page, and every step outlives dying and turning`() = Phone().use { phone ->
        val find = phone.gather().single()
        phone.activity.go(Stop(Place.FIND, find))
        phone.settle()
        phone.tap("Share this find")
        phone.assertReads("1 find")
        phone.draw("80-share")
        phone.assertTouchable()
        phone.type("R.", "Their name (it does not leave)")
        phone.tap("Notes and surroundings")
        phone.tap("1 km square")
        phone.tap("With a passphrase")
        phone.hurt("You are asked for it when the file is made.")
        assertEquals("R.", phone.field("Their name (it does not leave)").text.toString())
        phone.preview()
        phone.hurt("Exact place and photo position stay with you. Your notes leave.")
        phone.assertReads("The 1 km square SU3814")
        phone.assertReads("Only the passphrase opens the file.")
        phone.draw("81-preview")
        phone.assertTouchable()
        phone.tapWhat("Velvet shank")
        phone.hurt("findnote by the gate")
        phone.assertReads("fallen-branch")
        phone.draw("82-copy")
        phone.back()
        phone.await("Each of them")
        phone.tap("Make the file")
        phone.type("three wet boots", "Passphrase")
        phone.type("three wet boot", "The same again")
        phone.tap("Make the file")
        phone.assertReads("The two are not the same.")
        phone.draw("83-passphrase")
        phone.turn()
        phone.await("Nobody can open the file without it")
        assertEquals("a turn of the phone keeps it", "three wet boots", phone.field("Passphrase").text.toString())
        phone.die()
        phone.await("Nobody can open the file without it")
        assertEquals("it is written down nowhere", "", phone.field("Passphrase").text.toString())
        phone.type("three wet boots", "Passphrase")
        phone.type("three wet boots", "The same again")
        phone.tap("Make the file")
        phone.await("The file is made")
        phone.hurt("The file is made")
        phone.draw("84-made")
        phone.assertTouchable()
        val document = Document(phone)
        phone.tap("Save")
        val asked = checkNotNull(phone.asked()).intent
        assertEquals(Intent.ACTION_CREATE_DOCUMENT, asked.action)
        assertTrue(asked.getStringExtra(Intent.EXTRA_TITLE).orEmpty().endsWith(".zip.age"))
        phone.pick(document.uri)
        phone.hurt("Saved as document")
        phone.draw("85-saved")
        assertTrue(document.bytes.decodeToString(0, HEAD).startsWith("age-encryption.org/v1\n-> scrypt"))
        phone.tap("Done")
        assertTrue("nothing is left behind", phone.outbox().isEmpty())
        phone.assertReads("Share this find")
    }

    @Test
    fun `what was picked while the process was gone is written all the same`() = Phone().use { phone ->
        phone.gather()
        phone.tap("Share")
        phone.preview()
        phone.tap("Make the file")
        phone.await("The file is made")
        phone.tap("Save")
        val request = checkNotNull(phone.asked()).requestCode
        phone.die()
        val document = Document(phone)
        phone.result(request, data = Intent().setData(document.uri))
        phone.assertReads("Saved as document")
        assertEquals("PK", document.bytes.decodeToString(0, 2))
    }

    @Test
    fun `whoever is sent the file may read that, and nothing else`() = Phone().use { phone ->
        phone.gather()
        phone.tap("Share")
        phone.tap("A table (CSV)")
        phone.preview()
        phone.tap("Make the file")
        phone.await("The file is made")
        phone.tap("Send")
        val chooser = checkNotNull(shadowOf(phone.activity).nextStartedActivity)
        assertEquals(Intent.ACTION_CHOOSER, chooser.action)
        @Suppress("DEPRECATION")
        val send = checkNotNull(chooser.getParcelableExtra<Intent>(Intent.EXTRA_INTENT))
        assertEquals("text/csv", send.type)
        assertEquals(Intent.FLAG_GRANT_READ_URI_PERMISSION, send.flags and (Intent.FLAG_GRANT_READ_URI_PERMISSION or Intent.FLAG_GRANT_WRITE_URI_PERMISSION))
        @Suppress("DEPRECATION")
        val uri = checkNotNull(send.getParcelableExtra<Uri>(Intent.EXTRA_STREAM))
        val others = phone.app.contentResolver
        val text = checkNotNull(others.openInputStream(uri)).use { it.readBytes().decodeToString() }
        assertTrue(text.startsWith("id,date,scientific_name"))
        assertEquals("text/csv", others.getType(uri))
        checkNotNull(others.query(uri, null, null, null, null)).use {
            it.moveToFirst()
            assertEquals(listOf("finds-${phone.core { book -> book.now(null).now.day }}.csv", text.encodeToByteArray().size), listOf(it.getString(0), it.getInt(1)))
        }
        fun refused(wanted: Uri, mode: String) =
            assertTrue("$wanted", runCatching { others.openFileDescriptor(wanted, mode) }.exceptionOrNull() is FileNotFoundException)
        refused(uri, "w")
        refused(uri, "rw")
        val id = uri.pathSegments.first()
        for (path in listOf("../notebook/notebook.json", "$id/../../notebook/notebook.json", "$id/.sent", id, "$id/finds.csv/x")) {
            refused(uri.buildUpon().encodedPath("/$path").build(), "r")
            refused(uri.buildUpon().path("/$path").build(), "r")
        }
        refused(uri.buildUpon().path("/").appendPath(id).appendPath("../../notebook/notebook.json").build(), "r")
        phone.tap("Done")
        assertEquals("its receiver may read it late", 1, phone.outbox().size)
        phone.app.filesDir.resolve("outbox/$id/.sent").setLastModified(1)
        phone.tap("Share")
        assertTrue("and not for ever", phone.outbox().isEmpty())
    }

    @Test
    fun `exact places, names and everything are agreed to first`() = Phone().use { phone ->
        phone.gather(2)
        phone.tap("Share")
        phone.tap("The exact place")
        phone.assertReads("Whoever gets the file can go there.")
        phone.tap("My name")
        phone.type("A. Gatherer", "Your name, for the file")
        phone.preview()
        phone.assertReads("2 exact places")
        assertFalse(phone.reads("Exact place, notes and photo position stay with you."))
        phone.tap("Make the file")
        phone.assertReads("Exact places are in it.")
        phone.assertReads("Your name is in it")
        phone.hurt("Are you sure?")
        phone.draw("86-sure")
        phone.assertTouchable()
        phone.tap("Change it")
        phone.tap("10 km square")
        phone.tap("My name")
        phone.preview()
        phone.tap("Make the file")
        phone.await("The file is made")
        assertFalse("what is not grave is not asked", phone.canTap("Make it so"))
        phone.back()
        assertTrue(phone.outbox().isEmpty())
        phone.tap("My other phones")
        phone.hurt("For your own phones only.")
        phone.draw("87-mine")
        phone.tap("See what would leave")
        phone.await("Everything")
        phone.tap("Make the file")
        phone.assertReads("It is for your own phones and for nobody else.")
        phone.tap("Make it so")
        phone.await("The file is made")
    }

    @Test
    fun `nothing is chosen, and the page says so`() = Phone().use { phone ->
        phone.tap("Share")
        phone.assertReads("No finds there. Choose others.")
        assertFalse(phone.canTap("See what would leave"))
        phone.draw("88-nothing")
        phone.gather()
        phone.turn()
        assertTrue(phone.canTap("See what would leave"))
    }

    @Test
    fun `what cannot be saved is not lost, and can be saved elsewhere`() = Phone().use { phone ->
        phone.gather()
        phone.tap("Share")
        phone.preview()
        phone.tap("Make the file")
        phone.await("The file is made")
        phone.tap("Save")
        phone.pick(Document(phone, "full", fails = true).uri)
        phone.assertReads("It could not be saved there: no room, or not allowed. Choose another place.")
        phone.draw("89-not-saved")
        phone.tap("Save")
        val document = Document(phone)
        phone.pick(document.uri)
        phone.assertReads("Saved as document")
        assertTrue(document.bytes.isNotEmpty())
    }

    @Test
    fun `what has changed since it was shown is shown again before it leaves`() = Phone().use { phone ->
        val find = phone.gather().single()
        phone.tap("Share")
        phone.preview()
        phone.core { it.amendFind(find, listOf(FieldValue("host", "ash"))) }
        phone.tap("Make the file")
        phone.await("What would leave is not what you were shown.")
        phone.await("Each of them")
        assertTrue(phone.outbox().isEmpty())
        phone.tapWhat("Velvet shank")
        phone.assertReads("ash")
        phone.back()
        phone.tap("Make the file")
        phone.await("The file is made")
    }

    @Test
    fun `long work is stopped, and nothing is left of it`() = Phone().use { phone ->
        val find = phone.gather().single()
        repeat(MANY) { phone.addPhoto(find, Color.rgb(it, 90, 40)) }
        phone.tap("Share")
        phone.tap("Photos, as pictures alone")
        phone.tap("See what would leave")
        phone.await("photos, as pictures alone.")
        phone.tap("Make the file")
        if (phone.canTap("Stop")) phone.tap("Stop") else phone.back()
        phone.await("Each of them")
        phone.tap("Change")
        phone.assertReads("Which finds")
    }

    @Test
    fun `finds of an outing, a patch, some days or all`() = Phone().use { phone ->
        val first = phone.gather(2).first()
        phone.core { it.foundPatch(first, "the old elder") }
        phone.core { it.startOuting("Lidgate Hanger", "own") }
        phone.core { it.beginFind(null, "whole", null) }
        phone.tap("Share")
        phone.assertReads("1 find")
        phone.tapWhat("Lidgate Hanger")
        phone.hurt("Harrow Shaw")
        phone.draw("90-outings")
        phone.tapWhat("Harrow Shaw")
        phone.assertReads("2 finds")
        phone.tap("A patch")
        phone.assertReads("the old elder")
        phone.tap("All")
        phone.assertReads("3 finds")
        phone.tap("Some days")
        phone.assertReads("3 finds")
        phone.tap(phone.texts().first { it.startsWith("From ") })
        val dialog = org.robolectric.shadows.ShadowDatePickerDialog.getLatestDialog() as android.app.DatePickerDialog
        dialog.updateDate(1999, 0, 1)
        dialog.getButton(android.app.DatePickerDialog.BUTTON_POSITIVE).performClick()
        phone.settle()
        phone.assertReads("From 1 Jan 1999")
        phone.hurt("3 finds")
        phone.tap("Patches for a map (GPX)")
        phone.assertReads("The patches of 3 finds")
        phone.preview()
        phone.assertReads("1 patch")
        phone.draw("91-patches")
    }

    @Test
    fun `every field that can leave has a name on the page`() = Phone().use { phone ->
        val find = phone.gather().single()
        val more = listOf("ground" to "chalk", "growth" to "tuft", "stages" to "button=1, young=1, prime=3, past=2", "taken" to "1", "grams" to "12.5", "specimens" to "1")
        phone.core { it.amendFind(find, more.map { (field, value) -> FieldValue(field, value) }) }
        phone.core { it.nameFind(find, "jelly-ear", "sight", "guess", null) }
        phone.core { it.foundPatch(find, "the old elder") }
        val terms = ShareTerms("10km", notes = true, time = true, photos = true, name = "A. Gatherer", recipient = null)
        val fields = listOf("bundle", "gpx").flatMap { form ->
            val job = phone.core { it.startPreview(ShareWhat.Copies(ShareWhich.Find(find), form, terms), false) }
            var report: JobReport? = null
            while (report == null) report = phone.core { job.result() }
            phone.core { (report as JobReport.Previewed).copies.page(0u, 1u).single().fields }
        }.map { it.field.replace('.', '-').replace('_', ' ') }.toSet()
        assertTrue("$fields", fields.size > MOST)
        assertEquals(emptySet<String>(), fields - Ids.choices.getValue("leaving").keys)
    }

    private companion object {
        const val HEAD = 40
        const val MOST = 25
        const val MANY = 12
    }
}
