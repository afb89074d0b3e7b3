package trug.phone.page.patch

import android.content.Context
import android.graphics.Canvas
import android.graphics.DashPathEffect
import android.graphics.Paint
import android.view.View
import trug.core.LookShown
import trug.phone.draw.Ink
import trug.phone.words.monthsFromJuly

/** How a look is drawn: what was taken a full bar, what was left an empty one, both standing on the line; nothing there a ring below it. */
internal enum class Mark { NOTHING, SEEN, TAKEN, TODAY }

/** What the marks of a patch's history are drawn with. */
internal class Pen(private val ink: Ink) {
    private val scale = ink.context.resources.displayMetrics.density
    private val line = Paint(Paint.ANTI_ALIAS_FLAG).apply {
        color = ink.text
        style = Paint.Style.STROKE
        strokeWidth = STROKE * scale
    }
    private val full = Paint(Paint.ANTI_ALIAS_FLAG).apply { color = ink.text }
    private val empty = Paint(Paint.ANTI_ALIAS_FLAG).apply { color = ink.paper }
    private val faint = Paint(Paint.ANTI_ALIAS_FLAG).apply {
        color = ink.quiet
        style = Paint.Style.STROKE
        strokeWidth = scale
    }
    private val dashed = Paint(faint).apply { pathEffect = DashPathEffect(floatArrayOf(3 * scale, 3 * scale), 0f) }

    /** How high a strip is, and how far below its top its line lies. */
    val height = (HEIGHT * scale).toInt()
    private val base = BASE * scale

    fun mark(on: Canvas, mark: Mark, x: Float) {
        val half = HALF * scale
        when (mark) {
            Mark.NOTHING -> (base + (RADIUS + STROKE) * scale).let { middle ->
                on.drawCircle(x, middle, RADIUS * scale, empty)
                on.drawCircle(x, middle, RADIUS * scale, line)
            }
            Mark.SEEN -> {
                on.drawRect(x - half, TOP * scale, x + half, base, empty)
                on.drawRect(x - half, TOP * scale, x + half, base, line)
            }
            Mark.TAKEN -> {
                on.drawRect(x - half, TOP * scale, x + half, base, full)
                on.drawRect(x - half, TOP * scale, x + half, base, line)
            }
            Mark.TODAY -> on.drawLine(x, 0f, x, height.toFloat(), dashed)
        }
    }

    /** The line that looks stand on, with a tick where each month begins. */
    fun line(on: Canvas, width: Float, months: Int = MONTHS) {
        on.drawLine(0f, base, width, base, faint)
        for (month in 0..months) {
            val x = (width - scale) * month / months + scale / 2
            on.drawLine(x, base - TICK * scale, x, base + TICK * scale, faint)
        }
    }

    companion object {
        const val MONTHS = 12
        private const val STROKE = 2f
        private const val HALF = 2.5f
        private const val RADIUS = 4.5f
        private const val TOP = 4f
        private const val BASE = 26f
        private const val TICK = 3f
        private const val HEIGHT = 40f
    }
}

/** One season as it is drawn, from July to June. Read to a screen reader by what it stands in. */
internal class Strip(ink: Ink, private val looks: List<LookShown>, private val today: Double) : View(ink.context) {
    private val pen = Pen(ink)

    init {
        importantForAccessibility = IMPORTANT_FOR_ACCESSIBILITY_NO
    }

    override fun onMeasure(width: Int, height: Int) = setMeasuredDimension(MeasureSpec.getSize(width), pen.height)

    override fun onDraw(on: Canvas) {
        pen.mark(on, Mark.TODAY, x(today))
        pen.line(on, width.toFloat())
        // The greater outcome over the lesser, where two looks lie close.
        for (mark in Mark.entries) looks.filter { of(it) == mark }.forEach { pen.mark(on, mark, x(it.across)) }
    }

    private fun of(look: LookShown): Mark = when (look.outcome) {
        "taken" -> Mark.TAKEN
        "seen" -> Mark.SEEN
        else -> Mark.NOTHING
    }

    /** Where a day lies; a season runs the way that people here read. */
    private fun x(across: Double): Float = (if (layoutDirection == LAYOUT_DIRECTION_RTL) 1 - across else across).toFloat() * width
}

/** A mark by itself, beside what it means. */
internal class Sample(ink: Ink, private val mark: Mark) : View(ink.context) {
    private val pen = Pen(ink)
    private val wide = ink.dp(Ink.TARGET)

    init {
        importantForAccessibility = IMPORTANT_FOR_ACCESSIBILITY_NO
    }

    override fun onMeasure(width: Int, height: Int) = setMeasuredDimension(wide, pen.height)

    override fun onDraw(on: Canvas) {
        pen.line(on, width.toFloat(), months = 2)
        pen.mark(on, mark, width / 2f)
    }
}

/** The months above the strips: as many of their names as there is room for. */
internal class Months(private val ink: Ink) : View(ink.context) {
    private val names = context.monthsFromJuly()
    private val type = Paint(Paint.ANTI_ALIAS_FLAG).apply {
        color = ink.quiet
        textSize = sized(context)
    }

    init {
        importantForAccessibility = IMPORTANT_FOR_ACCESSIBILITY_NO
    }

    override fun onMeasure(width: Int, height: Int) =
        setMeasuredDimension(MeasureSpec.getSize(width), (type.fontMetrics.bottom - type.fontMetrics.top).toInt())

    override fun onDraw(on: Canvas) {
        val room = width / names.size.toFloat()
        val widest = names.maxOf(type::measureText) + ink.dp(Ink.GAP) / 2
        val step = STEPS.first { it * room >= widest || it == STEPS.last() }
        val isTurned = layoutDirection == LAYOUT_DIRECTION_RTL
        type.textAlign = if (isTurned) Paint.Align.RIGHT else Paint.Align.LEFT
        for (at in names.indices step step) on.drawText(names[at], if (isTurned) width - at * room else at * room, -type.fontMetrics.top, type)
    }

    private companion object {
        val STEPS = listOf(1, 2, 3, 6)

        fun sized(context: Context): Float =
            android.util.TypedValue.applyDimension(android.util.TypedValue.COMPLEX_UNIT_SP, Ink.READING, context.resources.displayMetrics)
    }
}
