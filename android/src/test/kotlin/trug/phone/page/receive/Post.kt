package trug.phone.page.receive

import android.content.Intent
import android.net.Uri
import java.io.ByteArrayOutputStream
import java.io.File
import java.io.FileNotFoundException
import java.util.zip.ZipEntry
import java.util.zip.ZipInputStream
import java.util.zip.ZipOutputStream
import org.junit.Assert.assertTrue
import org.robolectric.Shadows.shadowOf
import trug.phone.app.Phone

/** Files that come from somebody: made by `tests/examples/make_bundles`, all of it invented. */
internal object Post {
    const val COPIES = "copies.zip"
    const val NAMELESS = "nameless.zip"
    const val NOTEBOOK = "notebook.zip"
    const val SEALED = "notebook.zip.age"

    /** The notebook, after one of its finds was deleted. */
    const val LATER = "later.zip"
    const val PASSPHRASE = "three dry words"

    fun file(name: String): ByteArray = File("src/test/bundles", name).readBytes()

    /** The address of a document that holds this, as often as it is opened. */
    fun document(phone: Phone, bytes: ByteArray): Uri = Uri.parse("content://post/${bytes.contentHashCode()}").also { uri ->
        shadowOf(phone.app.contentResolver).registerInputStreamSupplier(uri) { bytes.inputStream() }
    }

    /** The address of a document that is there no more. */
    fun gone(phone: Phone): Uri = Uri.parse("content://post/gone").also { uri ->
        shadowOf(phone.app.contentResolver).registerInputStreamSupplier(uri) { throw FileNotFoundException() }
    }

    /** One that was written by a Trug to come. */
    fun ofALaterFormat(): ByteArray = rewritten(file(NOTEBOOK)) { name, bytes ->
        if (!name.endsWith("bag-info.txt")) bytes
        else bytes.decodeToString().replace(Regex("Trug-Bundle-Format: .*"), "Trug-Bundle-Format: 9.0").encodeToByteArray()
    }

    /** One in which a record says something else than it did. */
    fun bent(): ByteArray = rewritten(file(NOTEBOOK)) { name, bytes ->
        if (!name.endsWith(".jsonl")) bytes else bytes.decodeToString().replaceFirst("elder", "alder").encodeToByteArray()
    }

    private fun rewritten(zip: ByteArray, change: (String, ByteArray) -> ByteArray): ByteArray = ByteArrayOutputStream().also { out ->
        ZipOutputStream(out).use { to ->
            ZipInputStream(zip.inputStream()).use { from ->
                for (entry in generateSequence { from.nextEntry }) {
                    to.putNextEntry(ZipEntry(entry.name))
                    to.write(change(entry.name, from.readBytes()))
                }
            }
        }
    }.toByteArray()
}

/** Another app lets Trug open this. */
internal fun Phone.handed(bytes: ByteArray, action: String = Intent.ACTION_VIEW) {
    val document = Post.document(this, bytes)
    val intent = Intent(action)
    if (action == Intent.ACTION_SEND) intent.putExtra(Intent.EXTRA_STREAM, document) else intent.setDataAndType(document, "application/zip")
    newIntent(intent)
}

/** Waits for long work to come to this. */
internal fun Phone.until(part: String) = until { reads(part) }.also { assertReads(part) }

internal fun Phone.until(done: () -> Boolean) {
    val end = System.nanoTime() + PATIENCE
    while (!done() && System.nanoTime() < end) settle()
    assertTrue("it never came: ${said()}", done())
}

private const val PATIENCE = 20_000_000_000L
