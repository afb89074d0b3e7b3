package trug.phone.page.year

import android.view.View
import android.widget.LinearLayout
import trug.core.YearBy
import trug.core.YearCame
import trug.core.YearPage
import trug.core.YearRow
import trug.phone.R
import trug.phone.draw.Choice
import trug.phone.draw.Ink
import trug.phone.draw.onTouch
import trug.phone.draw.part
import trug.phone.draw.put

/** The whole year: a row for each fungus or place, and how to read them. */
internal class Rows(private val ink: Ink, private val page: YearPage, private val by: YearBy) {
    private val said = Said(ink)

    fun view(tell: (YearBy) -> Unit, open: (String) -> Unit): View {
        val body = ink.column(ink.head(page.season ?: said.words(R.string.year_all_seasons)))
        body.put(ink, ink.words(said.words(if (page.season == null) R.string.year_laid_over else R.string.year_one_season), colour = ink.quiet), 0)
        body.put(ink, ways(tell))
        if (page.rows.isEmpty()) {
            body.put(ink, ink.words(said.words(if (page.season == null) R.string.year_empty else R.string.year_empty_season)), Ink.MARGIN)
            return body
        }
        (listOf(page.all) + page.rows).forEach { row -> body.put(ink, YearRowView(ink, said, row) { open(row.id) }, Ink.MARGIN) }
        body.part(ink, said.words(R.string.year_key))
        KEY.forEach { (came, words) -> body.put(ink, key(came, said.words(words))) }
        body.part(ink, said.words(R.string.year_counts))
        COUNTS.forEach { body.put(ink, ink.words(said.words(it), colour = ink.quiet)) }
        return body
    }

    private fun ways(tell: (YearBy) -> Unit): View {
        val ways = listOf(YearBy.FUNGUS to R.string.year_by_fungus, YearBy.PLACE to R.string.year_by_place)
        return Choice(ink, ways.map { (way, words) -> way.name to said.words(words) }) { name, _ -> tell(YearBy.valueOf(name)) }
            .apply { show(setOf(by.name)) }.view
    }

    private fun key(came: YearCame, words: String): View = LinearLayout(ink.context).apply {
        addView(Mark(ink, came, KEY_LEVEL), LinearLayout.LayoutParams(ink.dp(MARK), ink.dp(MARK)))
        val room = LinearLayout.LayoutParams(0, LinearLayout.LayoutParams.WRAP_CONTENT, 1f)
        room.marginStart = ink.dp(Ink.MARGIN)
        addView(ink.words(words), room)
    }

    private companion object {
        const val MARK = 32
        const val KEY_LEVEL = 4
        val KEY = listOf(
            YearCame.FOUND to R.string.year_key_found,
            YearCame.NOTHING to R.string.year_key_nothing,
            YearCame.NOTED to R.string.year_key_noted,
            YearCame.NOT_LOOKED to R.string.year_key_blank,
        )
        val COUNTS = listOf(
            R.string.year_counts_names, R.string.year_counts_places, R.string.year_counts_looks, R.string.year_counts_twice,
            R.string.year_counts_copies,
        )
    }
}

/** A row: its name, how much, and its months. One thing to touch, which tells all its months when it is read out. */
internal class YearRowView(ink: Ink, private val said: Said, private val row: YearRow, touched: () -> Unit) : LinearLayout(ink.context) {
    private val spoken by lazy { said.row(row.of, row.sum, row.months) }

    init {
        orientation = VERTICAL
        background = ink.touchable(null, null)
        minimumHeight = ink.dp(Ink.TARGET)
        put(ink, ink.words(said.called(row.of), colour = ink.touch), 0)
        put(ink, ink.words(said.brief(row.sum), colour = ink.quiet), 0)
        put(ink, Strip(ink, row.months))
        onTouch(touched)
    }

    /** Worded only when somebody asks: few rows are ever read out. */
    override fun getContentDescription(): CharSequence = spoken
}
