package trug.phone.page.map

import android.os.Bundle
import android.os.SystemClock
import android.view.View
import android.view.ViewGroup
import android.widget.LinearLayout
import kotlin.math.hypot
import trug.core.Book
import trug.core.Fix
import trug.core.MapPage
import trug.core.MapPoint
import trug.core.MapSheet
import trug.core.MapWindow
import trug.phone.R
import trug.phone.app.House
import trug.phone.app.Page
import trug.phone.draw.Ink
import trug.phone.draw.Leaves
import trug.phone.draw.put
import trug.phone.words.sentence

/**
 * The land about whoever holds the phone, or about their patches, as a map that needs no network: the core lays it, the view moves it,
 * and the grid is asked for again where it has come to rest. [patch] is the one that it was opened for, if it was for one.
 */
internal class Map(private val house: House, private val patch: String?, saved: Bundle?) : Page {
    private val ink = house.ink
    private val context = ink.context
    override val title = R.string.map_title
    private val leaves = Leaves(ink)
    override val view: View = leaves.view
    private val map = MapView(ink, ::rested, ::moved, ::touched)
    private val foot = Foot(ink, { map.closer(it) }, ::goHere, house::askPosition) { thing -> thing.page?.let(house::go) }

    /** The map takes all the room that the words below it leave; where they leave little, both scroll. */
    private val plate = ink.column().apply {
        addView(map, LinearLayout.LayoutParams(ViewGroup.LayoutParams.MATCH_PARENT, ViewGroup.LayoutParams.WRAP_CONTENT, 1f))
        put(ink, foot.words)
    }

    /** The map as it is laid; none before the core has told, or while there is nothing to lay it about. */
    private var laid: MapPage? = null
    private var readAt = 0L
    private var latest = 0

    /** What was in view before this page was left: it is laid about the same place again. */
    private var remembered: Bundle? = saved?.takeIf { it.containsKey(LATITUDE) }

    /** Whether the map goes along with whoever holds the phone: until they draw it somewhere else, and again from "Here" on. */
    private var follows = saved?.getBoolean(FOLLOWS) ?: (patch == null)

    /** Whether somebody chose what is in view, and whether the core knew where the phone is when it chose. */
    private var isMoved = saved?.getBoolean(MOVED) ?: (patch != null)
    private var isPlaced = saved?.getBoolean(PLACED) ?: false
    private var chosen = saved?.getString(CHOSEN)

    init {
        leaves.show(ink.words(context.getString(R.string.app_busy), colour = ink.quiet), null)
    }

    override fun shown() {
        read(about())
        house.position.listen {
            when {
                // A map that was laid before anybody knew where the phone is, and that nobody has touched, is laid about here after all.
                !isPlaced && !isMoved -> read(null)
                laid == null || SystemClock.elapsedRealtime() - readAt > EVERY_MS -> read(about())
                else -> rested()
            }
        }
    }

    override fun left() = house.position.stop()

    override fun save(into: Bundle) {
        val sight = map.sight
        val about = laid?.about
        if (sight != null && about != null) {
            into.putDouble(LATITUDE, about.latitude)
            into.putDouble(LONGITUDE, about.longitude)
            into.putDouble(EAST, sight.east)
            into.putDouble(NORTH, sight.north)
            into.putDouble(SCALE, map.metresPerDp ?: 1.0)
        } else {
            remembered?.let(into::putAll)
        }
        into.putBoolean(FOLLOWS, follows)
        into.putBoolean(MOVED, isMoved)
        into.putBoolean(PLACED, isPlaced)
        into.putString(CHOSEN, map.chosen?.id ?: chosen)
    }

    private fun about(): Fix? = laid?.about ?: remembered?.run { Fix(getDouble(LATITUDE), getDouble(LONGITUDE), null) }

    /** Asks for everything on the map about a place; without one, the core chooses. */
    private fun read(about: Fix?) {
        readAt = SystemClock.elapsedRealtime()
        val here = house.position.best?.fix
        ask({ it.mapPage(here, about) }) { lay(it, isHere = about == null && here != null) }
    }

    private fun lay(told: MapPage, isHere: Boolean) {
        if (told.about == null) return showNothing()
        if (laid == null) leaves.show(plate, foot.buttons)
        if (isHere && !isMoved) {
            isPlaced = true
            remembered = null
            map.sight = null
        }
        show(told)
        rested()
    }

    private fun show(told: MapPage) {
        if (laid?.about != told.about) map.sheet = null
        laid = told
        map.show(told)
        chosen?.let(::thing)?.let { map.chosen = it }
        chosen = null
        foot.tell(map.chosen)
    }

