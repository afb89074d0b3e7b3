package trug.phone.page.settings

import android.content.Intent
import android.view.View
import android.widget.TextView
import java.io.File
import org.junit.Assert.assertEquals
import org.junit.Assert.assertFalse
import org.junit.Assert.assertTrue
import org.junit.Test
import org.junit.runner.RunWith
import org.robolectric.RobolectricTestRunner
import org.robolectric.RuntimeEnvironment
import org.robolectric.Shadows.shadowOf
import org.robolectric.annotation.Config
import org.robolectric.annotation.GraphicsMode
import trug.phone.R
import trug.phone.app.Fit
import trug.phone.app.Look
import trug.phone.app.Phone
import trug.phone.job.Elsewhere

/** What is set is set at once, outlives the process, and does what it says. */
@RunWith(RobolectricTestRunner::class)
@GraphicsMode(GraphicsMode.Mode.NATIVE)
@Config(sdk = [34, 35], qualifiers = "en-rGB-w360dp-h740dp-xhdpi")
class SettingsTest {
    private fun Phone.open(vararg leaves: String) {
        tap("Settings")
        leaves.forEach(::tap)
    }

    private fun Phone.badMoment() {
        turn()
        die()
    }

    private val Phone.scale get() = activity.resources.configuration.fontScale

    @Test
    fun `red for night is one touch from the first page, and one back to the look before`() = Phone(Look.DARK).use { phone ->
        phone.tap("Red for night")
        assertEquals(Look.RED, phone.activity.look)
        phone.badMoment()
        assertEquals(Look.RED, phone.activity.look)
        phone.tap("No longer red")
        assertEquals(Look.DARK, phone.activity.look)
    }

    @Test
    fun `every look is chosen in the settings, and seen at once`() = Phone().use { phone ->
        phone.open("Look, size and hand")
        for (look in listOf(Look.DARK, Look.RED, Look.PHONE, Look.LIGHT)) {
            phone.tap(phone.activity.getString(look.words))
            assertEquals(look, phone.activity.look)
            phone.badMoment()
            assertEquals(look, phone.activity.look)
            phone.assertTouchable()
        }
        phone.tap("Done")
        phone.assertReads("What you go by")
    }

    @Test
    fun `type grows on top of the phone’s own size, to twice and no further`() {
        RuntimeEnvironment.setFontScale(1.3f)
        Phone().use { phone ->
            phone.open("Look, size and hand")
            phone.tap("125 %")
            assertEquals(1.625f, phone.scale, 0.001f)
            phone.badMoment()
            assertEquals(1.625f, phone.scale, 0.001f)
            val words = phone.views().filterIsInstance<TextView>().first { it.text == "Size of type" }
            phone.tap("200 %")
            assertEquals("together no more than pages have room for", 2f, phone.scale, 0.001f)
            assertTrue(phone.views().filterIsInstance<TextView>().first { it.text == "Size of type" }.textSize > words.textSize)
            phone.tap("100 %")
            assertEquals(1.3f, phone.scale, 0.001f)
        }
    }

    @Test
    fun `somebody whose phone is set larger still keeps that`() {
        RuntimeEnvironment.setFontScale(2.4f)
        Phone().use { phone ->
            phone.open("Look, size and hand")
            phone.tap("150 %")
            assertEquals(2.4f, phone.scale, 0.001f)
        }
    }

    private fun Phone.left(words: String): Int {
        val view = views().first { it.isShown && it.isClickable && ((it as? TextView)?.text == words || it.contentDescription == words) }
        return IntArray(2).also(view::getLocationInWindow)[0]
    }

    @Test
    @Config(qualifiers = "en-rGB-w740dp-h360dp-land-xhdpi")
    fun `on its side, what the thumb reaches for stands on the side of its hand`() = Phone().use { phone ->
        val middle = phone.activity.window.decorView.width / 2
        assertTrue(phone.left("Photograph a find") > middle)
        phone.open("Look, size and hand")
        phone.tap("Left")
        phone.badMoment()
        phone.draw("93-left-handed-land")
        phone.back()
        phone.back()
        assertTrue(phone.left("Photograph a find") < middle)
        phone.tap("Without a photo")
        assertTrue("a left thumb counts at the left", phone.left("Seen: one fewer") < middle)
        phone.draw("94-left-handed-find")
    }

