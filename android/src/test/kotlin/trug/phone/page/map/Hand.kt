package trug.phone.page.map

import android.os.SystemClock
import android.view.KeyEvent
import android.view.MotionEvent
import android.view.MotionEvent.PointerCoords
import android.view.MotionEvent.PointerProperties
import android.view.View
import java.io.File
import trug.core.AreaAsked
import trug.core.Fix
import trug.phone.app.Phone

/** A hand on the map, by way of the whole window. Points are those of the map, in pixels. */
internal class Hand(private val phone: Phone) {
    private val map: MapView get() = phone.map
    private var began = 0L
    private var later = 0L

    fun drag(fromX: Float, fromY: Float, toX: Float, toY: Float) {
        begin()
        send(MotionEvent.ACTION_DOWN, fromX to fromY)
        for (step in 1..STEPS) send(MotionEvent.ACTION_MOVE, along(fromX, toX, step) to along(fromY, toY, step))
        // It rests before it is lifted: a drag and no flick.
        later += REST_MS
        send(MotionEvent.ACTION_MOVE, toX to toY)
        send(MotionEvent.ACTION_UP, toX to toY)
        phone.settle()
    }

    /** The same, let go of while it moves. */
    fun flick(fromX: Float, fromY: Float, toX: Float, toY: Float) {
        begin()
        send(MotionEvent.ACTION_DOWN, fromX to fromY)
        for (step in 1..STEPS) send(MotionEvent.ACTION_MOVE, along(fromX, toX, step) to along(fromY, toY, step))
        send(MotionEvent.ACTION_UP, toX to toY)
        phone.pass(seconds = 5)
    }

    fun tap(x: Float, y: Float) {
        begin()
        once(x, y)
        phone.settle()
    }

    fun doubleTap(x: Float, y: Float) {
        begin()
        once(x, y)
        later += BETWEEN_MS
        began += later
        later = 0
        once(x, y)
        phone.settle()
    }

    private fun once(x: Float, y: Float) {
        send(MotionEvent.ACTION_DOWN, x to y)
        send(MotionEvent.ACTION_UP, x to y)
    }

    /** Two fingers, side by side about a point, from so far apart to so far. */
    fun pinch(x: Float, y: Float, from: Float, to: Float) {
        begin()
        val fingers = { apart: Float -> arrayOf(x - apart / 2 to y, x + apart / 2 to y) }
        send(MotionEvent.ACTION_DOWN, fingers(from)[0])
        send(MotionEvent.ACTION_POINTER_DOWN or SECOND, *fingers(from))
        for (step in 1..STEPS) if (from != to) send(MotionEvent.ACTION_MOVE, *fingers(along(from, to, step)))
        send(MotionEvent.ACTION_POINTER_UP or SECOND, *fingers(to))
        send(MotionEvent.ACTION_UP, fingers(to)[0])
        phone.settle()
    }

    fun tapWithTwo(x: Float, y: Float) = pinch(x, y, APART, APART)

    fun key(key: Int, shift: Boolean = false) {
        val meta = if (shift) KeyEvent.META_SHIFT_ON else 0
        val at = SystemClock.uptimeMillis()
        // The key may lead to another page before it comes up.
        val pressed = map
        pressed.dispatchKeyEvent(KeyEvent(at, at, KeyEvent.ACTION_DOWN, key, 0, meta))
        pressed.dispatchKeyEvent(KeyEvent(at, at, KeyEvent.ACTION_UP, key, 0, meta))
        phone.settle()
    }

    private fun begin() {
        began = SystemClock.uptimeMillis()
        later = 0
    }

    private fun along(from: Float, to: Float, step: Int) = from + (to - from) * step / STEPS

    private fun send(action: Int, vararg points: Pair<Float, Float>) {
        val corner = IntArray(2).also(map::getLocationInWindow)
        val fingers = Array(points.size) { PointerProperties().apply { id = it; toolType = MotionEvent.TOOL_TYPE_FINGER } }
        val coords = Array(points.size) { at ->
            PointerCoords().apply {
                x = points[at].first + corner[0]
                y = points[at].second + corner[1]
                pressure = 1f
                size = 1f
            }
        }
        later += STEP_MS
        val event = MotionEvent.obtain(began, began + later, action, points.size, fingers, coords, 0, 0, 1f, 1f, 0, 0, 0, 0)
        phone.activity.dispatchTouchEvent(event)
        event.recycle()
    }

    private companion object {
        const val STEPS = 8
        const val STEP_MS = 10L
        const val REST_MS = 300L
        const val BETWEEN_MS = 80L
        const val APART = 200f
        const val SECOND = 1 shl MotionEvent.ACTION_POINTER_INDEX_SHIFT
    }
}

/** The map in front. */
internal val Phone.map: MapView get() = views().filterIsInstance<MapView>().single(View::isShown)

internal val Phone.sight: Sight get() = checkNotNull(map.sight)

/** Places that are nobody's: they stand for Harrow Shaw, which is invented. */
internal val SHAW = Fix(51.5, -1.5, 8.0)

/** Ground that is closed, and ground with a code of its own: squares of 120 m about two points, from a file as anybody's program draws them. */
internal fun Phone.fenceShaw() = core { book ->
    fun fence(name: String, closed: Boolean, code: String?, latitude: Double, longitude: Double) {
        val (up, across) = 0.00054 to 0.00087
        val ring = listOf(-1 to -1, 1 to -1, 1 to 1, -1 to 1, -1 to -1).joinToString { (x, y) -> "[${longitude + x * across}, ${latitude + y * up}]" }
        val file = File(app.filesDir, "fence.geojson")
        file.writeText("""{"type": "Polygon", "coordinates": [[$ring]]}""")
        book.addAreas(file.path, AreaAsked(name, closed, code, null))
    }
    fence("Lidgate Hanger", true, null, 51.49986, -1.5006)
    fence("Harrow Common", false, "pickers-1998", 51.50100, -1.4990)
}

/** A wood with two patches, one of which rests, and a find that belongs to neither. */
internal fun Phone.plantShaw() = core { book ->
    val ears = book.beginFind(null, "whole", Fix(51.501, -1.5, 5.0))
    book.nameFind(ears.id, "jelly-ear", "sight", null, null)
    val elders = checkNotNull(book.foundPatch(ears.id, "Elders").patch).id
    book.lookAtPatch(elders, "nothing")
    val log = book.beginFind(null, "whole", Fix(51.5, -1.498, 5.0))
    val logs = checkNotNull(book.foundPatch(log.id, "Beech logs").patch).id
    book.restPatch(logs, 14u)
    book.beginFind(null, "whole", Fix(51.4995, -1.5012, 5.0))
    elders
}
