package trug.phone.page.way

import android.hardware.SensorManager
import java.util.Random
import kotlin.math.abs
import kotlin.math.cos
import kotlin.math.sin
import kotlin.math.sqrt
import org.junit.Assert.assertEquals
import org.junit.Assert.assertTrue
import org.junit.Test
import org.junit.runner.RunWith
import org.robolectric.RobolectricTestRunner
import org.robolectric.annotation.Config

/** The arrow points the right way however the phone is held. */
@RunWith(RobolectricTestRunner::class)
@Config(sdk = [34, 35])
class PointingTest {
    /** How a phone is held, by where its right, its top and the front of its screen point; worked by hand, with the phone in hand. */
    private class Pose(val how: String, val right: Arrow3, val up: Arrow3, val out: Arrow3, val quarters: Int = 0)

    @Test
    fun `in every way in which a phone is held`() {
        val cases = listOf(
            // Flat on a table, whoever holds it looks down on it from the south: the arrow points to the place itself.
            Pose("flat, top to the north", EAST, NORTH, UP) to listOf(0, 90, 180, -90),
            Pose("flat, top to the east", SOUTH, EAST, UP) to listOf(-90, 0, 90, 180),
            Pose("flat, on its left side", NORTH, WEST, UP, quarters = 1) to listOf(0, 90, 180, -90),
            Pose("flat, on its right side", SOUTH, EAST, UP, quarters = 3) to listOf(0, 90, 180, -90),
            Pose("flat, upside down", WEST, SOUTH, UP, quarters = 2) to listOf(0, 90, 180, -90),
            Pose("flat, upside down, and the page has not turned", WEST, SOUTH, UP) to listOf(180, -90, 0, 90),
            // Upright before the eyes: what is ahead is up.
            Pose("upright, facing north", EAST, UP, SOUTH) to listOf(0, 90, 180, -90),
            Pose("upright, facing west", NORTH, UP, EAST) to listOf(90, 180, -90, 0),
            Pose("upright, on its left side, facing north", UP, WEST, SOUTH, quarters = 1) to listOf(0, 90, 180, -90),
            Pose("upright, on its right side, facing north", DOWN, EAST, SOUTH, quarters = 3) to listOf(0, 90, 180, -90),
            // The page does not turn with it: the sky is still where ahead is.
            Pose("upright, on its left side, and the page has not turned", UP, WEST, SOUTH) to listOf(90, 180, -90, 0),
            Pose("upright, upside down, and the page has not turned", WEST, DOWN, SOUTH) to listOf(180, -90, 0, 90),
            // Between the two.
            Pose("half upright, facing north", EAST, mid(NORTH, UP), mid(SOUTH, UP)) to listOf(0, 90, 180, -90),
            Pose("a little over, facing north", EAST, mid(UP, SOUTH, 0.4), mid(SOUTH, DOWN, 0.4)) to listOf(0, 90, 180, -90),
            // Held overhead by somebody on their back, who sees east to the left of north.
            Pose("face down, top to the north", WEST, NORTH, DOWN) to listOf(0, -90, 180, 90),
        )
        for ((pose, expected) in cases) {
            val held = Held(matrix(pose), pose.quarters)
            for ((bearing, angle) in listOf(0, 90, 180, 270).zip(expected)) {
                assertEquals("${pose.how}, to $bearing", 0.0, around(held.arrow(bearing.toDouble()) - angle), CLOSE)
            }
        }
    }

    @Test
    fun `which way to turn is told of whoever holds it, not of the phone`() {
        val cases = listOf(
            Pose("flat, top to the north", EAST, NORTH, UP) to 90,
            Pose("flat, on its left side", NORTH, WEST, UP, quarters = 1) to 90,
            Pose("upright, facing north", EAST, UP, SOUTH) to 90,
            Pose("upright, facing east", SOUTH, UP, WEST) to 0,
            Pose("upright, on its left side, and the page has not turned", UP, WEST, SOUTH) to 90,
            Pose("upright, upside down, facing north", WEST, DOWN, SOUTH) to 90,
            Pose("face down, top to the north", WEST, NORTH, DOWN) to 90,
        )
        for ((pose, expected) in cases) assertEquals(pose.how, expected.toDouble(), Held(matrix(pose), pose.quarters).turn(EASTWARD), CLOSE)
        assertEquals(listOf(0, 1, 2, 4, 4, 6, 7), listOf(0.0, 45.0, 90.0, 180.0, -180.0, -90.0, -40.0).map(::side))
    }

