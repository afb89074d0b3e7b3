package trug.phone.files

import java.io.File
import java.util.UUID
import java.util.concurrent.TimeUnit

/**
 * Files on their way out, until they are saved or sent: each in a folder of its own, so that it can bear its own name. What nobody
 * needs any more is taken away; what was sent stays for a day, because its receiver may read it late.
 */
internal class Outbox(private val folder: File) {
    /** A file, or where one is to be. */
    data class Parcel(val id: String, val file: File)

    /** A place for a new file of this name. */
    fun begin(name: String): Parcel {
        val id = UUID.randomUUID().toString()
        val own = File(folder, id).apply { mkdirs() }
        return Parcel(id, File(own, name))
    }

    /** The file of this mark and name, if it is there. */
    fun named(id: String, name: String): File? =
        if (ID.matches(id) && NAME.matches(name)) File(File(folder, id), name).takeIf(File::isFile) else null

    /** It has been handed to somebody, who may read it late. */
    fun sent(id: String) {
        if (ID.matches(id)) File(File(folder, id), SENT).createNewFile()
    }

    /** Takes everything away that was there [before] this moment, but [kept] and what was sent of late. */
    fun sweep(kept: String?, before: Long) =
        all().filter { it.name != kept && it.lastModified() <= before && !wasSentOfLate(it) }.forEach { it.deleteRecursively() }

    /** Takes away what lies here for longer than a day. */
    fun sweepOld() = all().filter { System.currentTimeMillis() - it.lastModified() > KEPT_MS }.forEach { it.deleteRecursively() }

    private fun all() = folder.listFiles().orEmpty().toList()

    private fun wasSentOfLate(own: File): Boolean {
        val sent = File(own, SENT)
        return sent.exists() && System.currentTimeMillis() - sent.lastModified() in 0..KEPT_MS
    }

    private companion object {
        const val SENT = ".sent"
        val KEPT_MS = TimeUnit.DAYS.toMillis(1)
        val ID = Regex("[0-9a-f-]{36}")
        val NAME = Regex("[a-z0-9][a-z0-9.-]{0,80}")
    }
}
