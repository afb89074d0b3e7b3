package trug.phone.page.search

import android.view.View
import android.widget.LinearLayout
import trug.core.Danger
import trug.core.FindFound
import trug.core.NameShown
import trug.core.PatchFound
import trug.phone.R
import trug.phone.app.House
import trug.phone.app.Place
import trug.phone.app.Stop
import trug.phone.draw.Ink
import trug.phone.draw.Speaks
import trug.phone.draw.pictured
import trug.phone.draw.put
import trug.phone.draw.row
import trug.phone.words.called
import trug.phone.words.day
import trug.phone.words.joined
import trug.phone.words.way

/** What was found, as rows that open: used by search, and by the page of a kind. */
internal class Found(private val house: House) : Speaks {
    override val ink: Ink = house.ink
    private val context = ink.context
    private val resources = context.resources

    /** Finds, those that are only nearly as asked for under a line that says so; below them the way to [more]. */
    fun finds(into: LinearLayout, finds: List<FindFound>, left: Int, more: () -> Unit) {
        into.rows(finds, FindFound::nearly, ::find)
        if (left > 0) into.put(ink, ink.button(counted(R.plurals.search_more_finds, left), touched = more))
    }

    /** Patches, likewise. */
    fun patches(into: LinearLayout, patches: List<PatchFound>, left: Int) {
        into.rows(patches, PatchFound::nearly, ::patch)
        if (left > 0) into.put(ink, ink.words(counted(R.plurals.search_more, left), colour = ink.quiet))
    }

    /** Kinds, of which the pages of their own tell more. */
    fun kinds(into: LinearLayout, kinds: List<NameShown>, left: Int = 0) {
        into.rows(kinds, { false }, ::kind)
        if (left > 0) into.put(ink, ink.words(counted(R.plurals.search_more, left), colour = ink.quiet))
    }

    private fun <T> LinearLayout.rows(found: List<T>, nearly: (T) -> Boolean, row: (T) -> View) {
        val first = found.indexOfFirst(nearly)
        found.forEachIndexed { at, one ->
            if (at == first) put(ink, ink.words(words(R.string.search_nearly), colour = ink.quiet), Ink.MARGIN)
            put(ink, row(one))
        }
    }

    private fun find(found: FindFound): View {
        val find = found.find
        val open = if (find.name != null && !find.settled) words(R.string.find_name_open) else null
        val about = listOfNotNull(find.name?.let(::danger), open, find.at?.let { context.day(it.day) }, found.host, found.outing, found.patch, found.passage)
        val name = find.name?.english ?: words(R.string.now_no_name)
        return pictured(ink, find.thumbnail, name, resources.joined(about)) { house.go(Stop(Place.FIND, find.id)) }
    }

    private fun patch(found: PatchFound): View {
        val kind = found.kind?.english
        val name = found.name ?: kind ?: words(R.string.now_patch_unnamed)
        val way = found.metres?.let { resources.way(it, found.bearing) }
        val rests = found.restsUntil?.let { words(R.string.now_rests, context.day(it)) }
        val about = resources.joined(listOfNotNull(kind.takeIf { it != name }, found.host, found.on?.let { resources.called("on", it) }, way, rests))
        return row(ink, name, about) { house.go(Stop(Place.PATCH, about = found.id)) }
    }

    private fun kind(kind: NameShown): View {
        val latin = kind.latin.takeIf { it != kind.english }
        return row(ink, kind.english, resources.joined(listOfNotNull(latin, danger(kind)))) { house.go(Stop(Place.KIND, about = kind.id)) }
    }

    /** What is said beside a dangerous name; nothing else is said of any. */
    private fun danger(name: NameShown): String? = when (name.danger) {
        Danger.DEADLY -> words(R.string.kind_killed)
        Danger.HARMFUL -> words(R.string.kind_harms)
        else -> null
    }
}
