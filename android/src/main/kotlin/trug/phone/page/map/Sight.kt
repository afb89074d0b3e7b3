package trug.phone.page.map

import kotlin.math.abs
import trug.core.MapPoint

/**
 * What of the map is in view. The core has laid the map flat, in metres from the place that it is laid about; this moves and scales
 * it, and that is all. [scale] is in metres to a pixel, [width] and [height] in pixels.
 */
internal data class Sight(val east: Double, val north: Double, val scale: Double, val width: Int, val height: Int) {
    val across: Double get() = width * scale
    val up: Double get() = height * scale

    fun x(east: Double): Float = (width / 2.0 + (east - this.east) / scale).toFloat()

    fun y(north: Double): Float = (height / 2.0 - (north - this.north) / scale).toFloat()

    fun east(x: Float): Double = east + (x - width / 2.0) * scale

    fun north(y: Float): Double = north - (y - height / 2.0) * scale

    /** Whether a point is in view, or no more than so many pixels out of it. */
    fun holds(at: MapPoint, beyond: Double = 0.0): Boolean =
        abs(at.east - east) <= across / 2 + beyond * scale && abs(at.north - north) <= up / 2 + beyond * scale

    /** After the land was drawn along by so many pixels, right and down. */
    fun dragged(x: Float, y: Float): Sight = copy(east = east - x * scale, north = north + y * scale)

    /** So many times closer, within limits, about a point of the screen, which goes on showing the same land. */
    fun closer(times: Double, x: Float, y: Float, limits: ClosedRange<Double>): Sight {
        val nearer = (scale / times).coerceIn(limits)
        return copy(east = east(x) - (x - width / 2.0) * nearer, north = north(y) + (y - height / 2.0) * nearer, scale = nearer)
    }

    fun at(point: MapPoint): Sight = copy(east = point.east, north = point.north)

    /** The same land on a map that is laid about another point of this one. North hardly turns on the way there. */
    fun laidAbout(point: MapPoint): Sight = copy(east = east - point.east, north = north - point.north)

    /** The same land in the middle, on a screen of another size. */
    fun sized(width: Int, height: Int): Sight = copy(width = width, height = height)

    companion object {
        /** About the middle of the map, with at least so many metres to every side. */
        fun reaching(metres: Double, width: Int, height: Int, limits: ClosedRange<Double>): Sight =
            Sight(0.0, 0.0, (2 * metres / minOf(width, height)).coerceIn(limits), width, height)
    }
}
