package trug.phone.page.patch

import trug.core.AgainstAdvice
import trug.core.PatchPage
import trug.phone.R
import trug.phone.app.Place
import trug.phone.app.Stop
import trug.phone.draw.Ink
import trug.phone.draw.part
import trug.phone.draw.put
import trug.phone.draw.row
import trug.phone.words.called
import trug.phone.words.day
import trug.phone.words.joined
import trug.phone.words.listed
import trug.phone.words.rest

/** The rest of a patch, a row each: its fields, where, rest, an earlier look, merging; what was taken against advice; deleting it. */
internal class Rows(private val desk: Desk) : Section {
    private val ink = desk.ink
    private val context = ink.context
    override val view = ink.column()
    private var shown: PatchPage? = null

    override fun show(page: PatchPage) {
        // Whoever walks changes the way only, and no row says it.
        val still = page.copy(now = page.now.copy(millis = 0), line = page.line.copy(metres = null, bearing = null, inside = null))
        if (still == shown) return
        shown = still
        view.removeAllViews()
        view.put(ink, ink.rule(), 0)
        row(R.string.patch_amend, fields(page), Leaf.AMEND)
        row(R.string.patch_place, placeOf(desk, page), Leaf.PLACE)
        if (page.line.place != null) {
            view.put(ink, row(ink, desk.words(R.string.map_title), desk.words(R.string.patch_map)) { desk.house.go(Stop(Place.MAP, about = desk.patch)) }, 0)
        }
        row(R.string.patch_rest, context.rest(page.line.restsUntil, page.now) ?: desk.words(R.string.patch_rest_none), Leaf.REST)
        row(R.string.patch_earlier, desk.words(R.string.patch_earlier_about), Leaf.EARLIER)
        row(R.string.patch_merge, desk.words(R.string.patch_merge_about), Leaf.MERGE)
        if (page.merged.isNotEmpty()) {
            val names = page.merged.map { it ?: desk.words(R.string.now_patch_unnamed) }
            val holds = desk.counted(R.plurals.patch_merged, names.size)
            view.put(ink, ink.words(holds, colour = ink.quiet))
            names.forEach { view.put(ink, ink.words(it), 0) }
        }
        if (page.againstAdvice.isNotEmpty()) {
            view.part(ink, desk.words(R.string.patch_against))
            page.againstAdvice.forEach { against(it, page) }
        }
        if (!page.deleted) view.put(ink, ink.button(desk.words(R.string.patch_delete)) { desk.once { it.deletePatch(desk.patch) } }, Ink.MARGIN)
    }

    private fun row(head: Int, about: String, to: Leaf) = view.put(ink, row(ink, desk.words(head), about) { desk.turn(to) }, 0)

    private fun fields(page: PatchPage): String {
        val line = page.line
        val said = listOfNotNull(line.name, line.kind?.english, line.on?.let { context.resources.called("on", it) }, line.host, page.note)
        return context.resources.listed(said).ifEmpty { desk.words(R.string.patch_amend_none) }
    }

    private fun against(one: AgainstAdvice, page: PatchPage) {
        val day = one.at?.let { context.day(it.day, page.now) }.orEmpty()
        val taken = one.taken?.toInt()?.let { context.resources.getQuantityString(R.plurals.patch_against_taken, it, it, one.advice) } ?: one.advice
        view.put(ink, row(ink, day.ifEmpty { desk.words(R.string.find_title) }, context.resources.joined(listOfNotNull(taken, one.because))) {
            desk.house.go(Stop(Place.FIND, one.find))
        }, 0)
    }
}
