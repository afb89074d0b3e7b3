package trug.phone.everyone

import android.graphics.Bitmap
import android.graphics.Canvas
import android.view.View
import java.awt.image.BufferedImage
import java.io.File
import javax.imageio.ImageIO
import kotlin.math.abs

/**
 * How a scene looks on each kind of phone, small and side by side, and how it looked when somebody last looked at it:
 * `src/test/golden`. TRUG_GOLDEN=write puts the new pictures there, to be looked at before they are committed.
 */
internal class Golden(private val scene: String) {
    private val pictures = mutableListOf<BufferedImage>()

    /** Draws a window as it is now. */
    fun add(window: View) {
        val drawn = Bitmap.createBitmap(window.width, window.height, Bitmap.Config.ARGB_8888)
        window.draw(Canvas(drawn))
        pictures += small(drawn)
    }

    /** What differs from the pictures that are kept; nothing where they agree. */
    fun difference(): String? {
        val (kept, now) = File(System.getProperty("golden"), "$scene.png") to sheet(pictures)
        if (System.getenv("TRUG_GOLDEN") == "write") {
            kept.parentFile?.mkdirs()
            ImageIO.write(now, "png", kept)
            return null
        }
        val differs = if (kept.exists()) difference(ImageIO.read(kept), now) else "there is none yet"
        if (differs != null) File(System.getProperty("screens"), "golden-$scene.png").also { it.parentFile?.mkdirs() }.let { ImageIO.write(now, "png", it) }
        return differs
    }

    companion object {
        private const val SMALLER = 6
        private const val GAP = 4
        private const val GREY = 0x808080
        private const val BLOCK = 8
        private const val SHADE = 17

        /** How far the colours of a block may be off on average, of 255, and how many blocks may be further off. */
        private const val OFF = 14
        private const val FEW = 1

        /** Each pixel the mean of those that it stands for. */
        private fun small(drawn: Bitmap): BufferedImage {
            val (wide, high) = drawn.width / SMALLER to drawn.height / SMALLER
            val pixels = IntArray(drawn.width * drawn.height).also { drawn.getPixels(it, 0, drawn.width, 0, 0, drawn.width, drawn.height) }
            val small = BufferedImage(wide, high, BufferedImage.TYPE_INT_RGB)
            for (y in 0 until high) for (x in 0 until wide) small.setRGB(x, y, mean(pixels, drawn.width, x * SMALLER, y * SMALLER))
            return small
        }

        private fun mean(pixels: IntArray, width: Int, left: Int, top: Int): Int {
            var (red, green, blue) = Triple(0, 0, 0)
            for (y in top until top + SMALLER) {
                for (x in left until left + SMALLER) {
                    val pixel = pixels[y * width + x]
                    red += pixel shr 16 and 255
                    green += pixel shr 8 and 255
                    blue += pixel and 255
                }
            }
            return (shade(red) shl 16) or (shade(green) shl 8) or shade(blue)
        }

        /** Sixteen shades are enough to see by, and a third of the size. */
        private fun shade(sum: Int) = sum / (SMALLER * SMALLER) / SHADE * SHADE

        private fun far(one: Int, other: Int): Int {
            val (red, green) = abs((one shr 16 and 255) - (other shr 16 and 255)) to abs((one shr 8 and 255) - (other shr 8 and 255))
            return maxOf(red, green, abs((one and 255) - (other and 255)))
        }

        private fun sheet(pictures: List<BufferedImage>): BufferedImage {
            val sheet = BufferedImage(pictures.sumOf { it.width + GAP }, pictures.maxOf { it.height }, BufferedImage.TYPE_INT_RGB)
            val pen = sheet.createGraphics().apply { color = java.awt.Color(GREY) }
            pen.fillRect(0, 0, sheet.width, sheet.height)
            pictures.fold(0) { left, picture -> pen.drawImage(picture, left, 0, null).let { left + picture.width + GAP } }
            return sheet.also { pen.dispose() }
        }

        /** Compares block by block: what one pixel of a letter's edge may do, a word may not. */
        fun difference(kept: BufferedImage, now: BufferedImage): String? {
            if (kept.width != now.width || kept.height != now.height) return "it is ${now.width}×${now.height}, not ${kept.width}×${kept.height}"
            val off = (0 until now.height step BLOCK).flatMap { y -> (0 until now.width step BLOCK).map { x -> x to y } }
                .filter { (x, y) -> off(kept, now, x, y) > OFF }
            return if (off.size <= FEW) null else "${off.size} places differ, the first at ${off.first()}"
        }

        private fun off(kept: BufferedImage, now: BufferedImage, left: Int, top: Int): Int {
            var (sum, count) = 0 to 0
            for (y in top until minOf(top + BLOCK, now.height)) {
                for (x in left until minOf(left + BLOCK, now.width)) {
                    sum += far(kept.getRGB(x, y), now.getRGB(x, y))
                    count++
                }
            }
            return sum / count
        }
    }
}
