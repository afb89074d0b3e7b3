package trug.phone.page.map

import java.util.Random
import kotlin.math.abs
import kotlin.math.hypot
import org.junit.Assert.assertEquals
import org.junit.Assert.assertTrue
import org.junit.Test
import trug.core.MapPoint

/** What is in view, over a thousand views drawn at random from a wood to a country; the seed makes them the same every time. */
class SightTest {
    private fun Random.nextDouble(from: Double, to: Double) = from + nextDouble() * (to - from)

    private fun Random.nextInt(from: Int, to: Int) = from + nextInt(to - from)

    private val limits = 0.01..1500.0

    private fun each(check: (Sight, Random) -> Unit) {
        val chance = Random(2026)
        repeat(1000) {
            val scale = Math.pow(10.0, chance.nextDouble(-2.0, 3.0))
            check(Sight(chance.nextDouble(-1e5, 1e5), chance.nextDouble(-1e5, 1e5), scale, chance.nextInt(100, 2000), chance.nextInt(100, 2000)), chance)
        }
    }

    private fun assertNear(expected: Double, found: Double, within: Double) =
        assertTrue("$found for $expected, within $within", abs(found - expected) <= within)

    @Test
    fun `the middle of what is seen is the middle of the screen, east is to the right and north is up`() = each { sight, _ ->
        assertEquals(sight.width / 2f, sight.x(sight.east), 0.01f)
        assertEquals(sight.height / 2f, sight.y(sight.north), 0.01f)
        assertTrue(sight.x(sight.east + 10 * sight.scale) > sight.x(sight.east))
        assertTrue(sight.y(sight.north + 10 * sight.scale) < sight.y(sight.north))
        assertNear(sight.x(sight.east).toDouble() + 100, sight.x(sight.east + 100 * sight.scale).toDouble(), 0.01)
    }

    @Test
    fun `what is on the screen is where it was on the land`() = each { sight, chance ->
        val (x, y) = chance.nextInt(sight.width).toFloat() to chance.nextInt(sight.height).toFloat()
        assertEquals(x, sight.x(sight.east(x)), 0.01f)
        assertEquals(y, sight.y(sight.north(y)), 0.01f)
    }

    @Test
    fun `a finger keeps the land that it is on`() = each { sight, chance ->
        val (x, y) = chance.nextInt(sight.width).toFloat() to chance.nextInt(sight.height).toFloat()
        val (east, north) = sight.east(x) to sight.north(y)
        val (right, down) = chance.nextDouble(-500.0, 500.0).toFloat() to chance.nextDouble(-500.0, 500.0).toFloat()
        val dragged = sight.dragged(right, down)
        assertNear(east, dragged.east(x + right), sight.scale * 0.01)
        assertNear(north, dragged.north(y + down), sight.scale * 0.01)
        val closer = sight.closer(chance.nextDouble(0.2, 5.0), x, y, limits)
        assertNear(east, closer.east(x), sight.scale * 0.01)
        assertNear(north, closer.north(y), sight.scale * 0.01)
        assertTrue(closer.scale in limits)
    }

    @Test
    fun `closer and as far back again is where it was`() = each { sight, chance ->
        val (x, y) = chance.nextInt(sight.width).toFloat() to chance.nextInt(sight.height).toFloat()
        val back = sight.closer(2.0, x, y, 1e-9..1e9).closer(0.5, x, y, 1e-9..1e9)
        assertNear(sight.east, back.east, sight.scale * 0.01)
        assertNear(sight.north, back.north, sight.scale * 0.01)
        assertNear(sight.scale, back.scale, sight.scale * 1e-9)
    }

    @Test
    fun `laid about another point it shows the same land`() = each { sight, chance ->
        val point = MapPoint(chance.nextDouble(-1e5, 1e5), chance.nextDouble(-1e5, 1e5))
        val laid = sight.laidAbout(point)
        assertNear(sight.x(point.east).toDouble(), laid.x(0.0).toDouble(), 0.5)
        assertNear(sight.y(point.north).toDouble(), laid.y(0.0).toDouble(), 0.5)
    }

    @Test
    fun `what it reaches is in view to every side, and no more than that to the nearest`() = each { sight, chance ->
        val metres = chance.nextDouble(1.0, 1e5)
        val reaching = Sight.reaching(metres, sight.width, sight.height, limits)
        for (towards in 0 until 8) {
            val (east, north) = Math.cos(towards * Math.PI / 4) * metres * 0.999 to Math.sin(towards * Math.PI / 4) * metres * 0.999
            assertTrue(reaching.holds(MapPoint(east, north)) || reaching.scale == limits.endInclusive)
        }
        assertTrue(reaching.scale in limits)
        if (reaching.scale > limits.start) assertTrue(hypot(reaching.across, reaching.up) >= 2 * metres)
        assertTrue(!reaching.holds(MapPoint(reaching.across, 0.0)) && reaching.holds(MapPoint(reaching.across, 0.0), sight.width.toDouble()))
    }
}
