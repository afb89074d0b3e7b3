package trug.phone.everyone

import java.io.File
import org.junit.Assert.assertEquals
import org.junit.Assert.assertTrue
import org.junit.Test
import org.junit.runner.RunWith
import org.robolectric.ParameterizedRobolectricTestRunner
import org.robolectric.ParameterizedRobolectricTestRunner.Parameters
import org.robolectric.annotation.Config
import org.robolectric.annotation.GraphicsMode
import trug.phone.app.Look
import trug.phone.page.work.Wood

/** Every page in every state, on every kind of phone: nothing keeps anybody from it. */
@RunWith(ParameterizedRobolectricTestRunner::class)
@GraphicsMode(GraphicsMode.Mode.NATIVE)
@Config(sdk = [34], qualifiers = "en-rGB-w360dp-h740dp-xhdpi")
internal class EveryoneTest(private val scene: Scene) {
    @Test
    fun `nothing keeps anybody from it`() = Wood(begun = false, at = MORNING).use { phone ->
        scene.play(phone)
        var nodes = 0
        val found = Variant.all.flatMap { variant ->
            variant.apply()
            Look.choose(phone.app, variant.look)
            phone.turn(FRAMES)
            val inspection = Inspection(phone.activity.window.decorView)
            nodes += inspection.nodes
            inspection.findings().map { "${variant.name}: $it" }
        }
        note("${scene.name}: $nodes nodes, ${found.size} findings\n" + found.joinToString("") { "    $it\n" })
        assertTrue("nothing was looked at", nodes > 0)
        assertEquals("", found.joinToString("\n"))
    }

    private fun note(line: String) = System.getProperty("everyone")?.let { File(it).apply { parentFile?.mkdirs() }.appendText(line) }

    companion object {
        /** Milliseconds: some frames, in which all is laid out. */
        private const val FRAMES = 64L

        /** 18 October 2026, half past ten in the morning of a British autumn. */
        private const val MORNING = 1_792_315_800_000

        @JvmStatic
        @Parameters(name = "{0}")
        fun scenes(): List<Array<Any>> = Scenes.all.map { arrayOf(it) }
    }
}
