package trug.phone.page.year

import android.view.Gravity
import android.view.View
import android.widget.LinearLayout
import trug.core.SeasonSum
import trug.core.YearSum
import trug.phone.R
import trug.phone.draw.Ink
import trug.phone.draw.onTouch
import trug.phone.draw.put
import trug.phone.words.joined
import trug.phone.words.listed

/** What a sum comes to, a line each: what, and lined up at the other edge how much. */
internal fun sums(ink: Ink, said: Said, sum: YearSum): View = ink.column().apply {
    said.sums(sum).forEach { (what, number) ->
        val line = LinearLayout(ink.context)
        line.addView(ink.words(what), LinearLayout.LayoutParams(0, LinearLayout.LayoutParams.WRAP_CONTENT, 1f))
        line.addView(ink.words(number, bold = true).apply { fontFeatureSettings = LINED_UP })
        line.contentDescription = said.words(R.string.year_told, what, number)
        for (part in 0 until line.childCount) line.getChildAt(part).importantForAccessibility = View.IMPORTANT_FOR_ACCESSIBILITY_NO
        put(ink, line)
    }
}

/** Season by season what was taken and left, in columns; each leads to its season. In large type a line each, for columns need room. */
internal fun seasons(ink: Ink, said: Said, seasons: List<SeasonSum>, open: (String) -> Unit): View = ink.column().apply {
    val heads = HEADS.map(said::words)
    if (!ink.largeType) put(ink, columns(ink, heads, ink.quiet))
    for (one in seasons) {
        val sum = one.sum
        val numbers = listOf(sum.finds.toString(), said.whole(sum.grams), sum.leftGrams?.let(said::whole) ?: said.words(R.string.year_none_known))
        val told = heads.drop(1).zip(numbers) { head, number -> said.words(R.string.year_told, head, number) }
        val line = if (ink.largeType) {
            ink.column(ink.words(one.season, colour = ink.touch), ink.words(ink.context.resources.joined(told)))
        } else {
            columns(ink, listOf(one.season) + numbers, ink.touch)
        }
        line.minimumHeight = ink.dp(Ink.TARGET)
        line.background = ink.touchable(null, null)
        line.contentDescription = said.words(R.string.year_month_said, one.season, ink.context.resources.listed(told))
        line.onTouch { open(one.season) }
        put(ink, line, 0)
    }
}

private fun columns(ink: Ink, words: List<String>, first: Int) = LinearLayout(ink.context).apply {
    gravity = Gravity.CENTER_VERTICAL
    words.forEachIndexed { at, word ->
        val cell = ink.words(word, colour = if (at == 0 || first == ink.quiet) first else ink.text).apply {
            fontFeatureSettings = LINED_UP
            gravity = if (at == 0) Gravity.START else Gravity.END
        }
        addView(cell, LinearLayout.LayoutParams(0, LinearLayout.LayoutParams.WRAP_CONTENT, 1f))
    }
}

private val HEADS = listOf(R.string.year_column_season, R.string.year_column_finds, R.string.year_column_taken, R.string.year_column_left)
