package trug.phone.page.way

import kotlin.math.abs
import kotlin.math.atan2
import kotlin.math.cos
import kotlin.math.sin

/** A direction in space. */
internal data class Arrow3(val x: Double, val y: Double, val z: Double) {
    operator fun plus(other: Arrow3) = Arrow3(x + other.x, y + other.y, z + other.z)

    operator fun times(by: Double) = Arrow3(x * by, y * by, z * by)

    infix fun dot(other: Arrow3): Double = x * other.x + y * other.y + z * other.z

    infix fun cross(other: Arrow3) = Arrow3(y * other.z - z * other.y, z * other.x - x * other.z, x * other.y - y * other.x)
}

/**
 * How the phone is held: the matrix with which Android's sensors turn what the phone calls right, up and out of its screen into east,
 * north and up (SensorManager.getRotationMatrix), and by how many quarters the system has turned what it shows (Display.getRotation).
 *
 * Bearings are degrees clockwise from the north of that matrix, which is the magnetic one.
 */
internal class Held(matrix: FloatArray, private val quarters: Int) {
    private val right = column(matrix, 0)
    private val up = column(matrix, 1)
    private val out = column(matrix, 2)

    /**
     * How far an arrow that stands up the page is to be turned, in degrees clockwise, so that it points there.
     *
     * The map of the ground is tipped into the screen by the shortest way: on a phone that lies flat the arrow points to the place
     * itself, on one that is held upright what is ahead is up, and between the two it goes over without a step, however the phone is
     * rolled. Of a screen that faces down, seen by somebody who lies beneath it, the arrow points to the place itself again.
     */
    fun arrow(bearing: Double): Double {
        val ground = if (out.z >= -STEEP) UP else UP * -1.0
        val drawn = tipped(towards(bearing), ground, out)
        return around(Math.toDegrees(atan2(drawn dot right, drawn dot up)) - QUARTER * quarters)
    }

    /** How far one has to turn about to face there: from -180 up to 180, to the right above 0. */
    fun turn(bearing: Double): Double {
        // Flat, one faces where the top of the page points; upright, where the back of the phone does.
        val faced = if (abs(out.z) > STEEP) top() else out * -1.0
        return around(bearing - Math.toDegrees(atan2(faced.x, faced.y)))
    }

    /** What the page has for its top. */
    private fun top(): Arrow3 = Math.toRadians(QUARTER * quarters).let { right * sin(it) + up * cos(it) }

    private companion object {
        val UP = Arrow3(0.0, 0.0, 1.0)
        const val QUARTER = 90.0

        /** The sine of 45 degrees: what is nearer to lying than to standing. */
        const val STEEP = 0.7071067811865476

        fun column(matrix: FloatArray, at: Int) = Arrow3(matrix[at].toDouble(), matrix[at + 3].toDouble(), matrix[at + 6].toDouble())

        fun towards(bearing: Double): Arrow3 = Math.toRadians(bearing).let { Arrow3(sin(it), cos(it), 0.0) }

        /** [what], turned as [from] is by the shortest way to [to] (Rodrigues' formula). */
        fun tipped(what: Arrow3, from: Arrow3, to: Arrow3): Arrow3 {
            val axis = from cross to
            val once = axis cross what
            return what + once + (axis cross once) * (1 / (1 + (from dot to)))
        }
    }
}

/** An angle from -180 up to, not including, 180 degrees. */
internal fun around(degrees: Double): Double = (degrees + HALF).mod(WHOLE) - HALF

private const val HALF = 180.0
private const val WHOLE = 360.0
