package trug.phone.page.patch

import android.view.View
import trug.core.FindLine
import trug.core.LookShown
import trug.core.PatchPage
import trug.core.SeasonShown
import trug.phone.R
import trug.phone.app.Place
import trug.phone.app.Stop
import trug.phone.draw.Ink
import trug.phone.draw.part
import trug.phone.draw.pictured
import trug.phone.draw.put
import trug.phone.words.called
import trug.phone.words.day
import trug.phone.words.hour
import trug.phone.words.joined
import trug.phone.words.listed
import trug.phone.words.month

/** The looks of one season, month by month, each with its finds. */
internal class OneSeason(private val desk: Desk, private val which: String?) : Section {
    private val ink = desk.ink
    private val context = ink.context
    override val view = ink.column()
    private var shown: SeasonShown? = null

    override fun show(page: PatchPage) {
        // The last look of a season may have been taken back.
        val season = page.seasons.find { it.season == which && it.looked > 0u } ?: return desk.turn(Leaf.ALL)
        if (season == shown) return
        shown = season
        view.removeAllViews()
        view.put(ink, ink.head(season.season), 0)
        view.put(ink, ink.words(summary(desk, season), colour = ink.quiet), 0)
        season.looks.groupBy { context.month(it.day) }.forEach { (month, looks) ->
            view.part(ink, month)
            looks.forEach(::look)
        }
    }

    private fun look(look: LookShown) {
        val came = context.resources.called("outcome", look.outcome)
        view.put(ink, ink.words(desk.words(R.string.patch_look_on, context.day(look.day), came), bold = true), Ink.MARGIN)
        if (look.by.isNotEmpty()) {
            val who = context.resources.listed(look.by)
            view.put(ink, ink.words(desk.words(R.string.patch_looked_by, who), colour = ink.quiet), 0)
        }
        look.notes.forEach { view.put(ink, ink.words(it), 0) }
        look.finds.forEach { view.put(ink, find(it, look), 0) }
    }

    private fun find(find: FindLine, look: LookShown): View {
        val name = find.name?.english ?: desk.words(R.string.now_no_name)
        return pictured(ink, find.thumbnail, name, about(find)) { desk.house.go(Stop(Place.FIND, find.id)) }.apply {
            // Heard by itself it says which day's it is.
            contentDescription = context.resources.listed(listOf(name, context.day(look.day), about(find)))
        }
    }

    private fun about(find: FindLine): String {
        val seen = find.seenLeast?.let { desk.counted(R.plurals.now_find_seen, it.toInt()) }
        val taken = find.taken?.let { desk.counted(R.plurals.now_find_taken, it.toInt()) }
        return context.resources.joined(listOfNotNull(find.at?.let(context::hour), seen, taken))
    }
}
