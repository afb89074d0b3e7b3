package trug.phone.page.patch

import android.view.Gravity
import android.view.View
import android.widget.LinearLayout
import trug.core.LookShown
import trug.core.PatchPage
import trug.core.SeasonShown
import trug.phone.R
import trug.phone.draw.Ink
import trug.phone.draw.part
import trug.phone.draw.put
import trug.phone.draw.row
import trug.phone.words.called
import trug.phone.words.day
import trug.phone.words.joined
import trug.phone.words.listed

/**
 * What came of a patch, a line a season, one below the other, so that the same time of the year stands in one column; winters are
 * whole. Each line that was looked in opens.
 */
internal class History(private val desk: Desk) : Section {
    private val ink = desk.ink
    private val resources = ink.context.resources
    override val view = ink.column()
    private var shown: List<SeasonShown>? = null

    override fun show(page: PatchPage) {
        if (page.seasons == shown) return
        shown = page.seasons
        view.removeAllViews()
        view.part(ink, desk.words(R.string.patch_history))
        view.put(ink, ink.words(desk.words(R.string.patch_history_about), colour = ink.quiet), 0)
        view.put(ink, Months(ink))
        page.seasons.forEach { view.put(ink, if (it.looked == 0u) empty(it) else season(it, page.todayAcross), 0) }
        view.put(ink, key())
    }

    private fun empty(season: SeasonShown): View {
        val which = if (season.season == season.earliest) season.season else desk.words(R.string.patch_seasons_run, season.earliest, season.season)
        return ink.words(resources.joined(listOf(which, desk.words(R.string.patch_not_looked))), colour = ink.quiet).apply {
            minHeight = ink.dp(Ink.TARGET)
            gravity = Gravity.CENTER_VERTICAL
        }
    }

    private fun season(season: SeasonShown, today: Double): View =
        row(ink, season.season, summary(desk, season)) { desk.turn(Leaf.SEASON, season.season) }.apply {
            // The picture reaches from edge to edge, below the months.
            setPadding(0, paddingTop, 0, paddingBottom)
            addView(Strip(ink, season.looks, today), ink.across())
            val told = season.looks.asReversed().map(::told)
            contentDescription =
                resources.listed(listOf(desk.words(R.string.patch_season_open, season.season), summary(desk, season)) + told)
        }

    private fun told(look: LookShown): String =
        desk.words(R.string.patch_look_on, ink.context.day(look.day), resources.called("outcome", look.outcome))

    private fun key(): View = ink.column().apply {
        MARKS.forEach { (mark, words) ->
            val line = LinearLayout(context).apply {
                gravity = Gravity.CENTER_VERTICAL
                addView(Sample(ink, mark))
                addView(
                    ink.words(desk.words(words), colour = ink.quiet),
                    LinearLayout.LayoutParams(0, LinearLayout.LayoutParams.WRAP_CONTENT, 1f).apply { marginStart = ink.dp(Ink.GAP) },
                )
            }
            put(ink, line, 0)
        }
        put(ink, ink.words(desk.words(R.string.patch_mark_none), colour = ink.quiet), 0)
    }

    private companion object {
        val MARKS = listOf(
            Mark.TAKEN to R.string.patch_mark_taken,
            Mark.SEEN to R.string.patch_mark_seen,
            Mark.NOTHING to R.string.patch_mark_nothing,
            Mark.TODAY to R.string.patch_mark_today,
        )
    }
}

/** What a season came to, in a line. */
internal fun summary(desk: Desk, season: SeasonShown): String {
    val counts = listOf(
        R.plurals.patch_looked_times to season.looked,
        R.plurals.patch_nothing_times to season.nothing,
        (if (season.orMore) R.plurals.patch_seen_or_more else R.plurals.patch_seen_count) to season.seen,
        R.plurals.patch_taken_count to season.taken,
    )
    return desk.ink.context.resources.joined(counts.filter { (_, count) -> count > 0u }.map { (words, count) -> desk.counted(words, count.toInt()) })
}
