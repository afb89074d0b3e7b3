package trug.phone.job

import android.graphics.Color
import java.io.File
import java.util.concurrent.CountDownLatch
import org.junit.Assert.assertEquals
import org.junit.Assert.assertThrows
import org.junit.Assert.assertTrue
import org.junit.Test
import org.junit.runner.RunWith
import org.robolectric.RobolectricTestRunner
import org.robolectric.RuntimeEnvironment
import org.robolectric.annotation.Config
import org.robolectric.annotation.GraphicsMode
import trug.core.choices
import trug.phone.app.App
import trug.phone.app.Look
import trug.phone.app.Phone
import trug.phone.words.Ids

/** The notebook behind the pages: off the thread that draws, and said in words where it will not open. */
@RunWith(RobolectricTestRunner::class)
@GraphicsMode(GraphicsMode.Mode.NATIVE)
@Config(sdk = [34, 35], qualifiers = "w360dp-h740dp-xhdpi")
class NotebookTest {
    @Test
    fun `the core is not to be called on the thread that draws`() = Phone().use { phone ->
        var held: trug.core.Book? = null
        phone.core { held = it }
        val error = assertThrows(IllegalStateException::class.java) { held?.now(null) }
        assertEquals("the core was called on the thread that draws", error.message)
        assertThrows(IllegalStateException::class.java) { choices() }
        assertTrue(phone.core { it.now(null) }.finds.isEmpty())
    }

    @Test
    fun `the first page is drawn while the notebook is still being opened`() {
        val opened = CountDownLatch(1)
        val core = (RuntimeEnvironment.getApplication() as App).core
        core.make({ opened.await() }) {}
        Phone(settled = false).use { phone ->
            phone.assertReads("One moment")
            assertTrue("there is no need to wait with a photo", phone.canTap("Photograph a find"))
            opened.countDown()
            phone.settle()
            phone.assertReads("No outing yet")
        }
    }

    @Test
    fun `a notebook that will not open is said so, and is tried again`() = Phone().use { phone ->
        val folder = File(phone.app.filesDir, "notebook")
        val aside = File(phone.app.filesDir, "aside")
        phone.die {
            folder.renameTo(aside)
            folder.writeText("in the way")
        }
        phone.draw("61-will-not-open")
        phone.assertReads("Try again")
        phone.assertTouchable()
        folder.delete()
        aside.renameTo(folder)
        phone.tap("Try again")
        phone.assertReads("No outing yet")
    }

    @Test
    fun `every word of the core’s has a name`() = Phone().use { phone ->
        val named = phone.core { choices() }.filter { it.field in Ids.choices }
        assertTrue(named.map { it.field }.containsAll(listOf("on", "ground", "growth", "hazards", "how", "role", "may-pick", "outcome")))
        for (list in named) assertEquals(list.field, list.words.toSet(), Ids.choices.getValue(list.field).keys)
    }

    @Test
    fun `at rest in the background, and awake again`() = Phone().use { phone ->
        phone.tap("Without a photo")
        phone.type("7", "Seen")
        phone.app.core.rest()
        phone.tap("Seen: one more")
        assertEquals(8u, phone.core { book -> book.findPage(book.now(null).finds.single().id) }.fields.seenLeast)
    }

    /** WCAG 2.1, 1.4.3: at least 4.5 to 1, by its formula of relative luminance. */
    @Test
    fun `in each look everything can be read`() {
        for (look in Look.entries) {
            Phone(look).use { phone ->
                val ink = phone.activity.ink
                for (colour in listOf(ink.text, ink.quiet, ink.touch)) {
                    val contrast = (maxOf(light(colour), light(ink.paper)) + 0.05) / (minOf(light(colour), light(ink.paper)) + 0.05)
                    assertTrue("$look: ${Integer.toHexString(colour)} has $contrast", contrast >= 4.5)
                }
                phone.draw("62-today-${look.name.lowercase()}")
                phone.tap("Without a photo")
                phone.draw("63-find-${look.name.lowercase()}")
            }
        }
    }

    private fun light(colour: Int): Double = Color.luminance(colour).toDouble()

    @Test
    fun `a look is chosen, and stays`() = Phone().use { phone ->
        phone.tap("Red for night")
        assertEquals(Look.RED, phone.activity.look)
        phone.die()
        assertEquals(Look.RED, phone.activity.look)
    }
}
