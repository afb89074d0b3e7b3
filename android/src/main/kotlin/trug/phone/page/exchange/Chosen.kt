package trug.phone.page.exchange

import android.content.Context
import android.content.Intent
import android.net.Uri
import android.provider.DocumentsContract
import android.provider.DocumentsContract.Document

/** The folder that this phone exchanges over, as it was chosen: a setting of the phone, for another has another way to it. */
internal class Chosen(private val context: Context) {
    private val kept = context.getSharedPreferences(FILE, Context.MODE_PRIVATE)
    private val others = context.contentResolver

    /** The folder; none while none is chosen. */
    val folder: Uri? get() = kept.getString(FOLDER, null)?.let(Uri::parse)

    /** Whether the system still lets Trug use it. */
    val isAllowed: Boolean
        get() = folder.let { chosen -> others.persistedUriPermissions.any { it.uri == chosen && it.isReadPermission && it.isWritePermission } }

    /** Takes what was picked, for good, and lets go of the one before. */
    fun choose(picked: Uri) {
        others.takePersistableUriPermission(picked, BOTH)
        val before = folder
        kept.edit().putString(FOLDER, picked.toString()).apply()
        if (before != null && before != picked) runCatching { others.releasePersistableUriPermission(before, BOTH) }
    }

    /** What the folder is called, by whoever keeps it. May take a while. */
    fun name(): String? {
        val tree = folder ?: return null
        val itself = DocumentsContract.buildDocumentUriUsingTree(tree, DocumentsContract.getTreeDocumentId(tree))
        return others.query(itself, arrayOf(Document.COLUMN_DISPLAY_NAME), null, null)?.use { if (it.moveToFirst()) it.getString(0) else null }
    }

    companion object {
        private const val FILE = "exchange"
        private const val FOLDER = "folder"
        private const val BOTH = Intent.FLAG_GRANT_READ_URI_PERMISSION or Intent.FLAG_GRANT_WRITE_URI_PERMISSION

        /** Lets a folder be picked, to be used from then on. */
        fun toPick(): Intent = Intent(Intent.ACTION_OPEN_DOCUMENT_TREE).addFlags(BOTH or Intent.FLAG_GRANT_PERSISTABLE_URI_PERMISSION)
    }
}