    @Test
    fun `in the hand, a left thumb has what a right one has at the end at the start`() = Phone().use { phone ->
        phone.tap("Without a photo")
        val middle = phone.activity.window.decorView.width / 2
        val (right, undo) = phone.left("Seen: one more") to phone.left("Undo")
        assertTrue(right > middle && undo < middle)
        Fit(phone.activity).leftHanded = true
        phone.badMoment()
        assertTrue(phone.left("Seen: one more") < middle)
        assertTrue(phone.left("Undo") > phone.left("Work it out"))
    }

    @Test
    fun `codes are read, left out and taken up, and advice goes by them`() = Phone().use { phone ->
        phone.open("Codes of gathering")
        phone.assertReads("You have not chosen")
        phone.assertTouchable()
        phone.tapWhat("Pickers")
        phone.assertReads("check locally")
        phone.assertReads("Take no more than half")
        phone.badMoment()
        phone.tap("Leave this out")
        assertTrue(phone.canTap("Gather under this"))
        phone.badMoment()
        phone.back()
        phone.assertReads("You have chosen these yourself.")
        assertFalse(phone.core { it.codes() }.codes.single { it.id == "pickers-1998" }.inForce)
        phone.tapWhat("Castilla")
        phone.tap("Gather under this")
        assertTrue(phone.core { it.codes() }.codes.single { it.id == "castilla-y-leon" }.inForce)
        phone.back()
        phone.tap("Back to those for Britain")
        phone.assertReads("You have not chosen")
        assertTrue(phone.core { it.codes() }.codes.single { it.id == "pickers-1998" }.inForce)
    }

    @Test
    fun `a rule is made by its form, whatever dies meanwhile, and taken back`() = Phone().use { phone ->
        phone.open("Rules of your own", "A new rule")
        phone.tap("None smaller than …")
        phone.badMoment()
        phone.type("25", "Millimetres across")
        phone.badMoment()
        phone.type("velvet", "Name, English or Latin")
        phone.badMoment()
        phone.tapWhat("Velvet shank")
        phone.badMoment()
        phone.assertTouchable()
        phone.draw("95-new-rule")
        phone.tapTwice("Keep this rule")
        phone.assertReads("Velvet shank: none below 25 mm across.")
        phone.badMoment()
        assertEquals(1, phone.core { it.house() }.rules.size)
        phone.tap("Velvet shank: none below 25 mm across.")
        phone.badMoment()
        phone.tap("Take this rule back")
        assertTrue(phone.core { it.house() }.rules.isEmpty())
        phone.assertReads("None yet")
    }

    @Test
    fun `every kind of rule has its form, and what makes no sense is said`() = Phone().use { phone ->
        phone.open("Rules of your own")
        for ((kind, fill, words) in listOf<Triple<String, () -> Unit, String>>(
            Triple("Leave where there are fewer than …", { phone.type("6", "How many") }, "None where fewer than 6 are present."),
            Triple("At least … stay", { phone.type("3", "How many") }, "At least 3 stay."),
            Triple("At most a share", { phone.tap("A third") }, "At most a third of those present."),
            Triple("No more than …", {
                phone.type("5", "How many")
                phone.tap("A season")
                phone.tap("Each species")
            }, "No more than 5 of one species a season."),
            Triple("No more grams than …", {
                phone.type("750,5", "Grams")
                phone.tap("A visit")
            }, "No more than 750.5 g a visit."),
            Triple("A patch rests", { phone.type("14", "Days") }, "A patch rests 14 days after a taking."),
            Triple("Never one fungus", {
                phone.type("jelly", "Name, English or Latin")
                phone.tapWhat("Jelly ear")
            }, "Jelly ear: never taken."),
        )) {
            phone.tap("A new rule")
            phone.tap(kind)
            phone.tap("Keep this rule")
            phone.assertReads("That cannot be kept")
            fill()
            phone.tap("Keep this rule")
            phone.assertReads(words)
        }
    }

