package trug.phone.page.year

import android.graphics.Canvas
import android.graphics.Paint
import android.view.View
import trug.core.YearRun
import trug.core.YearRowMore
import trug.phone.R
import trug.phone.draw.Ink
import trug.phone.draw.put
import trug.phone.words.month

/** First and last days: a line for each year, drawn below its dates on twelve equal months, so that one year can be held against another. */
internal fun runs(ink: Ink, said: Said, more: YearRowMore): View {
    val first = more.turns.toInt()
    val body = ink.column()
    if (first != JULY) body.put(ink, ink.words(said.words(R.string.year_turns, ink.context.resources.month(first)), colour = ink.quiet))
    val months = (0 until TWELVE).map { (first - 1 + it) % TWELVE + 1 }
    more.runs.forEachIndexed { at, run ->
        val dates = said.dates(run)
        val line = ink.column(
            ink.words(run.name, bold = true).apply { fontFeatureSettings = LINED_UP },
            ink.words(dates).apply { fontFeatureSettings = LINED_UP },
            RunLine(ink, run, months.takeIf { at == more.runs.lastIndex }),
        )
        line.contentDescription = said.words(R.string.year_run_said, run.name, dates)
        for (part in 0 until line.childCount) line.getChildAt(part).importantForAccessibility = View.IMPORTANT_FOR_ACCESSIBILITY_NO
        body.put(ink, line)
    }
    return body
}

/** From the first day to the last, and every day on which it was there; the letters of the [months] below, for the last of several. */
private class RunLine(private val ink: Ink, private val run: YearRun, private val months: List<Int>?) : View(ink.context) {
    private val letters = Letters(ink)
    private val ground = Paint().apply {
        color = ink.quiet
        strokeWidth = ink.dp(1).toFloat()
    }
    private val whole = Paint().apply {
        color = ink.text
        strokeWidth = ink.dp(2).toFloat()
    }
    private val day = Paint().apply { color = ink.text }

    override fun onMeasure(width: Int, height: Int) = setMeasuredDimension(
        getDefaultSize(suggestedMinimumWidth, width),
        ink.dp(TALL) + if (months == null) 0 else letters.height,
    )

    override fun onDraw(canvas: Canvas) {
        val isReversed = layoutDirection == LAYOUT_DIRECTION_RTL
        val each = width / TWELVE.toFloat()
        fun across(at: Double): Float = (at * each).toFloat().let { if (isReversed) width - it else it }
        val (middle, stands) = ink.dp(TALL / 2).toFloat() to ink.dp(TALL - 2).toFloat()
        canvas.drawLine(0f, stands, width.toFloat(), stands, ground)
        for (month in 0..TWELVE) across(month.toDouble()).let { canvas.drawLine(it, stands - ink.dp(TICK), it, stands, ground) }
        canvas.drawLine(across(run.days.first()), middle, across(run.end), middle, whole)
        val least = ink.dp(2).toFloat()
        for (at in run.days) {
            val (start, end) = across(at) to across(at + DAY)
            val (from, to) = minOf(start, end) to maxOf(start, end, minOf(start, end) + least)
            canvas.drawRect(from, middle - ink.dp(HIGH), to, middle + ink.dp(HIGH), day)
        }
        months?.let { letters.draw(canvas, it, width, ink.dp(TALL).toFloat(), isReversed) }
    }

    private companion object {
        const val TALL = 28
        const val TICK = 4
        const val HIGH = 6

        /** A day, of a month of thirty. */
        const val DAY = 1 / 30.0
    }
}

private const val TWELVE = 12
private const val JULY = 7
