package trug.phone.camera

import android.content.ContentProvider
import android.content.ContentValues
import android.content.Context
import android.database.Cursor
import android.net.Uri
import android.os.ParcelFileDescriptor
import java.io.File
import java.io.FileNotFoundException
import trug.phone.files.about

/** Lets the camera, and nobody else, write the one photo that it was asked for. */
class CaptureProvider : ContentProvider() {
    override fun onCreate() = true

    override fun openFile(uri: Uri, mode: String): ParcelFileDescriptor {
        val capture = capture(uri) ?: throw FileNotFoundException()
        return ParcelFileDescriptor.open(capture.file, ParcelFileDescriptor.parseMode(mode))
    }

    override fun getType(uri: Uri) = "image/jpeg"

    override fun query(uri: Uri, columns: Array<String>?, where: String?, values: Array<String>?, order: String?): Cursor? {
        val capture = capture(uri) ?: return null
        return about("photo.jpg", capture.file.length(), columns)
    }

    override fun insert(uri: Uri, values: ContentValues?): Uri? = null

    override fun update(uri: Uri, values: ContentValues?, where: String?, arguments: Array<String>?) = 0

    override fun delete(uri: Uri, where: String?, arguments: Array<String>?) = 0

    private fun capture(uri: Uri): Captures.Capture? {
        val name = uri.pathSegments.singleOrNull() ?: return null
        return captures(checkNotNull(context)).named(name)?.takeIf { it.file.exists() }
    }

    companion object {
        private const val AUTHORITY = "trug.phone.captures"

        /** The photos on their way. */
        internal fun captures(context: Context) = Captures(File(context.filesDir, "captures"))

        internal fun uri(capture: Captures.Capture): Uri =
            Uri.Builder().scheme("content").authority(AUTHORITY).appendPath(capture.file.name).build()
    }
}