    @Test
    fun `an area comes from a file, and a file that draws none is said so`() = Phone().use { phone ->
        val file = Elsewhere(phone, "area.geojson")
        phone.open("Areas")
        for ((text, words) in listOf("no json" to "That file cannot be read", "[]" to "holds no GeoJSON")) {
            file.bytes = text.toByteArray()
            phone.tap("From a file (GeoJSON)")
            phone.pick(file.uri)
            phone.assertReads(words)
        }
        file.bytes = AREA.toByteArray()
        phone.tap("From a file (GeoJSON)")
        phone.badMoment()
        phone.result(PICKED, data = Intent().setData(file.uri))
        phone.assertReads("The file holds one outline.")
        assertEquals("Lidgate Hanger", phone.field("Name").text.toString())
        phone.type("", "Name")
        phone.tap("Keep this area")
        phone.assertReads("Give it a name")
        phone.type("The Hanger", "Name")
        phone.badMoment()
        phone.type("R. says so", "Who says so, until when")
        phone.assertTouchable()
        phone.tap("Keep this area")
        phone.assertReads("The Hanger")
        phone.badMoment()
        assertFalse(File(phone.app.filesDir, "arriving/area.geojson").exists())
        phone.tapWhat("The Hanger")
        phone.assertReads("R. says so")
        phone.assertReads("Closed: nothing is gathered there")
        phone.tap("Remove this area")
        phone.assertReads("None yet")
        assertTrue(phone.core { it.areas() }.isEmpty())
    }

    @Test
    fun `the key errs more when told so, on every phone of the notebook`() = Phone().use { phone ->
        phone.open("How often eyes err")
        phone.assertReads("15 % is the least")
        assertFalse(phone.canTap("10 % of answers"))
        phone.tap("40 % of answers")
        phone.badMoment()
        assertEquals(40u, phone.core { it.settings() }.observerPercent)
        phone.tap("Done")
        phone.assertReads("40 % of answers")
    }

    @Test
    fun `the own key is passed on as text`() = Phone().use { phone ->
        phone.open("This notebook’s key")
        val key = phone.core { it.ownKey() }
        listOf(key.line, key.fingerprint, key.age).forEach(phone::assertReads)
        phone.assertTouchable()
        phone.tap("Pass the key on")
        val chooser = shadowOf(phone.activity).nextStartedActivity
        @Suppress("DEPRECATION")
        val sent: Intent? = chooser?.getParcelableExtra(Intent.EXTRA_INTENT)
        assertEquals(Intent.ACTION_SEND to key.line, sent?.action to sent?.getStringExtra(Intent.EXTRA_TEXT))
    }

    @Test
    fun `sources and licences are there, offline and without a notebook`() {
        RuntimeEnvironment.getApplication().filesDir.resolve("notebook").apply { parentFile?.mkdirs() }.writeText("no folder")
        Phone().use { phone ->
            phone.settle()
            phone.activity.go(trug.phone.app.Stop(trug.phone.app.Place.SETTINGS))
            phone.settle()
            phone.assertReads("Cannot be read now")
            phone.assertTouchable()
            phone.tap("Where it comes from")
            phone.assertReads("For: ")
            phone.back()
            phone.tap("Licences")
            phone.tap("Apache-2.0")
            phone.assertReads("kotlin-stdlib")
            phone.assertReads("TERMS AND CONDITIONS")
            phone.back()
            phone.badMoment()
            phone.tapWhat("Public domain")
            phone.assertReads("May you do good and not evil.")
        }
    }

    @Test
    fun `every leaf can be left and come back to`() = Phone().use { phone ->
        phone.open()
        val leaves = phone.views().filter { it.isShown && it.isClickable && it.contentDescription != null }.map(View::getContentDescription).map(CharSequence::toString)
        assertTrue("$leaves", leaves.size >= 10)
        for (leaf in leaves) {
            phone.tap(leaf)
            assertFalse(leaf, phone.activity.getString(checkNotNull(phone.activity.page).title) == phone.activity.getString(R.string.settings_title))
            phone.badMoment()
            phone.assertTouchable()
            phone.back()
            phone.assertReads("About Trug")
        }
    }

    private companion object {
        const val PICKED = 31

        /** RFC 7946, 3.1.6: a closed ring. The place is nobody's. */
        const val AREA = """{"type": "Feature", "properties": {"name": "Lidgate Hanger"}, "geometry": {"type": "Polygon",
            "coordinates": [[[-1.51, 51.49], [-1.49, 51.49], [-1.49, 51.51], [-1.51, 51.51], [-1.51, 51.49]]]}}"""
    }
}
