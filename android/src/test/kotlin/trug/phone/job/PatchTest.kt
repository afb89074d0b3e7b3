package trug.phone.job

import org.junit.Assert.assertEquals
import org.junit.Assert.assertFalse
import org.junit.Assert.assertTrue
import org.junit.Test
import org.junit.runner.RunWith
import org.robolectric.RobolectricTestRunner
import org.robolectric.annotation.Config
import org.robolectric.annotation.GraphicsMode
import trug.core.PatchPage
import trug.phone.app.Phone
import trug.phone.page.patch.Winters

/** Last year's patch is found again, and the way back to it; nothing is there, and it is let rest. */
@RunWith(RobolectricTestRunner::class)
@GraphicsMode(GraphicsMode.Mode.NATIVE)
@Config(sdk = [34, 35], qualifiers = "w360dp-h740dp-xhdpi")
class PatchTest {
    @Test
    fun `find last year's patch and the way back to it`() = Phone(at = Winters.NOW).use { phone ->
        val patch = Winters.keep(phone)
        val bank = Winters.another(phone, "Bank", north = 0.5)
        phone.core { it.lookAtPatch(bank, "seen") }
        Winters.allow(phone)
        walk(phone, 2.0)

        // Which one has not been looked at for longest?
        phone.tap("Patches")
        hurt(phone)
        assertTrue("the nearest first", order(phone) == listOf("Bank", "Old elder"))
        phone.tap("Longest not looked at")
        hurt(phone)
        phone.draw("p01-patches")
        phone.assertTouchable()
        assertEquals("the longest not looked at first", listOf("Old elder", "Bank"), order(phone))
        phone.assertReads("220 m, 180° S")

        // What came of it, winter by winter?
        phone.tapWhat("Old elder, ")
        hurt(phone)
        phone.draw("p02-patch")
        phone.assertTouchable()
        listOf(Winters.season(1), "looked 3 times", "nothing there once", "14 seen", "4 taken", "${Winters.season(2)} · not looked").forEach(phone::assertReads)
        phone.tapWhat("${Winters.season(1)}. Show its finds and looks.")
        hurt(phone)
        phone.draw("p03-season")
        phone.assertTouchable()
        assertEquals("New Year parts nothing", 2, phone.texts().count { it == "Velvet shank" })
        phone.assertReads("nothing there")
        phone.tapWhat("Velvet shank, ")
        phone.assertReads("Old elder")
        phone.back()
        hurt(phone)
        phone.back()

        // The way, as one walks.
        phone.tap("The way back")
        hurt(phone)
        phone.assertReads("220 m")
        phone.assertReads("180° S")
        walk(phone, 1.0)
        phone.assertReads("110 m")
        phone.draw("p04-way")
        phone.assertTouchable()
        walk(phone, 0.1)
        phone.assertReads("You are in it.")
        hurt(phone)
        phone.draw("p05-in-it")

        // Nothing there: one touch, taken back, and meant after all.
        phone.tapTwice("Looked: nothing there")
        assertEquals("nothing", page(phone, patch).line.lastOutcome)
        assertEquals(page(phone, patch).now.day, page(phone, patch).line.lastLook)
        hurt(phone)
        phone.tap("Undo the look")
        assertEquals("2 seasons and the last look as before", Winters.day(1, 2, 10).toString(), page(phone, patch).line.lastLook)
        assertFalse(phone.canTap("Undo the look"))
        phone.tap("Looked: nothing there")
        phone.back()
        hurt(phone)
        phone.assertReads("nothing there")

        // It is let rest, no it is not, and goes by another name.
        phone.tapWhat("Rest, ")
        hurt(phone)
        phone.draw("p06-rest")
        phone.assertTouchable()
        phone.tap("Rest for 14 days")
        hurt(phone)
        phone.assertReads("Rests until")
        phone.tap("Undo the rest")
        assertEquals(null, page(phone, patch).line.restsUntil)
        phone.tapWhat("Name, kind, tree, ")
        hurt(phone)
        phone.type("The leaning elder", "What you call it")
        hurt(phone)
        phone.draw("p07-amend")
        phone.assertTouchable()
        phone.back()
        phone.assertReads("The leaning elder")
        phone.pullBattery()
        val kept = page(phone, patch)
        assertEquals(listOf("The leaning elder", "nothing", null), listOf(kept.line.name, kept.line.lastOutcome, kept.line.restsUntil))
        assertEquals(listOf(1u, 3u), listOf(kept.seasons[0].nothing, kept.seasons[1].looked))
    }

    private fun page(phone: Phone, patch: String): PatchPage = phone.core { it.patchPage(patch, null) }

    private fun order(phone: Phone) = phone.texts().filter { it == "Bank" || it == "Old elder" }

    /** How far north of the patch one stands, in thousandths of a degree. */
    private var north = 0.0

    private fun walk(phone: Phone, to: Double) {
        north = to
        Winters.walk(phone, north, accuracyM = 8f)
    }

    private fun hurt(phone: Phone) {
        // What is old by then is not shown again, and must not be: so the phone knows where it is.
        walk(phone, north)
        val read = phone.texts()
        phone.die()
        assertEquals(read, phone.texts())
        phone.turn()
        assertEquals(read, phone.texts())
    }
}
