package trug.phone.page.year

import android.view.View
import trug.core.YearRowMore
import trug.phone.R
import trug.phone.draw.Ink
import trug.phone.draw.part
import trug.phone.draw.put

/** One row at full width: its months, each to be touched; first and last days; what it comes to. */
internal class More(private val ink: Ink, private val more: YearRowMore, private val season: String?) {
    private val said = Said(ink)

    fun view(month: (String) -> Unit, only: (String) -> Unit): View {
        val row = more.row
        val about = said.about(row.of)
        val body = ink.column(ink.head(said.called(row.of)), if (about.isEmpty()) null else ink.latin(about))
        body.part(ink, season ?: said.words(R.string.year_all_seasons))
        body.put(ink, months(ink, said, row.months, month))
        if (more.runs.isNotEmpty()) {
            body.part(ink, said.words(R.string.year_runs))
            body.put(ink, runs(ink, said, more))
        }
        body.part(ink, said.words(if (season == null) R.string.year_sums else R.string.year_sums_of, *listOfNotNull(season).toTypedArray()))
        body.put(ink, sums(ink, said, row.sum))
        if (row.sum.leftGrams != null) body.put(ink, ink.words(said.words(R.string.year_counts_left), colour = ink.quiet))
        if (more.seasons.size > 1) {
            body.part(ink, said.words(R.string.year_by_season))
            body.put(ink, seasons(ink, said, more.seasons, only))
        }
        return body
    }
}
