package trug.phone.everyone

import java.awt.Color
import java.awt.image.BufferedImage
import org.junit.Assert.assertEquals
import org.junit.Assert.assertNotNull
import org.junit.Test

/** The comparison of pictures itself: what it lets pass, and what not. */
class GoldenTest {
    private fun page(draw: (BufferedImage) -> Unit = {}) = BufferedImage(180, 360, BufferedImage.TYPE_INT_RGB).also { image ->
        image.createGraphics().apply {
            color = Color.WHITE
            fillRect(0, 0, image.width, image.height)
            color = Color.BLACK
            for (line in 1..10) drawString("Seven velvet shanks", 8, 20 + 30 * line)
        }
        draw(image)
    }

    @Test
    fun `the same is the same, and an edge may be a shade off`() {
        assertEquals(null, Golden.difference(page(), page()))
        assertEquals(null, Golden.difference(page(), page { image -> for (y in 0 until 360) for (x in 0 until 180) image.setRGB(x, y, shade(image.getRGB(x, y))) }))
    }

    @Test
    fun `another word, another colour, another size are not`() {
        assertNotNull(Golden.difference(page(), page { it.createGraphics().apply { color = Color.BLACK }.drawString("No", 8, 350) }))
        assertNotNull(Golden.difference(page(), page { it.createGraphics().apply { color = Color.LIGHT_GRAY }.fillRect(0, 0, 60, 20) }))
        assertNotNull(Golden.difference(page(), BufferedImage(180, 361, BufferedImage.TYPE_INT_RGB)))
    }

    private fun shade(colour: Int) = Color(colour).run { Color(maxOf(0, red - 8), maxOf(0, green - 8), maxOf(0, blue - 8)).rgb }
}
