package trug.phone.page.find

import android.icu.text.ListFormatter
import android.view.View
import trug.core.FindPage
import trug.core.NameGiven
import trug.phone.R
import trug.phone.app.Place
import trug.phone.app.Stop
import trug.phone.draw.Ink
import trug.phone.draw.put
import trug.phone.draw.row
import trug.phone.words.called
import trug.phone.words.joined

/** What it goes by so far, and the three ways to a name. */
internal class Naming(private val desk: Desk) : Section {
    private val ink = desk.ink
    private val name = ink.column()
    private val work = ink.button(desk.words(R.string.find_work_out)) { go(Place.WORK) }
    override val view = ink.column(name).apply {
        put(ink, work)
        put(ink, ink.beside(ink.button(desk.words(R.string.names_think)) { go(Place.THINK) }, ink.button(desk.words(R.string.names_know)) { go(Place.KNOW) }))
    }

    private fun go(place: Place) = desk.house.go(Stop(place, desk.find))

    override fun show(page: FindPage) {
        name.removeAllViews()
        if (page.deleted) name.put(ink, ink.words(desk.words(R.string.find_deleted), bold = true))
        val so = page.name
        // What the key left open has no name yet, and is not what nobody has looked at.
        val none = if (page.names.any { !it.withdrawn }) R.string.now_waits_settling else R.string.find_name_none
        name.put(ink, ink.head(so.name?.english ?: desk.words(none)), 0)
        so.name?.latin?.takeIf { it.isNotEmpty() }?.let { name.put(ink, ink.latin(it), 0) }
        val how = so.how?.let { ink.context.resources.called("how", it) }
        if (so.name != null) name.put(ink, ink.words(how ?: desk.words(R.string.find_name_open), colour = ink.quiet), 0)
        checks(page)?.let { name.put(ink, it) }
        page.warnings.forEach { name.put(ink, ink.words(it.words)) }
        if (page.names.isNotEmpty()) name.put(ink, ink.button(desk.words(R.string.find_names_given)) { desk.turn(Part.NAMES) })
        // Where it is the next thing to do it stands at the thumb.
        work.visibility = if (Next.of(page) == Next.WORK) View.GONE else View.VISIBLE
    }

    /** Somebody's word leaves the look-alikes to be checked, in view. */
    private fun checks(page: FindPage): View? {
        if (page.advice.checks.isEmpty()) return null
        val names = page.advice.checks.map { if (it.deadly) desk.words(R.string.work_danger_killed, it.name) else it.name }
        val listed = ListFormatter.getInstance(ink.context.resources.configuration.locales[0]).format(names)
        return row(ink, desk.words(R.string.find_check_each), listed) { desk.turn(Part.WHY) }
    }
}

/** Every name that was given, the latest first, and by whom; each can be taken back. */
internal class NamesGiven(private val desk: Desk) : Section {
    private val ink = desk.ink
    override val view = ink.column()

    override fun show(page: FindPage) {
        view.removeAllViews()
        view.put(ink, ink.head(desk.words(R.string.find_names_given)), 0)
        page.names.asReversed().forEach { view.put(ink, given(it), Ink.MARGIN) }
    }

    private fun given(given: NameGiven) = ink.column().apply {
        val called = given.name?.english ?: desk.words(R.string.find_name_none)
        put(ink, ink.words(called, bold = true), 0)
        val how = given.how?.let { ink.context.resources.called("how", it) }
        val who = given.who
        val by = if (how != null && who != null) desk.words(R.string.find_name_by, how, who) else how ?: who
        val back = if (given.withdrawn) desk.words(R.string.find_withdrawn) else null
        put(ink, ink.words(ink.context.resources.joined(listOfNotNull(by, back)), colour = ink.quiet), 0)
        if (!given.withdrawn) {
            val take = ink.button(desk.words(R.string.find_take_back)) { desk.act { it.withdrawName(desk.find, given.id) } }
            take.contentDescription = desk.words(R.string.find_take_back_of, called)
            put(ink, take)
        }
    }
}