    private fun show(sheet: MapSheet) {
        map.sheet = sheet
        foot.show(sheet, house.position)
    }

    private fun thing(id: String): Thing? = map.things?.all?.find { it.id == id }

    private fun showNothing() {
        val nothing = ink.column(ink.words(context.getString(R.string.map_nothing)))
        if (house.position.isAllowed) {
            nothing.put(ink, ink.words(context.getString(R.string.now_no_fix), colour = ink.quiet))
        } else {
            nothing.put(ink, ink.button(context.getString(R.string.now_ask_position)) { house.askPosition() })
        }
        leaves.show(nothing, null)
    }

    /** The map has come to rest, or the phone elsewhere: the grid and the words are asked for, for more than is in view. */
    private fun rested() {
        val told = laid ?: return
        val about = told.about ?: return
        if (map.width == 0) return
        val sight = map.sight ?: return begin(told)
        val here = house.position.best?.fix
        val middle = MapPoint(sight.east, sight.north)
        val window = MapWindow(about, middle, sight.across * SPARE, sight.up * SPARE, map.closestMetres)
        val number = ++latest
        ask({ it.mapSheet(here, window) }) { sheet ->
            if (number != latest || laid !== told) return@ask
            show(sheet)
            when {
                hypot(middle.east, middle.north) > told.holdsM -> layAbout(sheet.middle, window)
                follows -> follow(sight.scale * minOf(sight.width, sight.height) / STRAYED)
            }
        }
    }

    /** The middle has gone as far as the map holds: it is laid afresh about where it is, and goes on showing the same land. */
    private fun layAbout(place: Fix, window: MapWindow) {
        val here = house.position.best?.fix
        val before = laid
        val again = window.copy(about = place, middle = MapPoint(0.0, 0.0))
        ask({ it.mapPage(here, place) to it.mapSheet(here, again) }) { (told, sheet) ->
            if (laid !== before) return@ask
            map.sight = map.sight?.laidAbout(window.middle)
            show(told)
            show(sheet)
        }
    }

    /** What is in view at first: what was before, or the patch that the map was opened for, or what the core says. */
    private fun begin(told: MapPage) {
        val before = remembered
        remembered = null
        if (before != null) return begun { map.look(before.getDouble(EAST), before.getDouble(NORTH), before.getDouble(SCALE)) }
        begun { map.reach(told.reachM) }
        patch?.let(::thing)?.let { opened ->
            map.sight = map.sight?.at(opened.at)
            touched(opened, opens = false)
            rested()
        }
    }

    private fun begun(look: () -> Unit) {
        look()
        rested()
    }

    private fun moved(drawn: Boolean) {
        isMoved = true
        if (drawn) follows = false
    }

    private fun goHere() {
        follows = true
        follow(0.0)
    }

    /** Brings the middle to whoever holds the phone, if they are farther from it than so many metres. */
    private fun follow(strayed: Double) {
        val (here, sight) = (map.sheet?.here?.at ?: return) to (map.sight ?: return)
        if (hypot(here.east - sight.east, here.north - sight.north) <= strayed) return
        map.sight = sight.at(here)
        rested()
    }

    /** Something was touched, or nothing: what has a page is opened, of everything else the foot of the page tells. */
    private fun touched(thing: Thing?, opens: Boolean) {
        map.chosen = thing
        foot.tell(thing)
        if (opens) thing?.page?.let(house::go)
    }

    private fun <T> ask(call: (Book) -> T, then: (T) -> Unit) = house.calls.make(call) { answered ->
        answered.onSuccess(then).onFailure { error ->
            val sentence = context.resources.sentence(error)
            if (laid != null) return@onFailure house.complain(sentence)
            leaves.show(ink.words(sentence), ink.thumb(context.getString(R.string.app_try_again)) { read(about()) })
        }
    }

    private companion object {
        const val LATITUDE = "latitude"
        const val LONGITUDE = "longitude"
        const val EAST = "east"
        const val NORTH = "north"
        const val SCALE = "scale"
        const val FOLLOWS = "follows"
        const val MOVED = "moved"
        const val PLACED = "placed"
        const val CHOSEN = "chosen"
        const val EVERY_MS = 10_000L

        /** Whoever is this share of the view from its middle has walked out of it: a position wavers, and the map is not to waver with it. */
        const val STRAYED = 4.0

        /** The grid is asked for on so many times what is in view, so that fingers do not outrun it. */
        const val SPARE = 3.0
    }
}
