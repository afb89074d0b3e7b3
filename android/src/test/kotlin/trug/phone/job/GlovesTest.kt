package trug.phone.job

import android.Manifest.permission.ACCESS_FINE_LOCATION
import org.junit.Assert.assertEquals
import org.junit.Assert.assertFalse
import org.junit.Assert.assertTrue
import org.junit.Test
import org.junit.runner.RunWith
import org.robolectric.RobolectricTestRunner
import org.robolectric.Shadows.shadowOf
import org.robolectric.annotation.Config
import org.robolectric.annotation.GraphicsMode
import trug.phone.app.Phone

/** Wet gloves and quick fingers: what is touched twice is done once, what is typed stays typed, and Undo takes back what was done. */
@RunWith(RobolectricTestRunner::class)
@GraphicsMode(GraphicsMode.Mode.NATIVE)
@Config(sdk = [34, 35], qualifiers = "w360dp-h740dp-xhdpi")
class GlovesTest {
    @Test
    fun `touched twice, a find is begun once and named once`() = Phone().use { phone ->
        phone.tapTwice("Without a photo")
        assertEquals(1, phone.core { it.now(null).finds.size })
        phone.tap("I know it")
        phone.type("velvet sh", "Name, English or Latin")
        phone.tapTwice("Velvet shank")
        assertEquals(1, find(phone).names.size)
    }

    @Test
    fun `touched twice, Undo takes back one thing`() = Phone().use { phone ->
        phone.tap("Without a photo")
        phone.type("7", "Seen")
        phone.type("2", "Taken")
        phone.tapTwice("Undo")
        assertEquals(7u to null, find(phone).fields.run { seenLeast to taken })
    }

    @Test
    fun `Undo takes back what was done, also what was typed just now, and leaves the fix that came by itself`() = Phone().use { phone ->
        allow(phone)
        phone.stand(51.5, -1.0, 30f)
        phone.tap("Without a photo")
        phone.type("7", "Seen")
        phone.stand(51.50005, -1.0, 12f)
        phone.tap("Undo")
        assertEquals(null to 12.0, find(phone).run { fields.seenLeast to place?.accuracyM })
        phone.field("Seen").setText("9")
        phone.tap("Undo")
        assertEquals("", phone.field("Seen").text.toString())
        assertEquals(null, find(phone).fields.seenLeast)
    }

    @Test
    fun `whoever walks on does not take the find along`() = Phone().use { phone ->
        allow(phone)
        phone.stand(51.5, -1.0, 30f)
        phone.tap("Without a photo")
        // What is typed is kept while the page is left, and its answer comes after that.
        phone.field("Seen").setText("7")
        phone.back()
        phone.stand(51.50005, -1.0, 4f)
        assertEquals(7u to 30.0, find(phone).run { fields.seenLeast to place?.accuracyM })
    }

    @Test
    fun `numbers stay as they are typed`() = Phone().use { phone ->
        phone.tap("Without a photo")
        phone.type("35.", "from mm")
        assertEquals("35.", phone.field("from mm").text.toString())
        phone.field("Weight in g").text.append("1250,5")
        phone.settle()
        phone.turn()
        assertEquals("1250.5", phone.field("Weight in g").text.toString())
        assertEquals(listOf(35.0, 1250.5), find(phone).fields.run { listOf(widthMostMm, grams) })
        phone.type("", "from mm")
        phone.type("4", "to mm")
        phone.type("48", "to mm")
        assertEquals(listOf(48.0, 48.0), find(phone).fields.run { listOf(widthLeastMm, widthMostMm) })
    }

    @Test
    fun `what cannot be kept stays in its field, and the advice is that of what is on record`() = Phone().use { phone ->
        phone.tap("Without a photo")
        phone.type("35", "from mm")
        phone.field("Seen").setText("7")
        phone.type("20", "to mm")
        phone.assertReads("That cannot be kept")
        phone.tap("Taken: one more")
        assertEquals("20", phone.field("to mm").text.toString())
        assertEquals(listOf(7u, 1u, 35.0), find(phone).fields.run { listOf(seenLeast, taken, widthMostMm) })
    }

    @Test
    fun `a place that was typed and not set yet is not lost`() = Phone().use { phone ->
        phone.tap("Without a photo")
        phone.tap("Where, No place yet")
        phone.type("SU 387 147", "Grid reference or degrees")
        phone.turn()
        phone.die()
        assertEquals("SU 387 147", phone.field("Grid reference or degrees").text.toString())
        phone.tap("Done")
        phone.assertReads("SU 387 147")
    }

    @Test
    fun `unfit ground touched quickly is all kept`() = Phone().use { phone ->
        phone.tap("Without a photo")
        phone.tap("Growing on, Not noted")
        for (hazard in listOf("roadside", "sprayed")) phone.views().first { it.contentDescription == hazard }.performClick()
        phone.settle()
        assertEquals(setOf("roadside", "sprayed"), find(phone).fields.hazards.toSet())
    }

    @Test
    fun `Back closes a question, not Trug`() = Phone().use { phone ->
        phone.tap("Start an outing")
        phone.back()
        assertFalse(phone.activity.isFinishing)
        phone.assertReads("No outing yet")
        phone.tap("Start an outing")
        phone.tap("The owner said yes")
        assertTrue(phone.canTap("End the outing"))
        phone.back()
        assertTrue(phone.activity.isFinishing)
    }

    private fun allow(phone: Phone) {
        shadowOf(phone.app).grantPermissions(ACCESS_FINE_LOCATION)
        phone.turn()
    }

    private fun find(phone: Phone) = phone.core { book -> book.findPage(book.now(null).finds.first().id) }
}
