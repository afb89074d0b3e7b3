package trug.phone.files

import android.Manifest.permission.MANAGE_DOCUMENTS
import android.content.pm.ProviderInfo
import android.database.Cursor
import android.database.MatrixCursor
import android.net.Uri
import android.os.CancellationSignal
import android.os.ParcelFileDescriptor
import android.provider.DocumentsContract
import android.provider.DocumentsContract.Document
import android.provider.DocumentsContract.Root
import android.provider.DocumentsProvider
import java.io.File
import java.io.FileNotFoundException
import org.robolectric.Robolectric
import org.robolectric.RuntimeEnvironment

/** Another app's folder, as the system's picker hands it out: documents by ids of its own, over a plain folder of this machine. */
internal class Drive : DocumentsProvider() {
    override fun onCreate() = true

    override fun queryRoots(projection: Array<String>?): Cursor = MatrixCursor(arrayOf(Root.COLUMN_ROOT_ID, Root.COLUMN_DOCUMENT_ID)).apply {
        addRow(arrayOf("drive", ROOT))
    }

    override fun queryDocument(id: String, projection: Array<String>?): Cursor = MatrixCursor(projection ?: COLUMNS).also { told(it, file(id)) }

    override fun queryChildDocuments(parent: String, projection: Array<String>?, order: String?): Cursor {
        if (isLost) throw SecurityException("not allowed any more")
        return MatrixCursor(projection ?: COLUMNS).also { rows -> file(parent).listFiles().orEmpty().sorted().forEach { told(rows, it) } }
    }

    override fun openDocument(id: String, mode: String, signal: CancellationSignal?): ParcelFileDescriptor {
        val isWriting = 'w' in mode
        if (isWriting && room == 0) throw FileNotFoundException("no room")
        if (isWriting) room--
        Thread.sleep(slowMs)
        return ParcelFileDescriptor.open(file(id), ParcelFileDescriptor.parseMode(mode))
    }

    override fun createDocument(parent: String, type: String, name: String): String {
        val made = unused(File(file(parent), name + ending))
        if (type == Document.MIME_TYPE_DIR) made.mkdir() else made.createNewFile()
        return id(made)
    }

    override fun renameDocument(id: String, name: String): String {
        if (!renames) throw UnsupportedOperationException("no renaming")
        val to = unused(File(file(id).parentFile, name))
        if (!file(id).renameTo(to)) throw FileNotFoundException()
        return id(to)
    }

    override fun deleteDocument(id: String) {
        if (!file(id).delete()) throw FileNotFoundException()
    }

    override fun isChildDocument(parent: String, id: String) = file(id).startsWith(file(parent))

    private fun told(rows: MatrixCursor, file: File) {
        val row = rows.newRow()
        row.add(Document.COLUMN_DOCUMENT_ID, id(file))
        row.add(Document.COLUMN_DISPLAY_NAME, if (file == folder) "Shared wood" else file.name)
        row.add(Document.COLUMN_MIME_TYPE, if (file.isDirectory) Document.MIME_TYPE_DIR else "application/octet-stream")
        row.add(Document.COLUMN_SIZE, file.length())
        row.add(Document.COLUMN_LAST_MODIFIED, file.lastModified())
    }

    /** As keepers do, a name that is there already gets a number. */
    private fun unused(file: File): File =
        generateSequence(0) { it + 1 }.map { if (it == 0) file else File(file.parentFile, "${file.name} ($it)") }.first { !it.exists() }

    private fun id(file: File) = ROOT + file.path.removePrefix(folder.path)

    private fun file(id: String) = File(folder.path + id.removePrefix(ROOT)).also { if (!it.exists()) throw FileNotFoundException(id) }

    companion object {
        private const val AUTHORITY = "wood.drive"
        private const val ROOT = "root"
        private val COLUMNS = arrayOf(
            Document.COLUMN_DOCUMENT_ID,
            Document.COLUMN_DISPLAY_NAME,
            Document.COLUMN_MIME_TYPE,
            Document.COLUMN_SIZE,
            Document.COLUMN_LAST_MODIFIED,
        )

        /** Where its files lie. */
        lateinit var folder: File
            private set

        /** How often it still lets something be written. */
        var room = Int.MAX_VALUE

        /** How long it takes over a file. */
        var slowMs = 0L

        /** Whether it can give a file another name. */
        var renames = true

        /** What it puts after every name. */
        var ending = ""

        /** Whether it lets Trug in no longer. */
        var isLost = false

        /** What the picker hands out for its folder. */
        val tree: Uri get() = DocumentsContract.buildTreeDocumentUri(AUTHORITY, ROOT)

        /** An empty one, or one that is there. */
        fun install(there: File? = null) {
            folder = there ?: File(RuntimeEnvironment.getApplication().cacheDir, "drive").apply { deleteRecursively() }
            folder.mkdirs()
            room = Int.MAX_VALUE
            slowMs = 0
            renames = true
            ending = ""
            isLost = false
            val info = ProviderInfo().apply {
                authority = AUTHORITY
                exported = true
                grantUriPermissions = true
                readPermission = MANAGE_DOCUMENTS
                writePermission = MANAGE_DOCUMENTS
            }
            Robolectric.buildContentProvider(Drive::class.java).create(info)
        }
    }
}
