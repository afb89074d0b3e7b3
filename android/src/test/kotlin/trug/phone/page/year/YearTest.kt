package trug.phone.page.year

import android.graphics.Rect
import android.os.Looper
import android.view.KeyEvent
import android.view.View
import android.widget.TextView
import org.junit.Assert.assertEquals
import org.junit.Assert.assertFalse
import org.junit.Assert.assertTrue
import org.junit.Test
import org.junit.runner.RunWith
import org.robolectric.RobolectricTestRunner
import org.robolectric.Shadows.shadowOf
import org.robolectric.annotation.Config
import org.robolectric.annotation.GraphicsMode
import trug.core.YearBy
import trug.phone.app.Look
import trug.phone.app.Phone
import trug.phone.page.find.Find
import trug.phone.page.month.Month

/** The year and its months, through the screens and against the real core. */
@RunWith(RobolectricTestRunner::class)
@GraphicsMode(GraphicsMode.Mode.NATIVE)
@Config(sdk = [34, 35], qualifiers = "en-rGB-w360dp-h740dp-xhdpi")
class YearTest {
    private fun Phone.open() = tap("The year")

    /** What a screen reader says of everything on the page that is described as a whole. */
    private fun Phone.spoken(): List<String> = views().filter { it.isShown }.mapNotNull { it.contentDescription?.toString() }

    private fun Phone.assertSays(words: String) = assertTrue("“$words” is not among ${spoken()}", spoken().any { it == words })

    /** Turned, and killed, it looks the same. */
    private fun Phone.unhurt() {
        val (read, said) = texts() to spoken()
        for (harm in listOf({ turn() }, { die() })) {
            harm()
            assertEquals(read, texts())
            assertEquals(said, spoken())
        }
    }

    @Test
    fun `an empty notebook says so, and nothing can be chosen that is not there`() = Phone().use { phone ->
        phone.open()
        phone.assertReads("Nothing yet. What you find, and where you look in vain")
        phone.assertTouchable()
        phone.draw("year-00-empty")
        assertFalse(phone.canTap("All seasons"))
        phone.tap("By place")
        phone.assertReads("Nothing yet.")
        phone.back()
        phone.assertReads("No outing yet")
    }

    @Test
    fun `from the year to a row, its month and a find, and back again`() = Phone().use { phone ->
        phone.winters()
        phone.open()
        phone.draw("year-01-all")
        phone.assertTouchable()
        // By hand: as the year brings them; chicken of the woods in July, cep in September, the bell that is not settled in October.
        val names = phone.views().filterIsInstance<YearRowView>().map { it.contentDescription.toString().substringBefore(",").substringBefore(":") }
        assertEquals(
            listOf("All finds", "Chicken of the woods", "Cep", "Funeral bell", "Velvet shank", "Jelly ear", "No name yet"),
            names,
        )
        phone.assertSays(
            "Funeral bell, Galerina marginata: 1 find · 1 not settled. October: found in 1 season of 1, 1 find, 1 seen.",
        )
        phone.unhurt()
        phone.tapWhat("Velvet shank, Flammulina velutipes")
        phone.draw("year-02-row")
        phone.assertTouchable()
        phone.assertSays("January: found in 2 seasons of 2, 2 finds, 47 seen.")
        phone.assertSays("December: looked, not found, 1 look in vain.")
        phone.assertSays("March: nobody looked.")
        phone.assertSays("2024/25: 8 Nov 2024 to 3 Jan 2025.")
        phone.assertSays("2023/24: 20 Nov 2023 to 29 Feb 2024.")
        // Of 60 seen 18 were taken for 252 g: 14 g each, and 42 left.
        for (line in listOf("60", "18", "42", "252 g", "588 g")) assertTrue(line, line in phone.texts())
        phone.unhurt()
        phone.tapWhat("January: found")
        assertTrue(phone.activity.page is Month)
        phone.draw("year-03-month")
        phone.assertReads("January, every year")
        phone.assertTouchable()
        phone.unhurt()
        phone.tapWhat("14 Jan 2024")
        assertTrue(phone.activity.page is Find)
        phone.die()
        phone.back()
        phone.assertReads("January, every year")
        phone.back()
        phone.assertSays("January: found in 2 seasons of 2, 2 finds, 47 seen.")
        phone.back()
        assertEquals(names.size, phone.views().filterIsInstance<YearRowView>().size)
        phone.back()
        phone.assertReads("No outing yet")
    }

    @Test
    fun `one season is chosen and stays, and a row keeps to it`() = Phone().use { phone ->
        phone.winters()
        phone.open()
        val latest = phone.core { it.yearPage(YearBy.FUNGUS, null, null) }.seasons.first()
        phone.tap("Season $latest")
        phone.assertReads("Nothing in this season.")
        phone.assertTouchable()
        phone.draw("year-04-nothing")
        phone.tap("Season 2024/25")
        phone.assertSays("Cep, Boletus edulis: 1 find. September 2024: 1 find, 2 seen.")
        phone.unhurt()
        phone.tapWhat("Velvet shank, Flammulina velutipes")
        phone.assertSays("December 2024: looked, not found, 1 look in vain.")
        phone.assertSays("February 2025: nobody looked.")
        phone.draw("year-05-season")
        phone.unhurt()
        phone.tapWhat("November 2024")
        phone.assertReads("November 2024")
        phone.back()
        phone.tap("Season 2023/24")
        phone.assertSays("February 2024: 1 find, 2 seen.")
        phone.tap("All seasons")
        phone.tapWhat("2024/25: Finds")
        phone.assertReads("In 2024/25")
        phone.back()
        phone.assertReads("2024/25")
        assertTrue(phone.views().any { it is YearRowView })
    }

