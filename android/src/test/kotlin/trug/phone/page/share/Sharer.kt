package trug.phone.page.share

import android.net.Uri
import java.io.ByteArrayOutputStream
import java.io.IOException
import java.io.OutputStream
import org.junit.Assert.assertTrue
import org.robolectric.Shadows.shadowOf
import trug.core.FieldValue
import trug.core.Fix
import trug.phone.app.Phone
import trug.phone.job.shot

/** The Ordnance Survey's test point TP05, SU 38710 14792 (guide to OSTN15): it stands for Harrow Shaw, which is invented. */
internal val HARROW_SHAW = Fix(50.9312793791, -1.4505143370, 6.0)

/** Long work goes on by itself: waits until this is read. */
internal fun Phone.await(part: String) {
    val until = System.currentTimeMillis() + PATIENCE_MS
    while (!reads(part) && System.currentTimeMillis() < until) {
        settle()
        Thread.sleep(1)
    }
    assertReads(part)
}

/** An outing to an invented wood with finds in it; everything that must not leave is noted with them. Answers their ids. */
internal fun Phone.gather(count: Int = 1): List<String> = core { book ->
    book.startOuting("Harrow Shaw", "permitted")
    List(count) {
        val find = book.beginFind(null, "whole", HARROW_SHAW).id
        book.nameFind(find, "velvet-shank", "sight", "sure", "Namegiver")
        val values = listOf("seen" to "7", "width" to "25-45", "on" to "fallen-branch", "host" to "elder", "note" to "findnote by the gate", "habitat" to "habitatwords")
        book.amendFind(find, values.map { (field, value) -> FieldValue(field, value) })
        find
    }
}

/** A photo of a find's, as the camera would have written it. */
internal fun Phone.addPhoto(find: String, colour: Int) {
    val file = app.filesDir.resolve("shot$colour.jpg").apply { writeBytes(shot(colour)) }
    core { it.addPhoto(find, file.path, "underside") }
}

/** To what would leave of everything, with what was chosen before. */
internal fun Phone.preview() {
    tap("See what would leave")
    await("Each of them")
}

/** A document that the system's picker gives: what is written into it. */
internal class Document(phone: Phone, name: String = "document", private val fails: Boolean = false) {
    val uri: Uri = Uri.parse("content://documents.test/$name")
    private val written = ByteArrayOutputStream()
    val bytes: ByteArray get() = written.toByteArray()

    init {
        val stream = object : OutputStream() {
            override fun write(byte: Int) = if (fails) throw IOException("ENOSPC") else written.write(byte)
        }
        shadowOf(phone.app.contentResolver).registerOutputStream(uri, stream)
    }
}

/** Makes the file and saves it through the system's picker; what was written. */
internal fun Phone.makeAndSave(): ByteArray {
    tap("Make the file")
    if (canTap("Make it so")) tap("Make it so")
    await("The file is made")
    tap("Save")
    val document = Document(this)
    pick(document.uri)
    assertReads("Saved as")
    assertTrue(document.bytes.isNotEmpty())
    return document.bytes
}

private const val PATIENCE_MS = 60_000L
