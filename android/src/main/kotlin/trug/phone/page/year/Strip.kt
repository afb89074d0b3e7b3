package trug.phone.page.year

import android.graphics.Canvas
import android.graphics.Paint
import android.graphics.RectF
import android.util.TypedValue
import android.view.View
import kotlin.math.ceil
import trug.core.YearMonth
import trug.phone.draw.Ink
import trug.phone.words.monthLetter

/** Twelve months in a line, in reading order, with their letters below. Whatever it stands in tells it in words. */
internal class Strip(private val ink: Ink, private val months: List<YearMonth>) : View(ink.context) {
    private val marks = Marks(ink)
    private val letters = Letters(ink)
    private val room = RectF()

    init {
        importantForAccessibility = IMPORTANT_FOR_ACCESSIBILITY_NO
    }

    override fun onMeasure(width: Int, height: Int) =
        setMeasuredDimension(getDefaultSize(suggestedMinimumWidth, width), ink.dp(TALL) + letters.height)

    override fun onDraw(canvas: Canvas) {
        val each = width / months.size.toFloat()
        val stands = ink.dp(TALL).toFloat()
        val isReversed = layoutDirection == LAYOUT_DIRECTION_RTL
        months.forEachIndexed { at, month ->
            val start = each * if (isReversed) months.size - 1 - at else at
            room.set(start, 0f, start + each, stands - ink.dp(1))
            marks.draw(canvas, room, month.came, month.level.toInt())
        }
        letters.draw(canvas, months.map { it.month.toInt() }, width, stands, isReversed)
    }

    private companion object {
        const val TALL = 40
    }
}

/** The letters of the months below a line of them; in type too large for every one, every second or third. */
internal class Letters(private val ink: Ink) {
    private val resources = ink.context.resources
    private val type = Paint(Paint.ANTI_ALIAS_FLAG).apply {
        color = ink.quiet
        textAlign = Paint.Align.CENTER
        textSize = TypedValue.applyDimension(TypedValue.COMPLEX_UNIT_SP, Ink.READING, resources.displayMetrics)
    }
    val height: Int get() = ceil(type.fontSpacing).toInt()

    fun draw(canvas: Canvas, months: List<Int>, width: Int, top: Float, isReversed: Boolean) {
        val letters = months.map(resources::monthLetter)
        val each = width / months.size.toFloat()
        val widest = letters.maxOf(type::measureText) + ink.dp(2)
        val step = STEPS.firstOrNull { widest <= each * it } ?: STEPS.last()
        letters.forEachIndexed { at, letter ->
            if (at % step != 0) return@forEachIndexed
            val middle = each * ((if (isReversed) months.size - 1 - at else at) + HALF)
            canvas.drawText(letter, middle, top - type.fontMetrics.ascent, type)
        }
    }

    private companion object {
        val STEPS = listOf(1, 2, 3, 6)
        const val HALF = 0.5f
    }
}
