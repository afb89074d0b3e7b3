package trug.phone.page.year

import android.graphics.Color
import java.io.ByteArrayOutputStream
import java.io.File
import java.nio.ByteBuffer
import java.nio.ByteOrder
import trug.core.FieldValue
import trug.phone.app.Phone
import trug.phone.job.shot

/** Notebooks of several years: their finds are photos taken then, brought in now. Woods and patches are invented. */
internal object Years {
    private var colour = 0

    /** A photo that says when it was taken: 2025-11-08, at ten in the morning by a clock on UTC. */
    fun taken(day: String): ByteArray {
        colour += 1
        val plain = shot(Color.rgb(colour % 250, colour / 250, 40))
        val (time, offset) = "${day.replace('-', ':')} 10:00:00\u0000".toByteArray() to "+00:00\u0000".toByteArray()
        // A TIFF of two directories, as EXIF 2.32 has them: the first leads to the second, and that has the time and the clock.
        val tiff = ByteBuffer.allocate(128).order(ByteOrder.LITTLE_ENDIAN)
        tiff.put("II".toByteArray()).putShort(42).putInt(8)
        tiff.putShort(1).entry(0x8769, LONG, 1, SECOND).putInt(0)
        tiff.putShort(2).entry(0x9003, ASCII, time.size, TEXTS).entry(0x9011, ASCII, offset.size, TEXTS + time.size).putInt(0)
        tiff.put(time).put(offset)
        val exif = "Exif\u0000\u0000".toByteArray() + tiff.array().copyOf(tiff.position())
        val length = exif.size + 2
        val marker = byteArrayOf(-1, 0xE1.toByte(), (length shr 8).toByte(), length.toByte())
        return ByteArrayOutputStream().apply {
            write(plain, 0, 2)
            write(marker)
            write(exif)
            write(plain, 2, plain.size - 2)
        }.toByteArray()
    }

    private fun ByteBuffer.entry(tag: Int, type: Int, count: Int, value: Int) =
        putShort(tag.toShort()).putShort(type.toShort()).putInt(count).putInt(value)

    private const val LONG = 4
    private const val ASCII = 2
    private const val SECOND = 26
    private const val TEXTS = 56
}

/** A find of that day, and what is said of it; at a patch of its own name's, if one is named. */
internal fun Phone.found(day: String, name: String?, vararg said: Pair<String, String>, patch: String? = null): String = core { book ->
    val photo = File.createTempFile("taken", ".jpg").apply { writeBytes(Years.taken(day)) }
    val find = book.beginFind(photo.path, "whole", null).id
    name?.let { book.nameFind(find, it, "sight", null, null) }
    if (said.isNotEmpty()) book.amendFind(find, said.map { (field, value) -> FieldValue(field, value) })
    patch?.let { book.foundPatch(find, it) }
    find
}

/** Three winters of velvet shank, one of them with a patch that was looked at in vain for it; and what else comes in a year. */
internal fun Phone.winters() {
    found("2023-11-20", "velvet-shank", "seen" to "4")
    found("2024-01-14", "velvet-shank", "seen" to "12", "taken" to "5", "grams" to "60")
    found("2024-02-29", "velvet-shank", "seen" to "2")
    val elder = found("2024-11-08", "velvet-shank", "seen" to "7", "taken" to "3", "grams" to "42", patch = "old elder")
    val patch = core { it.findPage(elder).patch?.id }
    found("2025-01-03", "velvet-shank", "seen" to "35", "taken" to "10", "grams" to "150", "by" to "R.")
    val ear = found("2024-12-20", "jelly-ear", "seen" to "120", "taken" to "40")
    core { it.joinPatch(ear, checkNotNull(patch)) }
    found("2024-09-03", "cep", "seen" to "2", "taken" to "1", "grams" to "210")
    found("2024-05-04", "chicken-of-the-woods", "seen" to "1")
    found("2024-06-30", "chicken-of-the-woods", "seen" to "3", "taken" to "1", "grams" to "800")
    found("2024-07-02", "chicken-of-the-woods", "seen" to "2")
    val open = found("2024-10-05", "velvet-shank", "seen" to "1")
    core { it.nameFind(open, "funeral-bell", "told", null, "R.") }
    found("2024-10-19", null)
}