    @Test
    fun `a summer is told whole, across midsummer`() = Phone().use { phone ->
        phone.winters()
        phone.open()
        phone.tapWhat("Chicken of the woods")
        phone.assertReads("Its time runs across midsummer. Here its years begin with May.")
        phone.assertSays("2024: 4 May 2024 to 2 Jul 2024.")
        phone.draw("year-06-summer")
    }

    @Test
    fun `by place, with the look that found nothing`() = Phone().use { phone ->
        phone.winters()
        phone.open()
        phone.tap("By place")
        phone.assertSays("old elder, Velvet shank: 2 finds. November: found in 1 season of 1, 1 find, 7 seen. " +
            "December: found in 1 season of 1, 1 find, 120 seen.")
        phone.unhurt()
        phone.draw("year-07-places")
        phone.tap("By fungus")
        phone.tapWhat("Velvet shank, Flammulina velutipes")
        phone.tapWhat("December: looked")
        phone.assertReads("20 Dec 2024 · old elder")
        phone.assertReads("looked, not found")
        phone.draw("year-08-in-vain")
        phone.unhurt()
    }

    @Test
    fun `all of it is reached and used by keys`() = Phone().use { phone ->
        phone.winters()
        phone.open()
        val row = phone.views().filterIsInstance<YearRowView>().first { it.contentDescription.startsWith("Cep") }
        press(phone, row)
        val month = phone.views().first { it.isShown && it.contentDescription?.startsWith("September") == true }
        press(phone, month)
        assertTrue(phone.activity.page is Month)
        phone.back()
        val blank = phone.views().first { it.isShown && it.contentDescription?.startsWith("March") == true }
        assertFalse("a month with nothing to show leads nowhere", blank.isFocusable || blank.isClickable)
    }

    private fun press(phone: Phone, view: View) {
        assertTrue(view.isFocusable && view.requestFocusFromTouch())
        for (action in listOf(KeyEvent.ACTION_DOWN, KeyEvent.ACTION_UP)) view.dispatchKeyEvent(KeyEvent(action, KeyEvent.KEYCODE_ENTER))
        phone.settle()
    }

    /** Of two answers the one that was asked for last is shown, whichever comes last. */
    @Test
    fun `an answer that nobody waits for any more is not shown`() = Phone().use { phone ->
        phone.winters()
        phone.open()
        val way = phone.views().first { it.isShown && it.isClickable && it.contentDescription == "By place" }
        val row = phone.views().filterIsInstance<YearRowView>().first { it.contentDescription.startsWith("Cep") }
        way.performClick()
        row.performClick()
        phone.settle()
        shadowOf(Looper.getMainLooper()).idle()
        phone.assertSays("September: found in 1 season of 1, 1 find, 2 seen.")
    }

    @Test
    @Config(sdk = [34], qualifiers = "en-rGB-w320dp-h568dp-xhdpi", fontScale = 2f)
    fun `in large type on a small phone`() = looksRight("large")

    @Test
    @Config(sdk = [34], qualifiers = "en-rGB-w740dp-h360dp-land-xhdpi")
    fun `on its side`() = looksRight("side")

    @Test
    @Config(sdk = [34], qualifiers = "ar-rEG-ldrtl-w360dp-h740dp-xhdpi")
    fun `from right to left`() = looksRight("right-to-left")

    @Test
    @Config(sdk = [34], qualifiers = "en-rGB-w320dp-h568dp-xhdpi")
    fun `in the dark and in red light, on a small phone`() = listOf(Look.DARK, Look.RED).forEach { looksRight(it.name.lowercase(), it) }

    private fun looksRight(name: String, look: Look = Look.LIGHT) = Phone(look).use { phone ->
        if (phone.core { it.yearPage(YearBy.FUNGUS, null, null) }.all.sum.finds == 0u) phone.winters()
        phone.open()
        phone.assertTouchable()
        phone.draw("year-$name-0")
        phone.tapWhat("Velvet shank, ")
        phone.assertTouchable()
        inReadingOrder(phone)
        phone.draw("year-$name-1")
        for ((at, words) in listOf("First and last", "In all", "Season by season").withIndex()) {
            val part = phone.views().first { (it as? TextView)?.text == words }
            part.requestRectangleOnScreen(Rect(0, 0, 1, phone.activity.window.decorView.height / 2), true)
            phone.draw("year-$name-1-$at")
        }
        val month = phone.views().first { it.isShown && it.isClickable && it.parent is MonthGrid }
        phone.tap(month.contentDescription.toString())
        phone.assertTouchable()
        phone.draw("year-$name-2")
    }

    /** Each month stands after the one before it: further on in its line, or in a lower one. */
    private fun inReadingOrder(phone: Phone) {
        val months = phone.views().filter { it.parent is MonthGrid }
        assertEquals(12, months.size)
        val back = if (months.first().layoutDirection == View.LAYOUT_DIRECTION_RTL) -1 else 1
        months.zipWithNext { one, next -> assertTrue(next.top > one.top || next.top == one.top && (next.left - one.left) * back > 0) }
    }
}
