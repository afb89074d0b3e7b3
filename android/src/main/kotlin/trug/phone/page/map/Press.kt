package trug.phone.page.map

import android.graphics.Canvas
import android.graphics.DashPathEffect
import android.graphics.Paint
import android.graphics.RectF
import android.graphics.Typeface
import android.text.TextPaint
import android.text.TextUtils
import android.util.TypedValue
import trug.phone.draw.Ink

/** What the map is printed with: lines of three weights, one size of type, and paper to stand names on. */
internal class Press(val ink: Ink) {
    val fine = line(ink.quiet, FINE)
    val firm = line(ink.quiet, FIRM)
    val bold = line(ink.text, BOLD)
    val dashed = line(ink.quiet, FIRM).apply { pathEffect = DashPathEffect(floatArrayOf(px(DASH), px(DASH)), 0f) }
    val mark = line(ink.touch, BOLD)
    val resting = line(ink.touch, BOLD).apply { pathEffect = DashPathEffect(floatArrayOf(px(DASH), px(DASH)), 0f) }
    val spot = Paint(Paint.ANTI_ALIAS_FLAG).apply { color = ink.touch }
    val here = Paint(Paint.ANTI_ALIAS_FLAG).apply { color = ink.text }
    val paper = Paint().apply { color = ink.paper }
    val plain = type(ink.quiet, isBold = false)
    val strong = type(ink.text, isBold = true)
    val touch = type(ink.touch, isBold = false)
    val chosen = type(ink.touch, isBold = true)

    /** How high a name stands. */
    val high: Float = plain.fontMetrics.run { descent - ascent }

    /** Lines of the grid may stand this close, in pixels: what their figures need beside each other. */
    val closest: Double = maxOf(px(LINES_APART), plain.measureText(WIDEST_FIGURES) + px(LINES_GAP)).toDouble()

    fun px(dp: Float): Float = dp * ink.context.resources.displayMetrics.density

    /** A name that fits across: what is too long ends in an ellipsis. Screen readers, and the words below, have all of it. */
    fun fitted(words: String, type: TextPaint, across: Int): String =
        TextUtils.ellipsize(words, type, across - px(NAME_GAP), TextUtils.TruncateAt.END).toString()

    fun wide(words: String, type: Paint): Float = type.measureText(words) + px(NAME_GAP)

    /** Prints a name in its box, on paper of its own, so that no line runs through it. */
    fun print(canvas: Canvas, words: String, box: RectF, type: Paint) {
        canvas.drawRect(box, paper)
        canvas.drawText(words, box.centerX() - type.measureText(words) / 2, box.top - type.fontMetrics.ascent, type)
    }

    private fun line(colour: Int, width: Float) = Paint(Paint.ANTI_ALIAS_FLAG).apply {
        color = colour
        style = Paint.Style.STROKE
        strokeWidth = px(width)
    }

    private fun type(colour: Int, isBold: Boolean) = TextPaint(Paint.ANTI_ALIAS_FLAG).apply {
        color = colour
        textSize = TypedValue.applyDimension(TypedValue.COMPLEX_UNIT_SP, SMALL, ink.context.resources.displayMetrics)
        if (isBold) typeface = Typeface.DEFAULT_BOLD
        fontFeatureSettings = "tnum"
    }

    private companion object {
        /** What is printed on a map is smaller than what is read beside it. */
        const val SMALL = 14f
        const val FINE = 0.75f
        const val FIRM = 1.5f
        const val BOLD = 2.5f
        const val DASH = 5f
        const val LINES_APART = 48f
        const val LINES_GAP = 20f
        const val WIDEST_FIGURES = "0000"
        const val NAME_GAP = 6f
    }
}
