package trug.phone.words

import android.graphics.Bitmap
import android.graphics.BitmapFactory
import android.graphics.Canvas
import android.graphics.Color
import java.io.File
import java.util.concurrent.TimeUnit
import kotlin.math.abs
import org.junit.Assert.assertEquals
import org.junit.Assert.assertTrue
import org.junit.Assume.assumeTrue
import org.junit.Test
import org.junit.runner.RunWith
import org.robolectric.RobolectricTestRunner
import org.robolectric.RuntimeEnvironment
import org.robolectric.annotation.Config
import org.robolectric.annotation.GraphicsMode

/** Every figure, drawn by Android, against the same SVG drawn by librsvg. */
@RunWith(RobolectricTestRunner::class)
@GraphicsMode(GraphicsMode.Mode.NATIVE)
@Config(sdk = [34, 35])
class FiguresTest {
    @Test
    fun `every figure is drawn as its SVG is`() {
        assumeTrue("rsvg-convert is not here", System.getenv("TRUG_TOOLS") == "required" || runs("rsvg-convert", "--version"))
        val files = checkNotNull(File(System.getProperty("figures")).listFiles { file -> file.extension == "svg" })
        assertEquals(files.map { it.nameWithoutExtension }.toSet(), Ids.figures.keys)
        val worst = files.associate { it.nameWithoutExtension to distance(android(it.nameWithoutExtension), librsvg(it)) }
        val off = worst.filterValues { it > MOST }
        assertTrue("drawn otherwise: $off", off.isEmpty())
    }

    /** The check itself can fail: figures that differ are told apart. */
    @Test
    fun `figures that differ are far apart`() {
        val names = Ids.figures.keys.sorted()
        val near = names.zipWithNext().filter { (one, other) -> distance(android(one), android(other)) <= MOST }
        assertTrue("drawn alike: $near", near.isEmpty())
    }

    private fun android(figure: String): IntArray {
        val context = RuntimeEnvironment.getApplication().apply { setTheme(android.R.style.Theme_DeviceDefault_Light) }
        val drawable = checkNotNull(context.getDrawable(Ids.figures.getValue(figure))).mutate()
        drawable.setTint(Color.BLACK)
        drawable.setBounds(0, 0, SIDE, SIDE)
        val drawn = Bitmap.createBitmap(SIDE, SIDE, Bitmap.Config.ARGB_8888)
        drawable.draw(Canvas(drawn).apply { drawColor(Color.WHITE) })
        return ink(drawn)
    }

    private fun librsvg(svg: File): IntArray {
        val png = File.createTempFile("figure", ".png")
        val command = arrayOf("rsvg-convert", "-w", "$SIDE", "-h", "$SIDE", "-b", "white", "-o", png.path, svg.path)
        assertTrue("rsvg-convert refuses ${svg.name}", runs(*command))
        return ink(checkNotNull(BitmapFactory.decodeFile(png.path))).also { png.delete() }
    }

    private fun runs(vararg command: String): Boolean = runCatching {
        val process = ProcessBuilder(*command).redirectErrorStream(true).redirectOutput(ProcessBuilder.Redirect.DISCARD).start()
        process.waitFor(SECONDS, TimeUnit.SECONDS) && process.exitValue() == 0
    }.getOrDefault(false)

    /** How dark each pixel is, 0 to 255. */
    private fun ink(drawn: Bitmap): IntArray {
        val pixels = IntArray(SIDE * SIDE)
        drawn.getPixels(pixels, 0, SIDE, 0, 0, SIDE, SIDE)
        return IntArray(pixels.size) { WHITE - Color.green(pixels[it]) }
    }

    /** The ink that only one of two drawings has, as a share of all; edges that are smoothed otherwise are some hundredths. */
    private fun distance(one: IntArray, other: IntArray): Double {
        val differs = one.indices.sumOf { abs(one[it] - other[it]).toLong() }
        return differs.toDouble() / (one.sumOf { it.toLong() } + other.sumOf { it.toLong() })
    }

    private companion object {
        const val SIDE = 192
        const val WHITE = 255
        const val MOST = 0.05
        const val SECONDS = 20L
    }
}
