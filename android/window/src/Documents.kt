package trug.window

import android.content.ContentProvider
import android.content.ContentValues
import android.content.pm.ProviderInfo
import android.database.Cursor
import android.database.MatrixCursor
import android.net.Uri
import android.os.ParcelFileDescriptor
import android.provider.OpenableColumns
import java.io.File
import java.io.FileNotFoundException
import java.net.URLConnection
import org.robolectric.Robolectric

/** Files of the desk as the documents of a phone. An address names a file only once it has been handed out. */
internal class Documents : ContentProvider() {
    override fun onCreate() = true

    override fun openFile(uri: Uri, mode: String): ParcelFileDescriptor =
        ParcelFileDescriptor.open(file(uri), ParcelFileDescriptor.parseMode(mode))

    override fun query(
        uri: Uri,
        projection: Array<String>?,
        selection: String?,
        arguments: Array<String>?,
        order: String?,
    ): Cursor = MatrixCursor(arrayOf(OpenableColumns.DISPLAY_NAME, OpenableColumns.SIZE)).apply {
        addRow(arrayOf<Any>(file(uri).name, file(uri).length()))
    }

    override fun getType(uri: Uri): String? = URLConnection.guessContentTypeFromName(file(uri).name)

    override fun insert(uri: Uri, values: ContentValues?): Uri? = null

    override fun delete(uri: Uri, selection: String?, arguments: Array<String>?) = 0

    override fun update(uri: Uri, values: ContentValues?, selection: String?, arguments: Array<String>?) = 0

    private fun file(uri: Uri): File =
        uri.lastPathSegment?.toIntOrNull()?.let(handedOut::getOrNull) ?: throw FileNotFoundException("no such document")

    companion object {
        private const val AUTHORITY = "desk.documents"
        private val handedOut = mutableListOf<File>()

        fun install() {
            val info = ProviderInfo().apply {
                authority = AUTHORITY
                grantUriPermissions = true
            }
            Robolectric.buildContentProvider(Documents::class.java).create(info)
        }

        fun uri(file: File): Uri {
            handedOut += file
            return Uri.parse("content://$AUTHORITY/${handedOut.lastIndex}")
        }
    }
}
