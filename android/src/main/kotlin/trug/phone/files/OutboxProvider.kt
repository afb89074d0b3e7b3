package trug.phone.files

import android.content.ContentProvider
import android.content.ContentValues
import android.content.Context
import android.content.Intent
import android.database.Cursor
import android.net.Uri
import android.os.ParcelFileDescriptor
import java.io.File
import java.io.FileNotFoundException

/** Lets whoever was sent a file read that one, and nobody write anything. */
class OutboxProvider : ContentProvider() {
    override fun onCreate(): Boolean {
        outbox(checkNotNull(context)).sweepOld()
        return true
    }

    override fun openFile(uri: Uri, mode: String): ParcelFileDescriptor {
        if (mode != READ) throw FileNotFoundException()
        val file = file(uri) ?: throw FileNotFoundException()
        return ParcelFileDescriptor.open(file, ParcelFileDescriptor.MODE_READ_ONLY)
    }

    override fun getType(uri: Uri): String? = file(uri)?.let { TYPES[it.extension] ?: PLAIN_BYTES }

    override fun query(uri: Uri, columns: Array<String>?, where: String?, values: Array<String>?, order: String?): Cursor? =
        file(uri)?.let { about(it.name, it.length(), columns) }

    override fun insert(uri: Uri, values: ContentValues?): Uri? = null

    override fun update(uri: Uri, values: ContentValues?, where: String?, arguments: Array<String>?) = 0

    override fun delete(uri: Uri, where: String?, arguments: Array<String>?) = 0

    private fun file(uri: Uri): File? {
        val (id, name) = uri.pathSegments.takeIf { it.size == 2 } ?: return null
        return outbox(checkNotNull(context)).named(id, name)
    }

    companion object {
        private const val AUTHORITY = "trug.phone.outbox"
        private const val READ = "r"
        private const val PLAIN_BYTES = "application/octet-stream"

        /** Media types as registered with IANA; that of GPX is only in use. */
        private val TYPES = mapOf(
            "zip" to "application/zip",
            "gpx" to "application/gpx+xml",
            "geojson" to "application/geo+json",
            "csv" to "text/csv",
        )

        /** The files on their way out. */
        internal fun outbox(context: Context) = Outbox(File(context.filesDir, "outbox"))

        /** Sends a file by the system's own list of ways: whoever is chosen there may read it, and nothing else. */
        internal fun sending(parcel: Outbox.Parcel, type: String): Intent {
            val uri = Uri.Builder().scheme("content").authority(AUTHORITY).appendPath(parcel.id).appendPath(parcel.file.name).build()
            val send = Intent(Intent.ACTION_SEND).setType(type).putExtra(Intent.EXTRA_STREAM, uri)
            send.clipData = android.content.ClipData.newRawUri(null, uri)
            send.addFlags(Intent.FLAG_GRANT_READ_URI_PERMISSION)
            return Intent.createChooser(send, null)
        }
    }
}
