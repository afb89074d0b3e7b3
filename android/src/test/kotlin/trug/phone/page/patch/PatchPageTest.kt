package trug.phone.page.patch

import android.app.DatePickerDialog
import android.app.TimePickerDialog
import android.content.DialogInterface
import android.graphics.Bitmap
import android.graphics.Canvas
import android.graphics.Color
import android.view.View
import org.junit.Assert.assertEquals
import org.junit.Assert.assertFalse
import org.junit.Assert.assertTrue
import org.junit.Test
import org.junit.runner.RunWith
import org.robolectric.RobolectricTestRunner
import org.robolectric.annotation.Config
import org.robolectric.annotation.GraphicsMode
import org.robolectric.shadows.ShadowDialog
import trug.core.LookShown
import trug.core.PatchPage
import trug.phone.app.Phone
import trug.phone.app.Place
import trug.phone.app.Stop

/** The page of a patch: its picture, and everything that can be done there. */
@RunWith(RobolectricTestRunner::class)
@GraphicsMode(GraphicsMode.Mode.NATIVE)
@Config(sdk = [34, 35], qualifiers = "w360dp-h740dp-xhdpi")
class PatchPageTest {
    @Test
    fun `the picture is told in full to whoever does not see it`() = Phone(at = Winters.NOW).use { phone ->
        val patch = open(phone)
        val day = { at: Int, month: Int, day: Int -> Winters.day(at, month, day).year }
        val told = phone.views().mapNotNull { it.contentDescription?.toString() }.first { Winters.season(1) in it }
        assertEquals(
            "${Winters.season(1)}. Show its finds and looks., looked 3 times · nothing there once · 14 seen · 4 taken, " +
                "Dec 31, ${day(1, 12, 31)}: some taken, Jan 1, ${day(1, 1, 1)}: some seen, Feb 10, ${day(1, 2, 10)}: nothing there",
            told,
        )
        assertEquals(listOf(0u, 3u, 0u, 1u), page(phone, patch).seasons.map { it.looked })
    }

    /** Ink in the columns of the picture where something came of a look, and other ink where nothing did; none where nobody looked. */
    @Test
    fun `nothing there looks unlike some there, and both unlike not looked`() = Phone(at = Winters.NOW).use { phone ->
        val ink = phone.activity.ink
        fun look(across: Double, outcome: String) = LookShown("2026-01-01", across, outcome, emptyList(), emptyList(), emptyList())
        val looks = listOf(look(0.13, "nothing"), look(0.38, "seen"), look(0.63, "taken"))
        for (rtl in listOf(false, true)) {
            val strip = Strip(ink, looks, today = 0.96).apply {
                layoutDirection = if (rtl) View.LAYOUT_DIRECTION_RTL else View.LAYOUT_DIRECTION_LTR
                measure(View.MeasureSpec.makeMeasureSpec(1200, View.MeasureSpec.EXACTLY), View.MeasureSpec.UNSPECIFIED)
                layout(0, 0, measuredWidth, measuredHeight)
            }
            val drawn = Bitmap.createBitmap(strip.width, strip.height, Bitmap.Config.ARGB_8888).also { strip.draw(Canvas(it)) }
            fun column(across: Double) = ((if (rtl) 1 - across else across) * strip.width).toInt()
            fun inked(across: Double, rows: IntRange) = rows.count { row ->
                val pixel = drawn.getPixel(column(across), row)
                Color.alpha(pixel) > 128 && pixel != ink.paper
            }
            val line = (0 until strip.height).first { Color.alpha(drawn.getPixel(column(0.3), it)) > 128 }
            val (above, below) = (0 until line - 4) to (line + 4 until strip.height)
            val (nothing, seen, taken, none) = listOf(0.13, 0.38, 0.63, 0.3).map { inked(it, above) to inked(it, below) }
            assertEquals("nobody looked", 0 to 0, none)
            assertTrue("nothing there is below the line: $nothing", nothing.first == 0 && nothing.second > 0)
            assertTrue("what was left is empty: $seen", seen.first in 1..8 && seen.second == 0)
            assertTrue("what was taken is full: $taken", taken.first > 3 * seen.first && taken.second == 0)
        }
    }

    @Test
    fun `two patches become one and two again`() = Phone(at = Winters.NOW).use { phone ->
        val patch = open(phone) {
            Winters.another(phone, "Bent elder", north = 0.2)
            Winters.another(phone, "Far bank", north = 90.0)
        }
        phone.tapWhat("The same as another patch")
        hurt(phone)
        phone.draw("p21-merge")
        phone.assertTouchable()
        assertFalse("too far off to be one", phone.reads("Far bank"))
        phone.tapWhat("Bent elder, 22 m")
        hurt(phone)
        phone.assertReads("Holds 1 patch that was merged into it:")
        phone.draw("p22-merged")
        assertEquals(listOf("Bent elder"), page(phone, patch).merged)
        phone.tap("Undo the merging")
        assertEquals(emptyList<String>(), page(phone, patch).merged)
    }

