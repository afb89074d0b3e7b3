package trug.phone.page.map

import android.annotation.SuppressLint
import android.graphics.Canvas
import android.graphics.Path
import android.graphics.PointF
import android.graphics.Rect
import android.os.Bundle
import android.view.KeyEvent
import android.view.MotionEvent
import android.view.View
import android.view.accessibility.AccessibilityNodeProvider
import kotlin.math.hypot
import trug.core.MapPage
import trug.core.MapPoint
import trug.core.MapSheet
import trug.phone.R
import trug.phone.draw.Ink

/**
 * The map, as a plate in a book. It holds what the core told and moves it under fingers and keys without asking anything; [atRest] is
 * told when it has come to rest somewhere else, [moved] whenever somebody moves it,
 * and whether they drew it along, [touched] what was touched, if anything.
 */
@SuppressLint("ViewConstructor")
internal class MapView(
    private val ink: Ink,
    private val atRest: () -> Unit,
    private val moved: (drawn: Boolean) -> Unit,
    private val touched: (Thing?, opens: Boolean) -> Unit,
) : View(ink.context), Fingered {
    private val press = Press(ink)
    private val plate = Plate(press)
    private val marks = Marks(press) { context.length(it) }
    private val fingers = Fingers(context, this)
    private val nodes = Nodes(this)
    private var outlines = emptyMap<Thing, Path>()
    private val density = resources.displayMetrics.density.toDouble()

    /** From a log that fills the screen to as far as the grid has lines that stand apart. */
    private val limits = CLOSEST / density..COARSEST * JUST / press.closest

    var things: Things? = null
        private set
    private var page: MapPage? = null
    var sheet: MapSheet? = null
        set(told) {
            field = told
            changed()
        }

    /** What is in view; none before the map is laid and has a size. */
    var sight: Sight? = null
        set(to) {
            field = to
            invalidate()
        }

    /** What was touched or tabbed to last. */
    var chosen: Thing? = null
        set(to) {
            field = to
            changed()
        }

    /** Metres to a density-independent pixel: what is remembered, for another screen may have other pixels. */
    val metresPerDp: Double? get() = sight?.let { it.scale * density }

    /** How close lines of the grid may stand, in metres. */
    val closestMetres: Double get() = (sight?.scale ?: 1.0) * press.closest

    init {
        minimumHeight = ink.dp(LEAST)
        isFocusable = true
        importantForAccessibility = IMPORTANT_FOR_ACCESSIBILITY_YES
    }

    /** Another map, or the same with what has changed on it. */
    fun show(told: MapPage) {
        val shown = Things(context, told)
        page = told
        things = shown
        outlines = buildMap { shown.areas.forEach { put(it, plate.outline(it)) } }
        chosen = chosen?.let { was -> shown.all.find { it.id == was.id } }
    }

    /** Looks at so much about the middle of the map. */
    fun reach(metres: Double) {
        sight = Sight.reaching(metres, width, height, limits)
    }

    /** Looks where it looked before. */
    fun look(east: Double, north: Double, metresPerDp: Double) {
        sight = Sight(east, north, (metresPerDp / density).coerceIn(limits), width, height)
    }

    override fun onSizeChanged(width: Int, height: Int, before: Int, beforeHeight: Int) {
        sight = sight?.sized(width, height)
        // Laid out anew while it is laid out: whoever listens is told afterwards.
        post { atRest() }
    }

    /** What is in view is another, and lies still: it is described anew. */
    private fun changed() {
        contentDescription = describe()
        nodes.changed()
        invalidate()
    }

    private fun describe(): String = things?.let { shown -> sight?.let { context.describe(it, sheet, inView(shown, it)) } }.orEmpty()

    /** What can be touched now: what is in view, finds only where all there are would be seen. */
    fun inView(): List<Thing> = things?.let { shown -> sight?.let { inView(shown, it) } }.orEmpty()

    private fun inView(shown: Things, sight: Sight): List<Thing> =
        (shown.patches + shown.areas + if (showsFinds(sight)) shown.finds else emptyList()).filter { spot(it, sight) != null }

    /** Where a thing is on the screen: at its point, or, where only a part of an area is in view, in the middle of that. */
    fun spot(thing: Thing): PointF? = sight?.let { spot(thing, it) }

    private fun spot(thing: Thing, sight: Sight): PointF? {
        if (sight.holds(thing.at)) return PointF(sight.x(thing.at.east), sight.y(thing.at.north))
        val part = outlines[thing]?.let { plate.inView(sight, it) }?.takeUnless { it.isEmpty } ?: return null
        return part.bounds.run { PointF(exactCenterX(), exactCenterY()) }
    }

    private fun showsFinds(sight: Sight): Boolean {
        val told = page ?: return false
        return hypot(sight.across, sight.up) / 2 + told.holdsM <= told.findsWithinM
    }

    // ---- Printing

    override fun onDraw(canvas: Canvas) {
        super.onDraw(canvas)
        val (told, shown, seen) = Triple(page ?: return, things ?: return, sight ?: return)
        val about = sheet?.here?.at ?: MapPoint(seen.east, seen.north)
        val rings = marks.ringsOf(seen, told.roundM)
        val visible = inView(shown, seen)
        land(canvas, seen, shown, visible)
        rings.forEach { marks.ring(canvas, seen, about, it) }
        marks.middle(canvas, seen)
        sheet?.let { marks.here(canvas, seen, it) }
        // Names come last, on paper of their own, what matters most first: where there is no room, the next is left out.
        val room = Room(width.toFloat(), height.toFloat())
        val fromRight = layoutDirection == LAYOUT_DIRECTION_RTL
        (visible.filter { it !is Thing.Area }.map { it.at } + listOfNotNull(sheet?.here?.at)).forEach { marks.keep(seen, it, room) }
        marks.scale(canvas, seen, told.roundM, room, fromRight)
        marks.north(canvas, seen, sheet, context.getString(R.string.map_north), room, fromRight)
        val (first, others) = visible.partition { it === chosen }
        for (thing in first + others.filter { it !is Thing.Find }) spot(thing, seen)?.let { marks.name(canvas, seen, thing, it, room, thing === chosen) }
        sheet?.let { plate.figures(canvas, seen, it, room, fromRight) }
        rings.forEach { marks.ringName(canvas, seen, about, it, room) }
        canvas.drawRect(0f, 0f, width.toFloat(), height.toFloat(), if (isFocused) press.bold else press.firm)
    }

    private fun land(canvas: Canvas, seen: Sight, shown: Things, visible: List<Thing>) {
        for (area in shown.areas) outlines[area]?.let { plate.area(canvas, seen, area, it, area === chosen) }
        sheet?.let { plate.lines(canvas, seen, it) }
        visible.filterIsInstance<Thing.Find>().forEach { marks.find(canvas, seen, it, it === chosen) }
        shown.patches.filter { seen.holds(it.at, it.patch.radiusM / seen.scale) }.forEach { marks.patch(canvas, seen, it, it === chosen) }
    }

    // ---- Fingers

    @SuppressLint("ClickableViewAccessibility") // A touch is a touch on something: each has a node of its own.
    override fun onTouchEvent(event: MotionEvent): Boolean {
        parent?.requestDisallowInterceptTouchEvent(true)
        fingers.feel(event)
        return true
    }

    override fun drag(x: Float, y: Float) {
        moved(true)
        sight = sight?.dragged(x, y)
    }

    override fun closer(times: Double, x: Float, y: Float) {
        moved(false)
        sight = sight?.closer(times, x, y, limits)
    }

    override fun touch(x: Float, y: Float) {
        val thing = thingAt(x, y)
        touched(thing, true)
    }

    /** The patch or find that is nearest to a touch, or else the area that it is in. */
    private fun thingAt(x: Float, y: Float): Thing? {
        val seen = sight ?: return null
        val away = { thing: Thing -> hypot(seen.x(thing.at.east) - x, seen.y(thing.at.north) - y) }
        val near = inView().filter { it !is Thing.Area && away(it) <= ink.dp(Ink.TARGET) / 2 }.minByOrNull(away)
        return near ?: things?.areas?.find { area -> outlines[area]?.let { plate.inView(seen, it).contains(x.toInt(), y.toInt()) } == true }
    }

    override fun settled() {
        changed()
        atRest()
    }

    override fun next(step: Runnable) = postOnAnimation(step)

    override fun onDetachedFromWindow() {
        fingers.stop()
        super.onDetachedFromWindow()
    }

    // ---- Keys, buttons and screen readers

    /** So many times closer, about the middle. */
    fun closer(times: Double) {
        fingers.stop()
        closer(times, width / 2f, height / 2f)
        settled()
    }

    /** To another part of the land: by a share of what is in view, east and north. */
    fun move(east: Double, north: Double) {
        fingers.stop()
        drag((-east * width * STEP).toFloat(), (north * height * STEP).toFloat())
        settled()
    }

    override fun onKeyDown(key: Int, event: KeyEvent): Boolean {
        when (key) {
            KeyEvent.KEYCODE_DPAD_UP -> move(0.0, 1.0)
            KeyEvent.KEYCODE_DPAD_DOWN -> move(0.0, -1.0)
            KeyEvent.KEYCODE_DPAD_LEFT -> move(-1.0, 0.0)
            KeyEvent.KEYCODE_DPAD_RIGHT -> move(1.0, 0.0)
            KeyEvent.KEYCODE_PLUS, KeyEvent.KEYCODE_EQUALS, KeyEvent.KEYCODE_NUMPAD_ADD, KeyEvent.KEYCODE_ZOOM_IN -> closer(ZOOM)
            KeyEvent.KEYCODE_MINUS, KeyEvent.KEYCODE_NUMPAD_SUBTRACT, KeyEvent.KEYCODE_ZOOM_OUT -> closer(1 / ZOOM)
            KeyEvent.KEYCODE_TAB -> return tab(if (event.isShiftPressed) -1 else 1)
            KeyEvent.KEYCODE_ENTER, KeyEvent.KEYCODE_NUMPAD_ENTER, KeyEvent.KEYCODE_DPAD_CENTER, KeyEvent.KEYCODE_SPACE ->
                touched(chosen ?: return super.onKeyDown(key, event), true)
            else -> return super.onKeyDown(key, event)
        }
        return true
    }

    /** From one to the next of what is in view; beyond the last, Tab leaves the map. */
    private fun tab(by: Int): Boolean {
        val visible = inView()
        val at = visible.indexOfFirst { it === chosen }
        val next = if (at < 0 && by < 0) visible.lastIndex else at + by
        touched(visible.getOrNull(next), false)
        return next in visible.indices
    }

    override fun onFocusChanged(has: Boolean, direction: Int, from: Rect?) {
        super.onFocusChanged(has, direction, from)
        invalidate()
    }

    override fun getAccessibilityNodeProvider(): AccessibilityNodeProvider = nodes

    override fun dispatchHoverEvent(event: MotionEvent): Boolean = nodes.hover(thingAt(event.x, event.y), event) || super.dispatchHoverEvent(event)

    override fun performAccessibilityAction(action: Int, arguments: Bundle?): Boolean {
        when (action) {
            R.id.map_move_north -> move(0.0, 1.0)
            R.id.map_move_south -> move(0.0, -1.0)
            R.id.map_move_east -> move(1.0, 0.0)
            R.id.map_move_west -> move(-1.0, 0.0)
            R.id.map_closer -> closer(ZOOM)
            R.id.map_farther -> closer(1 / ZOOM)
            else -> return super.performAccessibilityAction(action, arguments)
        }
        return true
    }

    /** Something was touched by way of its node. */
    fun open(thing: Thing) = touched(thing, true)

    companion object {
        /** How far one press of a button goes in or out. */
        const val ZOOM = 2.0

        /** How far one press of an arrow goes, of what is in view. */
        private const val STEP = 0.25
        private const val LEAST = 176

        /** Metres to a density-independent pixel. */
        private const val CLOSEST = 0.02

        /** Lines of the grid stand no farther apart, in metres. */
        private const val COARSEST = 100_000.0
        private const val JUST = 0.999
    }
}
