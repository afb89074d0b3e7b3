package trug.phone.page.ill

import android.content.Intent
import android.telephony.TelephonyManager
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
import trug.core.Fix
import trug.core.IllPage
import trug.core.PatchNoted
import trug.core.helpPage
import trug.phone.app.Look
import trug.phone.app.Phone
import trug.phone.app.Place
import trug.phone.app.Stop
import trug.phone.words.Help

/** The bad day, through the page, over the real core; and without it. People and meals are invented. */
@RunWith(RobolectricTestRunner::class)
@GraphicsMode(GraphicsMode.Mode.NATIVE)
@Config(sdk = [34, 35], qualifiers = "en-rGB-w360dp-h740dp-xhdpi")
class IllTest {
    private val Phone.read: IllPage get() = core { it.ill() }

    private fun Phone.open() = tap("Someone is ill")

    private fun Phone.dialled(): String? = shadowOf(activity).nextStartedActivity?.takeIf { it.action == Intent.ACTION_DIAL }?.dataString

    @Test
    fun `what stands here without the library is what the core says`() = Phone().use { phone ->
        for (code in listOf(null, "GB", "gb-nir", "GB-XYZ", "FR", "XX", "")) {
            assertEquals(code, phone.core { helpPage(code) }, Help.page(code))
        }
    }

    @Test
    fun `it opens on the first words, in one step from every page, and back again`() = Phone().use { phone ->
        val find = phone.core { it.beginFind(null, "whole", null).id }
        val patch = phone.core { it.addPatch(PatchNoted("Crooked elder", null, null, Fix(51.5, -1.5, 8.0), null)) }
        val about = mapOf(Place.PATCH to patch, Place.WAY to patch, Place.KIND to "velvet-shank")
        for (place in Place.entries.filter { it != Place.ILL }) {
            phone.activity.go(Stop(place, find, about = about[place]))
            phone.settle()
            val before = phone.activity.page?.title
            phone.open()
            assertEquals(listOf("Get help now", "Do not wait for symptoms. Feeling better is not recovery."), phone.texts().take(2))
            phone.assertReads("No clinician has reviewed this page yet")
            phone.assertTouchable()
            assertFalse("it leads to itself", phone.canTap("Someone is ill"))
            phone.back()
            assertEquals(before, phone.activity.page?.title)
        }
    }

    @Test
    fun `it helps when the notebook will not open`() {
        RuntimeEnvironment.getApplication().filesDir.resolve("notebook").apply { parentFile?.mkdirs() }.writeText("no folder")
        Phone().use { phone ->
            phone.open()
            assertEquals("Get help now", phone.texts().first())
            phone.assertReads("The notebook cannot be read now. Everything above holds without it.")
            phone.tap("Ring 999")
            assertEquals("tel:999", phone.dialled())
            phone.draw("ill-00-no-notebook")
            phone.tap("For the doctor")
            phone.assertReads("Try again")
            phone.back()
            phone.tap("Note a meal")
            phone.assertReads("Try again")
        }
    }

    @Test
    fun `whom to ring is told for the country that the phone stands in, or another`() = Phone().use { phone ->
        val network = shadowOf(phone.app.getSystemService(TelephonyManager::class.java))
        phone.open()
        phone.draw("ill-01-help")
        phone.tap("Ring 999")
        assertEquals("tel:999", phone.dialled())
        // Northern Ireland has no 111, and a phone there says no more than GB (nidirect).
        assertFalse(phone.canTap("Ring 111"))
        phone.tap("Another country")
        phone.draw("ill-02-countries")
        phone.assertTouchable()
        phone.tap("Denmark")
        // sundhed.dk: Giftlinjen 82 12 12 12; the emergency number is from memory, and says so.
        phone.tap("Ring 82 12 12 12")
        assertEquals("tel:82121212", phone.dialled())
        phone.assertReads("From memory: not yet checked.")
        phone.assertReads("82 12 12 12: sundhed.dk")
        phone.turn()
        phone.assertReads("Denmark")
        phone.back()
        network.setNetworkCountryIso("fr")
        phone.open()
        // centres-antipoison.net: SAMU 15.
        phone.assertReads("France")
        phone.tap("Ring 15")
        assertEquals("tel:15", phone.dialled())
        phone.back()
        network.setNetworkCountryIso("xx")
        phone.open()
        phone.tap("Choose the country you are in")
        phone.assertReads("Ring the emergency number of the country you are in.")
    }

