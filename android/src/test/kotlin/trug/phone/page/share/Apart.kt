package trug.phone.page.share

import android.media.ExifInterface
import java.io.ByteArrayInputStream
import java.io.File
import java.util.zip.GZIPInputStream
import java.util.zip.ZipFile
import kotlin.math.abs

/** What a file that left must not tell. */
internal class Secrets(
    /** Words, ids and times, found in any case and wherever they stand. */
    val words: List<String>,
    /** Digits of the place; a new id, which is drawn, may happen to hold them. */
    val digits: List<String>,
    val latitude: Double,
    val longitude: Double,
)

/** A file taken apart byte by byte, archives within it too. */
internal class Apart(bytes: ByteArray) {
    private val pieces = mutableListOf<ByteArray>()

    /** What its archives say of their entries, and its pictures of themselves. */
    val told = mutableListOf<String>()

    /** How many pictures are in it. */
    var pictures = 0
        private set

    init {
        take(bytes)
    }

    private fun take(piece: ByteArray) {
        pieces += piece
        when {
            piece.begins(0x50, 0x4B) -> unzip(piece)
            piece.begins(0x1F, 0x8B) -> take(GZIPInputStream(ByteArrayInputStream(piece)).readBytes())
            piece.begins(0xFF, 0xD8) -> look(piece)
        }
    }

    private fun unzip(piece: ByteArray) {
        val file = File.createTempFile("apart", ".zip").apply { writeBytes(piece) }
        ZipFile(file).use { zip ->
            zip.comment?.let { pieces += it.encodeToByteArray() }
            for (entry in zip.entries()) {
                pieces += entry.name.encodeToByteArray()
                entry.comment?.let { pieces += it.encodeToByteArray() }
                entry.extra?.let { pieces += it }
                // A ZIP counts its years from 1980, which is what stands where no time does.
                if (entry.timeLocal.toLocalDate().toString() != "1980-01-01") told += "an entry dated ${entry.timeLocal}"
                take(zip.getInputStream(entry).use { it.readBytes() })
            }
        }
        file.delete()
    }

    /** The tags that a camera writes, read as the phone's own framework reads them. */
    private fun look(piece: ByteArray) {
        pictures++
        val exif = ExifInterface(ByteArrayInputStream(piece))
        TAGS.forEach { tag -> exif.getAttribute(tag)?.let { told += "$tag of a picture: $it" } }
        if (exif.hasThumbnail()) told += "a small picture within a picture"
    }

    /** Whatever of the secrets is in it. */
    fun leaks(secrets: Secrets): Set<String> {
        val texts = pieces.map { String(it, Charsets.ISO_8859_1) }
        val whole = texts.joinToString("\n").lowercase()
        val withoutIds = whole.replace(ID, "").replace(HASH, "")
        val words = secrets.words.filter { it.lowercase() in whole }
        val digits = secrets.digits.filter { it.lowercase() in withoutIds }
        val near = NUMBER.findAll(withoutIds).map { it.value }.filter { isNear(it, secrets) }
        val dated = ID.findAll(whole).map { it.value }.filter { it[VERSION_AT] == '7' }.map { "the id $it tells a time" }
        return (words + digits + near + dated + told).toSet()
    }

    /** A fraction that is a degree of the place, to a thousandth of one (111 m of latitude). */
    private fun isNear(number: String, secrets: Secrets): Boolean {
        val value = abs(number.toDouble())
        return listOf(secrets.latitude, secrets.longitude).any { abs(value - abs(it)) < THOUSANDTH }
    }

    private fun ByteArray.begins(first: Int, second: Int) = size > 2 && this[0] == first.toByte() && this[1] == second.toByte()

    private companion object {
        const val THOUSANDTH = 0.001
        const val VERSION_AT = 14
        val ID = Regex("[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}")
        val HASH = Regex("[0-9a-f]{64,128}")
        val NUMBER = Regex("\\d{1,3}\\.\\d{2,}")
        val TAGS = listOf(
            ExifInterface.TAG_GPS_LATITUDE, ExifInterface.TAG_GPS_LONGITUDE, ExifInterface.TAG_GPS_LATITUDE_REF, ExifInterface.TAG_GPS_DATESTAMP,
            ExifInterface.TAG_GPS_TIMESTAMP, ExifInterface.TAG_GPS_ALTITUDE, ExifInterface.TAG_DATETIME, ExifInterface.TAG_DATETIME_ORIGINAL,
            ExifInterface.TAG_DATETIME_DIGITIZED, ExifInterface.TAG_MAKE, ExifInterface.TAG_MODEL, ExifInterface.TAG_ARTIST,
            ExifInterface.TAG_IMAGE_DESCRIPTION, ExifInterface.TAG_USER_COMMENT, ExifInterface.TAG_COPYRIGHT, ExifInterface.TAG_SOFTWARE,
        )
    }
}