    /** Whatever is to the right or left along the horizon line of the screen is drawn so far to the right or left. */
    @Test
    fun `as far to the side as it is`() = held { pose, random ->
        val bearing = random.nextDouble() * 360
        val target = Math.toRadians(bearing).let { Arrow3(sin(it), cos(it), 0.0) }
        val level = (UP cross pose.out).let { it * (1 / sqrt(it dot it)) }
        val angle = Math.toRadians(Held(matrix(pose), 0).arrow(bearing))
        val drawn = pose.right * sin(angle) + pose.up * cos(angle)
        assertEquals(target dot level, drawn dot level, CLOSE)
    }

    @Test
    fun `another bearing turns it by as much, and another quarter of the page by a quarter`() = held { pose, random ->
        val (bearing, more) = random.nextDouble() * 360 to random.nextDouble() * 360
        val held = Held(matrix(pose), 0)
        // On a screen that faces down right and left are the other way round.
        val way = if (pose.out.z >= -STEEP) 1 else -1
        assertEquals(0.0, around(held.arrow(bearing + more) - held.arrow(bearing) - way * more), CLOSE)
        for (quarters in 1..3) {
            assertEquals(0.0, around(Held(matrix(pose), quarters).arrow(bearing) - held.arrow(bearing) + 90.0 * quarters), CLOSE)
        }
    }

    @Test
    fun `a hand that trembles does not throw it about`() = held { pose, random ->
        if (abs(pose.out.z + STEEP) > 0.05) {
            val axis = Arrow3(random.nextGaussian(), random.nextGaussian(), random.nextGaussian())
            val trembled = Pose("", rotated(pose.right, axis), rotated(pose.up, axis), rotated(pose.out, axis), 0)
            assertEquals(0.0, around(Held(matrix(trembled), 0).arrow(70.0) - Held(matrix(pose), 0).arrow(70.0)), 10.0)
        }
    }

    /** Tipped from lying to standing and on, with level sides, the arrow and the turn agree. */
    @Test
    fun `from flat to upright nothing changes`() {
        for (azimuth in 0 until 360 step 15) {
            for (pitch in 0..134) {
                val (a, p) = Math.toRadians(azimuth.toDouble()) to Math.toRadians(pitch.toDouble())
                val ahead = Arrow3(sin(a), cos(a), 0.0)
                val pose = Pose("", Arrow3(cos(a), -sin(a), 0.0), ahead * cos(p) + UP * sin(p), UP * cos(p) + ahead * -sin(p))
                val held = Held(matrix(pose), 0)
                assertEquals("$azimuth, tipped by $pitch", 0.0, around(held.arrow(200.0) - (200 - azimuth)), CLOSE)
                assertEquals("$azimuth, tipped by $pitch", 0.0, around(held.turn(200.0) - (200 - azimuth)), CLOSE)
            }
        }
    }

