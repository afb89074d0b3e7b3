package trug.phone.page.year

import android.os.Bundle
import android.view.View
import trug.core.YearBy
import trug.core.YearPage
import trug.phone.R
import trug.phone.app.House
import trug.phone.app.Page
import trug.phone.app.Place
import trug.phone.app.Stop
import trug.phone.draw.Leaves
import trug.phone.draw.put
import trug.phone.words.sentence

/** The year: what was found, when and where, as pictures drawn from the records. */
internal class Year(private val house: House, saved: Bundle?) : Page {
    private val ink = house.ink
    private val context = ink.context
    override val title = R.string.year_title
    private val leaves = Leaves(ink)
    override val view: View = leaves.view
    private var asked = Asked(
        by = YearBy.entries.find { it.name == saved?.getString(BY) } ?: YearBy.FUNGUS,
        season = saved?.getString(SEASON),
        row = saved?.getString(ROW),
    )

    /** How far the page was scrolled; and how far its rows were, while one of them is shown by itself. */
    private var scrolledTo = saved?.getInt(SCROLLED) ?: 0
    private var rowsScrolledTo = saved?.getInt(ROWS_SCROLLED) ?: 0
    private var shown: Asked? = null

    /** What the core is asked. */
    private data class Asked(val by: YearBy, val season: String?, val row: String?)

    init {
        leaves.show(ink.words(context.getString(R.string.app_busy), colour = ink.quiet), null)
    }

    override fun shown() = read()

    override fun back(): Boolean {
        if (asked.row == null) return false
        ask(asked.copy(row = null))
        return true
    }

    override val hasStep: Boolean get() = asked.row != null

    override fun save(into: Bundle) {
        into.putString(BY, asked.by.name)
        into.putString(SEASON, asked.season)
        into.putString(ROW, asked.row)
        into.putInt(SCROLLED, if (shown == asked) leaves.scrolled else scrolledTo)
        into.putInt(ROWS_SCROLLED, rowsScrolledTo)
    }

    private fun ask(next: Asked) {
        val before = asked
        asked = next
        scrolledTo = when {
            before.row == next.row -> leaves.scrolled
            next.row == null -> rowsScrolledTo
            else -> 0.also { rowsScrolledTo = leaves.scrolled }
        }
        house.stepped()
        read()
    }

    private fun read() {
        val asked = asked
        if (shown == asked) scrolledTo = leaves.scrolled
        house.calls.make({ it.yearPage(asked.by, asked.season, asked.row) }) { answered ->
            // Somebody has gone on meanwhile, and another answer is on its way.
            if (asked != this.asked) return@make
            answered.onSuccess(::draw).onFailure { error ->
                shown = null
                leaves.show(ink.words(context.resources.sentence(error)), ink.thumb(context.getString(R.string.app_try_again), ::read))
            }
        }
    }

    private fun draw(page: YearPage) {
        // A season or a row that is not there any more is not shown.
        asked = asked.copy(season = page.season, row = page.more?.row?.id)
        val more = page.more
        val body = if (more == null) {
            Rows(ink, page, asked.by).view({ ask(asked.copy(by = it)) }, { ask(asked.copy(row = it)) })
        } else {
            More(ink, more, page.season).view({ house.go(Stop(Place.MONTH, about = it)) }, { ask(asked.copy(season = it)) })
        }
        leaves.show(body, seasons(page))
        leaves.scrolled = scrolledTo
        shown = asked
    }

    /** The season before and the one after, and all of them. With one season there is nothing to choose. */
    private fun seasons(page: YearPage): View? {
        val seasons = page.seasons
        if (seasons.size < 2) return null
        val at = seasons.indexOf(page.season)
        if (at < 0) return only(seasons.first())
        val beside = listOfNotNull(seasons.getOrNull(at + 1), seasons.getOrNull(at - 1)).map(::only)
        return ink.column(ink.beside(*beside.toTypedArray())).apply {
            put(ink, ink.button(context.getString(R.string.year_all_seasons)) { ask(asked.copy(season = null)) })
        }
    }

    private fun only(season: String): View = ink.button(context.getString(R.string.year_only, season)) { ask(asked.copy(season = season)) }

    private companion object {
        const val BY = "by"
        const val SEASON = "season"
        const val ROW = "row"
        const val SCROLLED = "scrolled"
        const val ROWS_SCROLLED = "rows-scrolled"
    }
}
