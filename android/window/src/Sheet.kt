package trug.window

import android.graphics.Bitmap
import android.graphics.BitmapFactory
import android.graphics.Canvas
import android.graphics.Color
import android.graphics.Paint
import android.graphics.RectF
import android.graphics.Typeface
import java.io.File
import trug.window.Tour.Picture

/** The contact sheet of a tour: all pictures side by side on one, and a page that tells the steps between them. */
internal class Sheet(private val pictures: List<Picture>, private val into: File) {
    fun write() {
        into.resolve("index.html").writeText(page())
        if (pictures.isEmpty()) return
        val sheet = draw()
        into.resolve("sheet.png").outputStream().use { sheet.compress(Bitmap.CompressFormat.PNG, BEST, it) }
    }

    private fun draw(): Bitmap {
        val rows = pictures.chunked(ACROSS)
        val (wide, high) = ACROSS * (WIDTH + GAP) + GAP to rows.size * (HEIGHT + TITLE + GAP) + GAP
        val sheet = Bitmap.createBitmap(wide, high, Bitmap.Config.ARGB_8888)
        val canvas = Canvas(sheet)
        canvas.drawColor(Color.LTGRAY)
        val ink = Paint(Paint.ANTI_ALIAS_FLAG).apply {
            textSize = TYPE
            typeface = Typeface.DEFAULT_BOLD
        }
        val smooth = Paint(Paint.FILTER_BITMAP_FLAG)
        rows.forEachIndexed { down, row ->
            row.forEachIndexed { across, picture ->
                val (left, top) = GAP + across * (WIDTH + GAP) to GAP + down * (HEIGHT + TITLE + GAP)
                canvas.drawText(picture.name, left.toFloat(), top + TYPE, ink)
                val whole = BitmapFactory.decodeByteArray(picture.png, 0, picture.png.size)
                val scale = minOf(WIDTH.toFloat() / whole.width, HEIGHT.toFloat() / whole.height)
                val frame = RectF(0f, 0f, whole.width * scale, whole.height * scale)
                frame.offset(left.toFloat(), (top + TITLE).toFloat())
                canvas.drawBitmap(halved(whole, scale), null, frame, smooth)
            }
        }
        return sheet
    }

    /** Halved until the rest of the way is short: drawing alone would skip pixels, and thin type with them. */
    private fun halved(whole: Bitmap, scale: Float): Bitmap =
        generateSequence(whole to scale) { (bitmap, left) ->
            Bitmap.createScaledBitmap(bitmap, bitmap.width / 2, bitmap.height / 2, true) to left * 2
        }.first { (_, left) -> left * 2 > 1 }.first

    private fun page() = buildString {
        append("<!doctype html>\n<html lang=\"en\">\n<meta charset=\"utf-8\">\n<title>A tour</title>\n")
        append("<style>body { font: 15px/1.4 sans-serif; margin: 2em; display: flex; flex-wrap: wrap; gap: 2em }\n")
        append("figure { margin: 0; width: 360px } img { width: 100%; border: 1px solid #888 }\n")
        append("pre { white-space: pre-wrap; color: #555 }</style>\n")
        for (picture in pictures) {
            append("<figure id=\"${safe(picture.name)}\"><figcaption><b>${safe(picture.name)}</b> ${safe(picture.words)}</figcaption>")
            append("<img src=\"${safe(picture.name)}.png\" alt=\"${safe(picture.words.ifEmpty { picture.name })}\">")
            append("<pre>${safe(picture.steps.joinToString("\n"))}</pre></figure>\n")
        }
        append("</html>\n")
    }

    private fun safe(text: String) = text.replace("&", "&amp;").replace("<", "&lt;").replace("\"", "&quot;")

    private companion object {
        const val ACROSS = 6
        const val WIDTH = 270
        const val HEIGHT = 555
        const val GAP = 18
        const val TITLE = 26
        const val TYPE = 18f
        const val BEST = 100
    }
}
