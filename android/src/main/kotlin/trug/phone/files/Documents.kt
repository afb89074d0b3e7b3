package trug.phone.files

import android.content.ContentResolver
import android.content.Intent
import android.net.Uri
import android.provider.OpenableColumns
import java.io.File
import java.io.FileNotFoundException

/**
 * Documents that the system's own pickers point at. They are streams that others serve, from a card or from far away: never on the
 * thread that draws. The core is given files of Trug's own, so that nothing is read half or written half.
 */
internal class Documents(private val others: ContentResolver) {
    /** Copies a document to a file, which is there only once it is whole. */
    fun bringIn(from: Uri, into: File) {
        into.parentFile?.mkdirs()
        val part = File(into.path + PART)
        try {
            val stream = others.openInputStream(from) ?: throw FileNotFoundException()
            stream.use { source -> part.outputStream().use { source.copyTo(it) } }
            if (!part.renameTo(into)) throw FileNotFoundException()
        } finally {
            part.delete()
        }
    }

    /** Writes a file into a document, over whatever it held. */
    fun carryOut(file: File, to: Uri) {
        val stream = others.openOutputStream(to, "wt") ?: throw FileNotFoundException()
        stream.use { target -> file.inputStream().use { it.copyTo(target) } }
    }

    /** What a document is called, if its keeper says so. */
    fun nameOf(document: Uri): String? = others.query(document, arrayOf(OpenableColumns.DISPLAY_NAME), null, null, null)?.use {
        if (it.moveToFirst()) it.getString(0) else null
    } ?: document.lastPathSegment

    companion object {
        private const val PART = ".part"
        const val ANY = "*/*"

        /** Lets a document be picked and read. */
        fun toRead(type: String = ANY): Intent = Intent(Intent.ACTION_OPEN_DOCUMENT).addCategory(Intent.CATEGORY_OPENABLE).setType(type)

        /** Lets a place for a new document be picked; its name can still be changed there. */
        fun toWrite(name: String, type: String): Intent =
            Intent(Intent.ACTION_CREATE_DOCUMENT).addCategory(Intent.CATEGORY_OPENABLE).setType(type).putExtra(Intent.EXTRA_TITLE, name)
    }
}
