package trug.phone.camera

import java.io.File
import java.util.UUID

/** What a photo is for: a find's, or a new find's, and what it shows. */
internal data class Purpose(val find: String?, val role: String)

/**
 * Photos on their way from the camera to the notebook. A file's name says what it is for, so that a photo whose page, or whose
 * process, is gone still finds its way.
 */
internal class Captures(private val folder: File) {
    /** A photo, or the empty file that the camera is to fill. */
    data class Capture(val file: File, val purpose: Purpose) {
        val isEmpty: Boolean get() = file.length() == 0L
    }

    /** An empty file for the camera to fill. Throws where there is no room. */
    fun begin(purpose: Purpose): Capture {
        folder.mkdirs()
        val file = File(folder, listOf(UUID.randomUUID(), purpose.role, purpose.find ?: NEW).joinToString(BETWEEN) + ENDING)
        file.createNewFile()
        return Capture(file, purpose)
    }

    /** A capture by the name of its file. */
    fun named(name: String): Capture? {
        if (!NAME.matches(name)) return null
        val (_, role, find) = name.removeSuffix(ENDING).split(BETWEEN)
        return Capture(File(folder, name), Purpose(find.takeIf { it != NEW }, role))
    }

    /** Where a photo is copied to before it is whole. There is one at a time, so that one which was left is written over. */
    fun part(capture: Capture): File = File(capture.file.parentFile, PART)

    /** Everything that lies here, the oldest first. */
    fun all(): List<Capture> = folder.listFiles().orEmpty().sortedBy { it.lastModified() }.mapNotNull { named(it.name) }

    private companion object {
        const val BETWEEN = "~"
        const val NEW = "new"
        const val PART = "part"
        const val ENDING = ".jpg"
        val NAME = Regex("[0-9a-f-]{36}~[a-z-]{1,20}~(new|[0-9a-f-]{36})\\.jpg")
    }
}
