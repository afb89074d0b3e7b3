package trug.phone.page.month

import android.os.Bundle
import android.view.View
import trug.core.FindLine
import trug.core.LookLine
import trug.core.MonthPage
import trug.core.YearCame
import trug.phone.R
import trug.phone.app.House
import trug.phone.app.Page
import trug.phone.app.Place
import trug.phone.app.Stop
import trug.phone.draw.Ink
import trug.phone.draw.Leaves
import trug.phone.draw.part
import trug.phone.draw.pictured
import trug.phone.draw.put
import trug.phone.page.year.Said
import trug.phone.page.year.sums
import trug.phone.words.day
import trug.phone.words.joined
import trug.phone.words.month
import trug.phone.words.sentence

/** One month of one row of the year, or that month of every year: its finds, and the looks that found nothing. */
internal class Month(private val house: House, private val month: String, saved: Bundle?) : Page {
    private val ink = house.ink
    private val context = ink.context
    private val said = Said(ink)
    override val title = R.string.month_title
    private val leaves = Leaves(ink)
    override val view: View = leaves.view
    private var most = saved?.getInt(MOST) ?: AT_FIRST
    private var scrolledTo = saved?.getInt(SCROLLED) ?: 0
    private var isDrawn = false

    init {
        leaves.show(ink.words(context.getString(R.string.app_busy), colour = ink.quiet), null)
    }

    override fun shown() = read()

    override fun save(into: Bundle) {
        into.putInt(MOST, most)
        into.putInt(SCROLLED, if (isDrawn) leaves.scrolled else scrolledTo)
    }

    private fun read() {
        if (isDrawn) scrolledTo = leaves.scrolled
        val most = most
        house.calls.make({ it.monthPage(month, most.toUInt()) }) { answered ->
            if (most != this.most) return@make
            answered.onSuccess(::draw).onFailure { error ->
                isDrawn = false
                leaves.show(ink.words(context.resources.sentence(error)), ink.thumb(context.getString(R.string.app_try_again), ::read))
            }
        }
    }

    private fun draw(page: MonthPage) {
        val year = page.year?.toInt()
        val name = context.resources.month(page.month.toInt(), year)
        val body = ink.column(
            ink.head(if (year == null) context.getString(R.string.month_of_every, name) else name),
            ink.words(said.called(page.of), colour = ink.quiet),
        )
        if (page.finds.isNotEmpty()) {
            body.part(ink, context.getString(R.string.year_sums))
            body.put(ink, sums(ink, said, page.sum))
        }
        body.part(ink, context.getString(R.string.month_finds))
        if (page.finds.isEmpty()) body.put(ink, ink.words(context.getString(R.string.month_finds_none)))
        page.finds.forEach { body.put(ink, find(it)) }
        val more = page.more.toInt()
        if (more > 0) {
            body.put(ink, ink.button(context.resources.getQuantityString(R.plurals.month_more, more, more)) {
                most += STEP
                read()
            })
        }
        if (page.looks.isNotEmpty()) {
            body.part(ink, context.getString(R.string.month_looks))
            page.looks.forEach { body.put(ink, look(it)) }
        }
        leaves.show(body, null)
        leaves.scrolled = scrolledTo
        isDrawn = true
    }

    private fun find(find: FindLine): View {
        val about = listOfNotNull(
            find.at?.let { context.day(it.day) },
            find.seenLeast?.toInt()?.let { said.counted(R.plurals.now_find_seen, it) },
            find.taken?.toInt()?.let { said.counted(R.plurals.now_find_taken, it) },
            if (find.name != null && !find.settled) context.getString(R.string.find_name_open) else null,
        )
        val name = find.name?.english ?: context.getString(R.string.now_no_name)
        return pictured(ink, find.thumbnail, name, context.resources.joined(about)) { house.go(Stop(Place.FIND, find.id)) }
    }

    private fun look(look: LookLine): View {
        val came = context.getString(if (look.came == YearCame.NOTED) R.string.year_noted else R.string.year_nothing)
        return ink.column(
            ink.words(context.resources.joined(listOf(context.day(look.day), said.called(look.at)))),
            ink.words(came, colour = ink.quiet),
        )
    }

    private companion object {
        const val AT_FIRST = 60
        const val STEP = 200
        const val MOST = "most"
        const val SCROLLED = "scrolled"
    }
}
