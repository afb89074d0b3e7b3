package trug.phone.files

import android.content.ContentResolver
import android.content.Intent
import android.content.res.Resources
import android.net.Uri
import android.provider.DocumentsContract
import android.provider.OpenableColumns
import android.system.ErrnoException
import android.system.OsConstants
import java.io.File
import java.io.FileNotFoundException
import java.io.InputStream
import java.io.InterruptedIOException
import java.io.OutputStream
import trug.phone.R

/**
 * Documents that the system's own pickers point at. They are streams that others serve, from a card or from far away: never on the
 * thread that draws. The core is given files of Trug's own, so that nothing is read half or written half.
 */
internal class Documents(private val others: ContentResolver) {
    /** Copies a document to a file, which is there only once it is whole. */
    fun bringIn(from: Uri, into: File, isStopped: () -> Boolean = { false }) {
        into.parentFile?.mkdirs()
        val part = File(into.path + PART)
        try {
            val stream = others.openInputStream(from) ?: throw FileNotFoundException()
            stream.use { source -> part.outputStream().use { copy(source, it, isStopped) } }
            if (!part.renameTo(into)) throw FileNotFoundException()
        } finally {
            part.delete()
        }
    }

    /** Writes a file into a document, over whatever it held. */
    fun carryOut(file: File, to: Uri, isStopped: () -> Boolean = { false }) {
        val stream = others.openOutputStream(to, "wt") ?: throw FileNotFoundException()
        stream.use { target -> file.inputStream().use { copy(it, target, isStopped) } }
    }

    /** Whether a document holds what a file holds, to the last byte. */
    fun holds(document: Uri, file: File, isStopped: () -> Boolean = { false }): Boolean {
        val stream = others.openInputStream(document) ?: throw FileNotFoundException()
        return stream.use { there -> file.inputStream().use { here -> same(here, there, isStopped) } }
    }

    private fun copy(from: InputStream, to: OutputStream, isStopped: () -> Boolean) {
        val bytes = ByteArray(PIECE)
        var read = from.read(bytes)
        while (read >= 0) {
            if (isStopped()) throw Stopped()
            to.write(bytes, 0, read)
            read = from.read(bytes)
        }
    }

    private fun same(here: InputStream, there: InputStream, isStopped: () -> Boolean): Boolean {
        val (ours, theirs) = ByteArray(PIECE) to ByteArray(PIECE)
        while (true) {
            if (isStopped()) throw Stopped()
            val read = fill(here, ours)
            if (read != fill(there, theirs) || !ours.contentEquals(theirs)) return false
            if (read < PIECE) return true
        }
    }

    /** Streams of others give as much as they like at a time. */
    private fun fill(from: InputStream, bytes: ByteArray): Int {
        var filled = 0
        while (filled < bytes.size) {
            val read = from.read(bytes, filled, bytes.size - filled)
            if (read < 0) break
            filled += read
        }
        bytes.fill(0, filled)
        return filled
    }

    /** Takes a document away: half a file helps nobody. Not every keeper of documents lets them be taken away. */
    fun takeAway(document: Uri) {
        runCatching { DocumentsContract.deleteDocument(others, document) }
    }

    /** What a document is called, if its keeper says so. */
    fun nameOf(document: Uri): String? = others.query(document, arrayOf(OpenableColumns.DISPLAY_NAME), null, null, null)?.use {
        if (it.moveToFirst()) it.getString(0) else null
    } ?: document.lastPathSegment

    /** Whoever asked for it has stopped it. */
    class Stopped : InterruptedIOException()

    companion object {
        private const val PART = ".part"
        private const val PIECE = 1 shl 16
        const val ANY = "*/*"

        /** Lets a document be picked and read. */
        fun toRead(type: String = ANY): Intent = Intent(Intent.ACTION_OPEN_DOCUMENT).addCategory(Intent.CATEGORY_OPENABLE).setType(type)

        /** Lets a place for a new document be picked; its name can still be changed there. */
        fun toWrite(name: String, type: String): Intent =
            Intent(Intent.ACTION_CREATE_DOCUMENT).addCategory(Intent.CATEGORY_OPENABLE).setType(type).putExtra(Intent.EXTRA_TITLE, name)
    }
}

/** Whether something was not done for want of room. */
internal fun Throwable.isOfRoom(): Boolean = generateSequence(this) { it.cause }.any { it is ErrnoException && it.errno == OsConstants.ENOSPC }

/** Why a document could not be copied in, and what to do. */
internal fun Resources.notFetched(error: Throwable): String = getString(
    when {
        error.isOfRoom() -> R.string.error_no_room
        error is FileNotFoundException || error is SecurityException -> R.string.receive_gone
        else -> R.string.error_import_read_failed
    },
)
