package trug.phone.page.year

import android.view.Gravity
import android.view.View
import android.view.ViewGroup
import android.widget.LinearLayout
import trug.core.YearCame
import trug.core.YearMonth
import trug.phone.R
import trug.phone.draw.Ink
import trug.phone.draw.onTouch
import trug.phone.words.monthBrief

/** Twelve months to be touched, in reading order: in one line where there is room for it, else in two, three, four or six. */
internal class MonthGrid(private val ink: Ink, private val cells: List<View>) : ViewGroup(ink.context) {
    init {
        cells.forEach(::addView)
    }

    private var columns = 1

    override fun onMeasure(width: Int, height: Int) {
        val wide = MeasureSpec.getSize(width)
        val free = MeasureSpec.makeMeasureSpec(0, MeasureSpec.UNSPECIFIED)
        cells.forEach { it.measure(free, free) }
        val least = maxOf(cells.maxOf { it.measuredWidth }, ink.dp(LEAST))
        columns = COLUMNS.firstOrNull { wide / it >= least } ?: 1
        cells.forEach { it.measure(MeasureSpec.makeMeasureSpec(wide / columns, MeasureSpec.EXACTLY), free) }
        setMeasuredDimension(wide, cells.chunked(columns).sumOf { line -> line.maxOf { it.measuredHeight } })
    }

    override fun onLayout(changed: Boolean, left: Int, top: Int, right: Int, bottom: Int) {
        val each = (right - left) / columns
        val isReversed = layoutDirection == LAYOUT_DIRECTION_RTL
        var above = 0
        for (line in cells.chunked(columns)) {
            val high = line.maxOf { it.measuredHeight }
            line.forEachIndexed { at, cell ->
                val start = each * if (isReversed) columns - 1 - at else at
                cell.layout(start, above, start + each, above + high)
            }
            above += high
        }
    }

    private companion object {
        val COLUMNS = listOf(12, 6, 4, 3, 2)
        const val LEAST = 48
    }
}

/** The months of a row; those of which there is something to show lead there. */
internal fun months(ink: Ink, said: Said, months: List<YearMonth>, open: (String) -> Unit): MonthGrid = MonthGrid(ink, months.map { monthCell(ink, said, it, open) })

private fun monthCell(ink: Ink, said: Said, month: YearMonth, open: (String) -> Unit): View {
    val leads = month.came != YearCame.NOT_LOOKED && month.came != YearCame.AHEAD
    val number = when {
        month.came != YearCame.FOUND -> ""
        month.orMore -> said.words(R.string.year_many, month.seen.toInt())
        else -> month.seen.toString()
    }
    return LinearLayout(ink.context).apply {
        orientation = LinearLayout.VERTICAL
        gravity = Gravity.CENTER_HORIZONTAL
        addView(Mark(ink, month.came, month.level.toInt()), LinearLayout.LayoutParams(ViewGroup.LayoutParams.MATCH_PARENT, ink.dp(TALL)))
        val words = listOf(
            ink.words(ink.context.resources.monthBrief(month.month.toInt()), colour = if (leads) ink.touch else ink.quiet),
            ink.words(number, bold = true).apply { fontFeatureSettings = LINED_UP },
        )
        for (word in words) {
            word.gravity = Gravity.CENTER
            word.importantForAccessibility = View.IMPORTANT_FOR_ACCESSIBILITY_NO
            addView(word, ink.across())
        }
        contentDescription = said.month(month)
        if (!leads) return@apply
        background = ink.touchable(null, null)
        onTouch { open(month.id) }
    }
}

internal const val LINED_UP = "tnum"
private const val TALL = 56