    /** Against Android's own azimuth, its axes changed for each way in which the page is turned as its documentation has it. */
    @Test
    fun `flat it agrees with the framework's own azimuth`() {
        val axes = listOf(
            SensorManager.AXIS_X to SensorManager.AXIS_Y,
            SensorManager.AXIS_Y to SensorManager.AXIS_MINUS_X,
            SensorManager.AXIS_MINUS_X to SensorManager.AXIS_MINUS_Y,
            SensorManager.AXIS_MINUS_Y to SensorManager.AXIS_X,
        )
        for (azimuth in 0 until 360 step 10) {
            // As a rotation vector: about the axis up, against the clock.
            val half = Math.toRadians(-azimuth / 2.0)
            val matrix = FloatArray(9)
            SensorManager.getRotationMatrixFromVector(matrix, floatArrayOf(0f, 0f, sin(half).toFloat(), cos(half).toFloat()))
            axes.forEachIndexed { quarters, (x, y) ->
                val remapped = FloatArray(9)
                assertTrue(SensorManager.remapCoordinateSystem(matrix, x, y, remapped))
                val heading = Math.toDegrees(SensorManager.getOrientation(remapped, FloatArray(3))[0].toDouble())
                assertEquals(0.0, around(Held(matrix, quarters).arrow(30.0) - (30 - heading)), CLOSE)
            }
        }
    }

    @Test
    fun `what is worth saying again`() {
        val last = Spoken(140.0, 320.0, isIn = false, turn = null)
        val cases = listOf(
            last.copy(metres = 131.0) to false,
            last.copy(metres = 125.0) to true,
            last.copy(bearing = 350.0) to false,
            last.copy(bearing = 10.0) to true,
            last.copy(bearing = null) to true,
            last.copy(isIn = true) to true,
            last.copy(turn = 10.0) to true,
        )
        for ((now, isNews) in cases) assertEquals("$now", isNews, now.isNewsAfter(last))
        val facing = last.copy(turn = -170.0)
        assertEquals("a hand that trembles is no news", listOf(false, true), listOf(170.0, 140.0).map { facing.copy(turn = it).isNewsAfter(facing) })
        assertEquals("near by, ten metres are news", false, Spoken(22.0, 0.0, false, 0.0).isNewsAfter(Spoken(31.0, 0.0, false, 0.0)))
        assertEquals("on the spot the bearing wavers", false, Spoken(3.0, 90.0, true, null).isNewsAfter(Spoken(3.0, 100.0, true, null)))
    }

    /** Held anyhow, many times; the same every time the test runs. */
    private fun held(check: (Pose, Random) -> Unit) {
        val random = Random(2026)
        repeat(2000) {
            val q = DoubleArray(4) { random.nextGaussian() }
            val (w, x, y, z) = sqrt(q.sumOf { it * it }).let { length -> q.map { it / length } }
            val right = Arrow3(1 - 2 * (y * y + z * z), 2 * (x * y + w * z), 2 * (x * z - w * y))
            val up = Arrow3(2 * (x * y - w * z), 1 - 2 * (x * x + z * z), 2 * (y * z + w * x))
            check(Pose("", right, up, right cross up), random)
        }
    }

    /** Turned by a tenth of a degree. */
    private fun rotated(what: Arrow3, axis: Arrow3): Arrow3 {
        val about = axis * (1 / sqrt(axis dot axis))
        val by = Math.toRadians(0.1)
        return what * cos(by) + (about cross what) * sin(by) + about * ((about dot what) * (1 - cos(by)))
    }

    private fun matrix(pose: Pose): FloatArray =
        listOf(pose.right, pose.up, pose.out).let { axes -> (axes.map { it.x } + axes.map { it.y } + axes.map { it.z }).map(Double::toFloat).toFloatArray() }

    /** Between two directions at right angles; [more] of the second. */
    private fun mid(one: Arrow3, other: Arrow3, more: Double = 1.0): Arrow3 = (one + other * more).let { it * (1 / sqrt(it dot it)) }

    private companion object {
        val EAST = Arrow3(1.0, 0.0, 0.0)
        val WEST = Arrow3(-1.0, 0.0, 0.0)
        val NORTH = Arrow3(0.0, 1.0, 0.0)
        val SOUTH = Arrow3(0.0, -1.0, 0.0)
        val UP = Arrow3(0.0, 0.0, 1.0)
        val DOWN = Arrow3(0.0, 0.0, -1.0)
        const val EASTWARD = 90.0
        const val STEEP = 0.7071067811865476
        const val CLOSE = 1e-3
    }
}
