package trug.phone.page.map

import android.graphics.RectF
import java.util.Random
import org.junit.Assert.assertEquals
import org.junit.Assert.assertNull
import org.junit.Assert.assertTrue
import org.junit.Test
import org.junit.runner.RunWith
import org.robolectric.RobolectricTestRunner
import org.robolectric.annotation.Config

/** Names on a map stand clear of each other and are not cut off, however crowded it is. */
@RunWith(RobolectricTestRunner::class)
@Config(sdk = [34])
class RoomTest {
    @Test
    fun `whatever is printed, nothing is printed over it and nothing is cut off`() {
        val chance = Random(2026)
        repeat(50) {
            val (width, height) = 300f + chance.nextInt(500) to 300f + chance.nextInt(900)
            val room = Room(width, height)
            val placed = (1..200).mapNotNull {
                val (x, y) = chance.nextFloat() * width to chance.nextFloat() * height
                val (wide, high) = 20f + chance.nextInt(200) to 15f + chance.nextInt(20)
                when (it % 3) {
                    0 -> room.on(x, y, wide, high)
                    1 -> room.beside(x, y, 10f, wide, high)
                    else -> room.near(x, y, wide, high)
                }
            }
            assertTrue("only ${placed.size} had room", placed.size > 5)
            for ((at, one) in placed.withIndex()) {
                assertTrue("$one is cut off", one.left >= 0 && one.top >= 0 && one.right <= width && one.bottom <= height)
                for (other in placed.drop(at + 1)) assertTrue("$one / $other", !RectF.intersects(one, other))
            }
        }
    }

    @Test
    fun `a name gives way to what is there, and is left out where there is no way`() {
        val room = Room(400f, 400f)
        assertEquals(RectF(150f, 170f, 250f, 190f), room.beside(200f, 200f, 10f, 100f, 20f))
        assertEquals(RectF(150f, 210f, 250f, 230f), room.beside(200f, 200f, 10f, 100f, 20f))
        assertEquals(RectF(210f, 190f, 310f, 210f), room.beside(200f, 200f, 10f, 100f, 20f))
        assertEquals(RectF(90f, 190f, 190f, 210f), room.beside(200f, 200f, 10f, 100f, 20f))
        assertNull(room.beside(200f, 200f, 10f, 100f, 20f))
        assertEquals("pushed in from the edge", RectF(0f, 40f, 100f, 60f), room.near(5f, 50f, 100f, 20f))
        assertNull("wider than the map", room.near(200f, 300f, 500f, 20f))
    }
}