    @Test
    fun `an earlier look is noted with its day and words`() = Phone(at = Winters.NOW).use { phone ->
        val patch = open(phone)
        phone.tapWhat("Note an earlier look")
        phone.tap("Keep this look")
        phone.assertReads("Choose what came of it first.")
        phone.tap("some seen")
        phone.type("R.", "Who looked (if not you)")
        phone.type("two small ones", "Note")
        phone.tap("Now")
        val day = Winters.day(2, 11, 7)
        (ShadowDialog.getLatestDialog() as DatePickerDialog).run {
            updateDate(day.year, day.monthValue - 1, day.dayOfMonth)
            getButton(DialogInterface.BUTTON_POSITIVE).performClick()
        }
        phone.settle()
        (ShadowDialog.getLatestDialog() as TimePickerDialog).run {
            updateTime(9, 30)
            getButton(DialogInterface.BUTTON_POSITIVE).performClick()
        }
        phone.settle()
        hurt(phone)
        phone.draw("p23-earlier")
        phone.assertTouchable()
        phone.tapTwice("Keep this look")
        val look = page(phone, patch).seasons.first { it.season == Winters.season(2) }.looks.single()
        assertEquals(listOf(day.toString(), "seen", listOf("R."), listOf("two small ones")), listOf(look.day, look.outcome, look.by, look.notes))
        phone.tapWhat("${Winters.season(2)}. Show")
        phone.assertReads("Looked: R.")
        phone.tap("Done")
        phone.tap("Undo the look")
        assertEquals(listOf(0u, 3u, 0u, 1u), page(phone, patch).seasons.map { it.looked })
    }

    @Test
    fun `kind, tree, width, note and place are amended and kept`() = Phone(at = Winters.NOW).use { phone ->
        val patch = open(phone)
        phone.tapWhat("Name, kind, tree, ")
        phone.tap("No one kind")
        phone.type("jelly e", "Name, English or Latin")
        hurt(phone)
        phone.tap("Jelly ear")
        phone.type("7.5", "It reaches, in m")
        phone.type("elder", "Tree")
        phone.tap("a guess")
        phone.tap("stump")
        phone.type("by the gate", "Note")
        hurt(phone)
        phone.draw("p24-amend")
        phone.assertTouchable()
        phone.type("0", "It reaches, in m")
        phone.assertReads("That cannot be kept: give more than 0 m")
        phone.type("", "It reaches, in m")
        phone.tap("Done")
        val kept = page(phone, patch)
        assertEquals(
            listOf("jelly-ear", null, 10.0, "elder", "guess", "stump", "by the gate"),
            kept.run { listOf(line.kind?.id, reachSaidM, line.reachM, line.host, hostSure, line.on, note) },
        )
        phone.tapWhat("Where, ")
        phone.type("SU 387 147", "Grid reference or degrees")
        hurt(phone)
        phone.tap("Set")
        phone.assertReads("SU 387 147, ± 71 m")
        phone.draw("p25-where")
        Winters.allow(phone)
        phone.stand(Winters.LATITUDE, Winters.LONGITUDE, 7f)
        phone.tap("Put it here, ± 7 m")
        assertEquals(7.0, page(phone, patch).line.place?.accuracyM)
        phone.tap("Done")
        phone.tap("Undo the change")
        assertEquals("SU 387 147", page(phone, patch).line.place?.name)
    }

    @Test
    fun `a rest of other days, and its end`() = Phone(at = Winters.NOW).use { phone ->
        val patch = open(phone)
        phone.tapWhat("Rest, Does not rest")
        phone.type("10", "Or so many days")
        phone.tap("Rest")
        assertTrue(page(phone, patch).line.restsUntil != null)
        phone.tapWhat("Rest, Rests until")
        phone.tap("End the rest")
        assertEquals(null, page(phone, patch).line.restsUntil)
    }

    @Test
    fun `deleted, and brought back`() = Phone(at = Winters.NOW).use { phone ->
        val patch = open(phone)
        phone.tap("Delete this patch")
        hurt(phone)
        phone.assertReads("This patch is marked as deleted.")
        phone.draw("p26-deleted")
        phone.assertTouchable()
        assertFalse("there is nothing to be done in it", phone.canTap("Looked: nothing there") || phone.canTap("The way back"))
        phone.tap("Bring it back")
        assertFalse(page(phone, patch).deleted)
        phone.assertReads("Old elder")
    }

    @Test
    fun `what is noted already is not noted twice`() = Phone(at = Winters.NOW).use { phone ->
        val patch = open(phone)
        phone.tap("Some seen")
        phone.tap("Looked: nothing there")
        phone.assertReads("That is noted for today already.")
        assertEquals(listOf("seen", 1u), page(phone, patch).run { listOf(line.lastOutcome, seasons[0].looked) })
        phone.tap("Undo the look")
        phone.tap("Some taken")
        assertEquals("taken", page(phone, patch).line.lastOutcome)
    }

    @Test
    @Config(sdk = [35], qualifiers = "w320dp-h640dp-xhdpi", fontScale = 2.0f)
    fun `at twice the size on a small phone`() = Phone(at = Winters.NOW).use { phone ->
        open(phone)
        phone.draw("p27-large")
        phone.assertTouchable()
        phone.tap("The way back")
        phone.draw("p28-way-large")
        phone.assertTouchable()
    }

    private fun open(phone: Phone, first: () -> Unit = {}): String {
        val patch = Winters.keep(phone)
        first()
        phone.activity.go(Stop(Place.PATCH, about = patch))
        phone.settle()
        return patch
    }

    private fun page(phone: Phone, patch: String): PatchPage = phone.core { it.patchPage(patch, null) }

    private fun hurt(phone: Phone) {
        val read = phone.texts()
        phone.die()
        assertEquals(read, phone.texts())
        phone.turn()
        assertEquals(read, phone.texts())
    }
}
