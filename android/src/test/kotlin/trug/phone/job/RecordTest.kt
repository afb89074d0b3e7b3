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

/** A find is recorded, from the shutter to the advice, through the screens and against the real core. */
@RunWith(RobolectricTestRunner::class)
@GraphicsMode(GraphicsMode.Mode.NATIVE)
@Config(sdk = [34, 35], qualifiers = "w360dp-h740dp-xhdpi")
class RecordTest {
    @Test
    fun `a find that is known is recorded in at most eight touches`() = Phone().use { phone ->
        begin(phone)
        val before = phone.touches
        name(phone, "Velvet shank")
        phone.type("7", "Seen")
        phone.type("35", "from mm")
        phone.tap("cap opened out")
        val touches = phone.touches - before
        phone.draw("21-find-on-sight")
        phone.assertTouchable()
        assertTrue("it took $touches touches", touches <= 8)
        phone.assertReads("no more than 3 of these 7; leave 4")
        val find = find(phone)
        assertEquals(listOf("whole"), find.photos.map { it.role })
        assertEquals(listOf("velvet-shank", 7u, 35.0), listOf(find.name.name?.id, find.fields.seenLeast, find.fields.widthLeastMm))
        assertEquals("a name on sight leaves its look-alikes to be checked", true, find.advice.checks.isNotEmpty())
    }

    @Test
    fun `what is too small is left`() = Phone().use { phone ->
        begin(phone)
        name(phone, "Velvet shank")
        phone.type("7", "Seen")
        phone.type("15", "from mm")
        phone.draw("22-too-small")
        phone.assertReads("Leave these.")
        phone.assertReads("15 mm")
        phone.tapWhat("Show why.")
        phone.assertTouchable()
        phone.draw("23-why")
        assertTrue(phone.texts().toString(), phone.texts().any { it.contains("20 mm") })
    }

    @Test
    fun `what is past it is left`() = Phone().use { phone ->
        begin(phone)
        name(phone, "Shaggy inkcap")
        phone.type("5", "Seen")
        val sign = find(phone).signs.first { "inky" in it.words || "ink" in it.words }
        phone.tap(sign.words)
        phone.draw("24-past")
        phone.assertReads("Leave these")
        assertEquals("past", find(phone).condition?.stage)
    }

    @Test
    fun `from a patch that rests nothing is taken`() = Phone().use { phone ->
        allow(phone)
        begin(phone)
        name(phone, "Jelly ear")
        phone.type("12", "Seen")
        phone.tap("Found a patch here")
        val patch = checkNotNull(find(phone).patch).id
        phone.core { it.restPatch(patch, 14u) }
        phone.turn()
        phone.draw("25-resting")
        phone.assertReads("Leave these")
        assertTrue(find(phone).advice.reasons.toString(), find(phone).advice.reasons.any { "rest" in it.words })
        phone.back()
        phone.stand(51.5, -1.0, 8f)
        phone.assertReads("Rests until")
        phone.draw("26-today-with-patch")
    }

    @Test
    fun `the process dies, and the phone is turned, at every step, and nothing is lost`() = Phone().use { phone ->
        begin(phone)
        hurt(phone)
        phone.tap("I know it")
        phone.type("velvet sh", "Name, English or Latin")
        hurt(phone)
        phone.tap("Velvet shank")
        hurt(phone)
        phone.type("7", "Seen")
        hurt(phone)
        phone.tap("Seen: one more")
        hurt(phone)
        assertEquals(8u, find(phone).fields.seenLeast)
        phone.type("35", "from mm")
        phone.type("48", "to mm")
        hurt(phone)
        phone.tap("Taken: one more")
        phone.tap("Taken: one more")
        hurt(phone)
        phone.tap("Growing on, Not noted")
        hurt(phone)
        phone.tap("fallen trunk")
        phone.type("elder", "Tree")
        phone.tap("a guess")
        hurt(phone)
        phone.draw("27-grows")
        phone.assertTouchable()
        phone.back()
        phone.tap("Write a note".let { "Note, $it" })
        phone.type("by the gate", "Write a note")
        hurt(phone)
        phone.draw("28-note")
        val fields = find(phone).fields
        assertEquals(listOf(8u, 35.0, 48.0, 2u), fields.run { listOf(seenLeast, widthLeastMm, widthMostMm, taken) })
        assertEquals(listOf("fallen-trunk", "elder", "guess", "by the gate"), fields.run { listOf(on, host, hostSure, note) })
        phone.pullBattery()
        phone.assertReads("Velvet shank")
    }

    @Test
    fun `what cannot be kept is said, and what was there stays`() = Phone().use { phone ->
        begin(phone)
        phone.type("35", "from mm")
        phone.type("20", "to mm")
        phone.assertReads("That cannot be kept")
        assertEquals(35.0, find(phone).fields.widthMostMm)
        phone.type("50", "to mm")
        assertFalse(phone.reads("That cannot be kept"))
        assertEquals(50.0, find(phone).fields.widthMostMm)
    }

    @Test
    fun `every touch can be undone, to the last`() = Phone().use { phone ->
        begin(phone)
        name(phone, "Velvet shank")
        phone.type("7", "Seen")
        phone.tap("Delete this find")
        phone.assertReads("marked as deleted")
        phone.tap("Undo")
        assertFalse(phone.reads("marked as deleted"))
        phone.tap("Undo")
        assertEquals(null, find(phone).fields.seenLeast)
        phone.tap("Undo")
        phone.assertReads("No name yet")
    }

    @Test
    fun `a find without a photo, on an outing, with its basket`() = Phone().use { phone ->
        phone.draw("29-today-empty")
        phone.assertTouchable()
        phone.tap("Start an outing")
        phone.type("Harrow Shaw")
        hurt(phone)
        phone.draw("30-may-i-pick")
        phone.assertTouchable()
        phone.tap("The owner said yes")
        phone.assertReads("Harrow Shaw")
        phone.tap("Without a photo")
        name(phone, "Velvet shank")
        phone.type("9", "Seen")
        phone.type("4", "Taken")
        phone.type("62,5", "Weight in g")
        assertEquals(62.5, find(phone).fields.grams)
        phone.back()
        phone.draw("31-today-basket")
        phone.assertReads("4, 62 g")
        phone.tap("End the outing")
        phone.assertReads("No outing yet")
    }

    private fun hurt(phone: Phone) {
        val read = phone.texts()
        phone.die()
        assertEquals(read, phone.texts())
        phone.turn()
        assertEquals(read, phone.texts())
    }

    private fun allow(phone: Phone) {
        shadowOf(phone.app).grantPermissions(ACCESS_FINE_LOCATION)
        phone.turn()
        phone.stand(51.5, -1.0, 8f)
    }

    /** A photo is taken, and its find is open. */
    private fun begin(phone: Phone) {
        phone.tap("Photograph a find")
        phone.shoot(shot())
    }

    private fun name(phone: Phone, name: String) {
        phone.tap("I know it")
        phone.type(name.dropLast(2), "Name, English or Latin")
        phone.tap(name)
    }

    private fun find(phone: Phone) = phone.core { book -> book.findPage(book.now(null).finds.first().id) }
}
