package trug.phone.page.year

import android.graphics.Canvas
import android.graphics.DashPathEffect
import android.graphics.Paint
import android.graphics.RectF
import trug.core.YearCame
import trug.phone.draw.Ink

/**
 * How a month is drawn: a filled stroke for what was found, the taller the more; hatched where it was looked for in vain; hollow where
 * something was there that nobody counted; and nothing but the line they stand on where nobody looked.
 */
internal class Marks(private val ink: Ink) {
    private val filled = Paint(Paint.ANTI_ALIAS_FLAG).apply { color = ink.text }
    private val drawn = Paint(Paint.ANTI_ALIAS_FLAG).apply {
        color = ink.text
        style = Paint.Style.STROKE
        strokeWidth = ink.dp(1).toFloat()
    }
    private val hollow = Paint(drawn).apply { strokeWidth = ink.dp(2).toFloat() }
    private val ground = Paint(drawn).apply { color = ink.quiet }
    private val toCome = Paint(ground).apply { pathEffect = DashPathEffect(floatArrayOf(ink.dp(2).toFloat(), ink.dp(DASH).toFloat()), 0f) }
    private val box = RectF()

    /** Draws a month into [room], whose lower edge is what it stands on. */
    fun draw(canvas: Canvas, room: RectF, came: YearCame, level: Int) {
        canvas.drawLine(room.left, room.bottom, room.right, room.bottom, if (came == YearCame.AHEAD) toCome else ground)
        when (came) {
            YearCame.FOUND -> canvas.drawRect(stroke(room, level), filled)
            YearCame.NOTHING -> hatch(canvas, stroke(room, HATCHED))
            YearCame.NOTED -> canvas.drawRect(stroke(room, 1), hollow)
            YearCame.NOT_LOOKED, YearCame.AHEAD -> Unit
        }
    }

    private fun stroke(room: RectF, level: Int): RectF {
        val half = minOf(room.width() * WIDE, ink.dp(WIDEST).toFloat()) / 2
        return box.apply { set(room.centerX() - half, room.bottom - room.height() * level / TALLEST, room.centerX() + half, room.bottom) }
    }

    private fun hatch(canvas: Canvas, box: RectF) {
        canvas.drawRect(box, drawn)
        canvas.save()
        canvas.clipRect(box)
        val step = ink.dp(HATCH)
        var from = box.left - box.height()
        while (from < box.right) {
            canvas.drawLine(from, box.bottom, from + box.height(), box.top, drawn)
            from += step
        }
        canvas.restore()
    }

    companion object {
        /** As many levels as the core tells. */
        const val TALLEST = 5f
        private const val HATCHED = 2
        private const val WIDE = 0.6f
        private const val WIDEST = 28
        private const val HATCH = 5
        private const val DASH = 3
    }
}