    @Test
    fun `every line tells where it comes from`() = Phone().use { phone ->
        phone.open()
        phone.assertReads("999: NHS, \"Poisoning\", as republished by Richmond GP Alliance (Health A-Z), undated. Read 25 Nov 2026.")
        phone.tap("Where the words come from")
        phone.draw("ill-03-sources")
        for (line in Help.page("GB").sections.flatMap { it.lines }) phone.assertReads(line.words)
        phone.assertReads("BfR (Germany), press release 37/2016. Read ")
    }

    @Test
    fun `a meal is kept from its first words on, and the process may die at every step`() = Phone().use { phone ->
        val find = phone.core { book ->
            val begun = book.beginFind(null, "whole", null)
            book.nameFind(begun.id, "velvet-shank", "sight", null, null).id
        }
        phone.open()
        phone.tap("Note a meal")
        phone.draw("ill-04-meal")
        phone.assertReads("Kept as soon as it says what was eaten.")
        assertFalse("nothing else is asked before it is known what", phone.reads("Who ate"))
        phone.type("Toast with a tuft from Harrow Shaw", "What was eaten, in your words")
        assertEquals("Toast with a tuft from Harrow Shaw", phone.read.meals.single().what)
        phone.die()
        phone.tap(phone.texts().first { it == "Velvet shank" })
        assertEquals(listOf(find), phone.read.meals.single().finds.map { it.id })
        phone.die()
        phone.tap("Just now")
        phone.tap("Cooked")
        phone.die()
        phone.type("Ada", "Name or initials")
        phone.tap("Add")
        phone.type("R.", "Name or initials")
        phone.tap("Add")
        phone.die()
        phone.tap("Ill")
        phone.type("Vomiting", "What signs, in the order they came")
        phone.assertTouchable()
        phone.draw("ill-05-meal-noted")
        phone.pullBattery()
        val meal = phone.read.meals.single()
        assertEquals(listOf("Ada" to "ill", "R." to "unknown"), meal.eaters.map { it.name to it.feels })
        assertEquals("Vomiting", meal.eaters.first().signs)
        assertEquals("cooked", meal.prepared)
        assertTrue(meal.at != null)
        phone.open()
        phone.tap("Toast with a tuft from Harrow Shaw")
        phone.tap("Undo")
        assertEquals(null, phone.read.meals.single().eaters.first().signs)
    }

    @Test
    fun `the sheet says what it may have been, and when signs begin`() = Phone(Look.DARK).use { phone ->
        phone.core { book ->
            val begun = book.beginFind(null, "whole", null)
            book.nameFind(begun.id, "velvet-shank", "sight", null, null)
        }
        phone.open()
        phone.tap("Note a meal")
        phone.tap("Velvet shank")
        phone.tap("For the doctor")
        phone.draw("ill-06-sheet")
        phone.assertReads("Taken for: Velvet shank (Flammulina velutipes)")
        // ACT Health; Atlas of Emergency Medicine, 5th edition, 2021.
        phone.assertReads("6 to 24 hours after the meal, or later")
        phone.assertReads("No clinician has reviewed what Trug says here.")
        phone.assertReads("Eaten: time not noted")
        phone.turn()
        phone.assertReads("Taken for: Velvet shank")
        phone.back()
        phone.assertReads("Get help now")
    }
}
