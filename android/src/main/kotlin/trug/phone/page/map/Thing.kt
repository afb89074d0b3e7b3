package trug.phone.page.map

import android.content.Context
import trug.core.MapArea
import trug.core.MapFind
import trug.core.MapPage
import trug.core.MapPatch
import trug.core.MapPoint
import trug.phone.R
import trug.phone.app.Place
import trug.phone.app.Stop
import trug.phone.words.called
import trug.phone.words.day
import trug.phone.words.joined
import trug.phone.words.way

/** Something on the map that can be touched: what it is called, what is said of it, and its page, if it has one. */
internal sealed class Thing(val id: String, val at: MapPoint, val name: String, val about: String, val page: Stop?) {
    class Patch(val patch: MapPatch, name: String, about: String, page: Stop?) : Thing(patch.id, patch.at, name, about, page)

    class Area(val area: MapArea, name: String, about: String) : Thing(area.id, area.at, name, about, null)

    class Find(find: MapFind, name: String, about: String, page: Stop) : Thing(find.id, find.at, name, about, page)
}

/** What is on the map, each kind nearest first, as the core has it. */
internal class Things(private val context: Context, page: MapPage) {
    private val resources = context.resources
    val patches: List<Thing.Patch> = page.patches.map(::patch)
    val areas: List<Thing.Area> = page.areas.map(::area)
    val finds: List<Thing.Find> = page.finds.map(::find)
    val all: List<Thing> = patches + areas + finds

    private fun patch(patch: MapPatch): Thing.Patch {
        val kind = patch.kind?.english
        val look = patch.lastLook?.let { day ->
            context.getString(R.string.now_last_look, context.day(day), resources.called("outcome", patch.lastOutcome.orEmpty()))
        } ?: context.getString(R.string.now_never_looked)
        val rests = patch.restsUntil?.let { context.getString(R.string.now_rests, context.day(it)) }
        return Thing.Patch(
            patch,
            patch.name ?: kind ?: context.getString(R.string.now_patch_unnamed),
            resources.joined(listOfNotNull(kind.takeIf { patch.name != null }, way(patch.metres, patch.bearing), look, rests)),
            Stop(Place.PATCH, about = patch.id),
        )
    }

    private fun area(area: MapArea): Thing.Area {
        val says = when {
            area.closed -> context.getString(R.string.map_closed)
            area.code != null -> area.code
            else -> context.getString(R.string.map_ruled)
        }
        val where = if (area.aroundHere) context.getString(R.string.map_around) else way(area.metres, area.bearing)
        return Thing.Area(area, context.getString(R.string.map_area, area.name, says), resources.joined(listOfNotNull(where)))
    }

    private fun find(find: MapFind) = Thing.Find(
        find,
        find.name?.english ?: context.getString(R.string.now_no_name),
        resources.joined(listOfNotNull(context.getString(R.string.map_find), find.day?.let { context.day(it) }, way(find.metres, find.bearing))),
        Stop(Place.FIND, find.id),
    )

    private fun way(metres: Double?, bearing: Double?) = metres?.let { resources.way(it, bearing) }
}
