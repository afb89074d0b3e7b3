package trug.phone.files

import android.content.ContentResolver
import android.database.Cursor
import android.net.Uri
import android.provider.DocumentsContract
import android.provider.DocumentsContract.Document
import java.io.File
import java.io.FileNotFoundException
import java.io.IOException
import trug.core.FolderException
import trug.core.FolderFile
import trug.core.SharedFolder

/**
 * A folder that somebody chose with the system's picker, as the core exchanges over it. Its keeper, a card or another app, has
 * documents by ids of its own and no paths: names are told by walking it. Called by the core's own thread.
 */
internal class Folder(private val others: ContentResolver, private val tree: Uri) : SharedFolder {
    /** A document in it. */
    private class Entry(val id: String, val name: String, val isFolder: Boolean, val bytes: Long, val written: Long)

    /** The ids of files and folders, by their paths from the folder on. */
    private val ids = mutableMapOf("" to DocumentsContract.getTreeDocumentId(tree))

    /** Folders that were cleared of what an earlier exchange left half written. */
    private val cleared = mutableSetOf<String>()

    override fun files(): List<FolderFile> = asked {
        ids.keys.retainAll(setOf(""))
        mutableListOf<FolderFile>().also { walk("", DEPTH, it) }
    }

    override fun fetch(name: String, to: String): Unit = asked {
        val source = others.openInputStream(uri(idOf(name))) ?: throw FileNotFoundException()
        source.use { read -> File(to).outputStream().use { read.copyTo(it) } }
    }

    /** Under a hidden name first, which others pass over. Where the keeper can give no other name, it is written where it belongs: if
     * that breaks off, the core refuses it and writes it again. */
    override fun put(name: String, from: String): Unit = asked {
        val (folder, file) = name.substringBeforeLast('/', "") to name.substringAfterLast('/')
        val parent = folderFor(folder)
        if (cleared.add(folder)) list(parent).filter { it.name.startsWith(HALF) }.forEach { delete(it.id) }
        val half = create(parent, HALF + file)
        write(half, from)
        ids.remove(name)?.let(::delete)
        val put = named(half, file) ?: create(parent, file).also { whole ->
            write(whole, from)
            delete(half)
        }
        ids[name] = put
        // A keeper that gives names as it likes would be given the same piece again and again.
        if (nameOf(put) != file) {
            delete(put)
            throw FolderException.Failed()
        }
    }

    override fun remove(name: String): Unit = asked { delete(idOf(name)).also { ids.remove(name) } }

    // ---- Documents

    private fun walk(folder: String, depth: Int, found: MutableList<FolderFile>) {
        for (entry in list(ids.getValue(folder))) {
            if (entry.name.startsWith('.')) continue
            val name = if (folder.isEmpty()) entry.name else "$folder/${entry.name}"
            ids[name] = entry.id
            if (!entry.isFolder) {
                found += FolderFile(name, entry.bytes.toULong(), entry.written.toULong())
            } else if (depth > 1) {
                walk(name, depth - 1, found)
            }
        }
    }

    private fun list(folder: String): List<Entry> {
        val children = DocumentsContract.buildChildDocumentsUriUsingTree(tree, folder)
        repeat(PATIENCE) {
            val cursor = others.query(children, COLUMNS, null, null) ?: throw FileNotFoundException()
            cursor.use { rows ->
                // A keeper far away tells what it knows, and that there is more to come.
                if (!rows.extras.getBoolean(DocumentsContract.EXTRA_LOADING)) return entries(rows)
            }
            Thread.sleep(SOON_MS)
        }
        throw FolderException.Failed()
    }

    private fun entries(rows: Cursor): List<Entry> = buildList {
        while (rows.moveToNext()) {
            val isFolder = rows.getString(2) == Document.MIME_TYPE_DIR
            add(Entry(rows.getString(0), rows.getString(1).orEmpty(), isFolder, rows.getLong(3), rows.getLong(4)))
        }
    }

    private fun idOf(name: String): String = ids[name] ?: throw FileNotFoundException()

    private fun uri(id: String): Uri = DocumentsContract.buildDocumentUriUsingTree(tree, id)

    private fun folderFor(folder: String): String = ids.getOrPut(folder) {
        val parent = folderFor(folder.substringBeforeLast('/', ""))
        val name = folder.substringAfterLast('/')
        // One that has no files yet may be there.
        list(parent).find { it.isFolder && it.name == name }?.id ?: create(parent, name, Document.MIME_TYPE_DIR)
    }

    private fun create(parent: String, name: String, type: String = PLAIN): String {
        val created = DocumentsContract.createDocument(others, uri(parent), type, name) ?: throw FileNotFoundException()
        return DocumentsContract.getDocumentId(created)
    }

    private fun write(id: String, from: String) {
        val target = others.openOutputStream(uri(id), "wt") ?: throw FileNotFoundException()
        target.use { written -> File(from).inputStream().use { it.copyTo(written) } }
    }

    /** Gives a document another name; none where its keeper cannot. */
    private fun named(id: String, name: String): String? =
        runCatching { DocumentsContract.renameDocument(others, uri(id), name) }.getOrNull()?.let(DocumentsContract::getDocumentId)

    private fun nameOf(id: String): String? = others.query(uri(id), arrayOf(Document.COLUMN_DISPLAY_NAME), null, null)?.use {
        if (it.moveToFirst()) it.getString(0) else null
    }

    private fun delete(id: String) {
        DocumentsContract.deleteDocument(others, uri(id))
    }

    /** What a keeper says in its way, said in the core's. */
    private fun <T> asked(ask: () -> T): T = try {
        ask()
    } catch (error: FolderException) {
        throw error
    } catch (error: IOException) {
        throw if (error.isOfRoom()) FolderException.NoRoom() else if (error is FileNotFoundException) FolderException.Gone() else FolderException.Failed()
    } catch (_: SecurityException) {
        throw FolderException.Gone()
    } catch (_: RuntimeException) {
        // Whatever another app's code throws comes across as one of these.
        throw FolderException.Failed()
    }

    private companion object {
        val COLUMNS = arrayOf(
            Document.COLUMN_DOCUMENT_ID,
            Document.COLUMN_DISPLAY_NAME,
            Document.COLUMN_MIME_TYPE,
            Document.COLUMN_SIZE,
            Document.COLUMN_LAST_MODIFIED,
        )
        const val PLAIN = "application/octet-stream"
        const val HALF = ".part-"

        /** As deep as the core looks into a folder of a disk. */
        const val DEPTH = 3
        const val PATIENCE = 40
        const val SOON_MS = 250L
    }
}
