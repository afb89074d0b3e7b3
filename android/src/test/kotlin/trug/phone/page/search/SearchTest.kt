package trug.phone.page.search

import android.view.View
import android.view.inputmethod.EditorInfo
import org.junit.Assert.assertEquals
import org.junit.Assert.assertFalse
import org.junit.Assert.assertTrue
import org.junit.Test
import org.junit.runner.RunWith
import org.robolectric.RobolectricTestRunner
import org.robolectric.annotation.Config
import org.robolectric.annotation.GraphicsMode
import trug.phone.app.Phone

/** Search through the screens: what was noted is found, opens, and is there again after turning and dying. */
@RunWith(RobolectricTestRunner::class)
@GraphicsMode(GraphicsMode.Mode.NATIVE)
@Config(sdk = [34, 35], qualifiers = "w360dp-h740dp-xhdpi")
class SearchTest {
    @Test
    fun `a find is found by what is remembered of it, and opens, dying and turning between the steps`() = Phone().use { phone ->
        winter(phone)
        phone.die()
        phone.tap("Search")
        phone.assertReads("Any words that you remember")
        phone.turn()
        phone.type("velvit gate", HINT)
        phone.assertReads("1 find")
        phone.assertReads("Velvet shank")
        phone.assertReads("Harrow Shaw")
        phone.assertReads("Behind the second gate")
        phone.draw("search-one")
        phone.die()
        assertEquals("velvit gate", phone.field(HINT).text.toString())
        phone.assertReads("1 find")
        phone.turn()
        phone.assertTouchable()
        phone.tapWhat("Velvet shank")
        phone.assertReads("Names given")
        phone.die()
        phone.back()
        assertEquals("velvit gate", phone.field(HINT).text.toString())
        phone.assertReads("1 find")
        phone.back()
        phone.assertReads("No outing yet")
    }

    @Test
    fun `finds, patches and kinds stand under headings, and how many is told politely`() = Phone().use { phone ->
        winter(phone)
        phone.tap("Search")
        phone.type("velvet shank", HINT)
        phone.draw("search-all")
        val headings = phone.views().filter { it.isShown && it.isAccessibilityHeading }.map { (it as android.widget.TextView).text.toString() }
        assertEquals(listOf("Search", "Finds", "Patches", "Kinds"), headings)
        val told = phone.views().single { it.accessibilityLiveRegion == View.ACCESSIBILITY_LIVE_REGION_POLITE && it.isShown } as android.widget.TextView
        assertEquals("1 find · 1 patch · 1 kind", told.text.toString())
        phone.type("elder", HINT)
        assertEquals("3 finds · 1 patch", told.text.toString())
        phone.assertReads("Nearly so")
        phone.draw("search-nearly")
        phone.type("", HINT)
        assertEquals("", told.text.toString())
        phone.assertReads("Any words that you remember")
    }

    @Test
    fun `an answer that comes late says nothing of what is typed since`() = Phone().use { phone ->
        winter(phone)
        phone.tap("Search")
        val field = phone.field(HINT)
        field.setText("gate")
        field.onEditorAction(EditorInfo.IME_ACTION_SEARCH)
        field.setText("funeral bell")
        phone.settle()
        phone.assertReads("Funeral bell")
        assertFalse(phone.reads("Behind the second gate"))
        field.setText("gate")
        field.onEditorAction(EditorInfo.IME_ACTION_SEARCH)
        field.setText("")
        phone.settle()
        assertFalse(phone.reads("Behind the second gate"))
    }

    @Test
    fun `the keyboard's own key looks at once`() = Phone().use { phone ->
        winter(phone)
        phone.tap("Search")
        val field = phone.field(HINT)
        assertEquals(EditorInfo.IME_ACTION_SEARCH, field.imeOptions and EditorInfo.IME_MASK_ACTION)
        field.setText("gate")
        field.onEditorAction(EditorInfo.IME_ACTION_SEARCH)
        while (phone.app.core.isBusy) {
            Thread.sleep(1)
            org.robolectric.Shadows.shadowOf(android.os.Looper.getMainLooper()).idle()
        }
        phone.assertReads("1 find")
    }

    @Test
    fun `nothing found says so, and offers what may have been meant`() = Phone().use { phone ->
        winter(phone)
        phone.tap("Search")
        phone.type("hharroww", HINT)
        phone.assertReads("Nothing found.")
        phone.assertReads("Did you mean")
        phone.draw("search-none")
        phone.turn()
        phone.tap("harrow")
        assertEquals("harrow", phone.field(HINT).text.toString())
        phone.assertReads("1 find")
        phone.type("\"* zzzzqqqq 🍄", HINT)
        phone.assertReads("Nothing found.")
        phone.assertReads("Try fewer words")
    }

    @Test
    fun `more finds are shown when asked for, and stay shown`() = Phone().use { phone ->
        phone.core { book ->
            repeat(45) {
                val find = book.beginFind(null, "whole", null)
                book.amendFind(find.id, listOf(trug.core.FieldValue("note", "By the weir, number $it")))
            }
        }
        phone.tap("Search")
        phone.type("weir", HINT)
        phone.assertReads("45 finds")
        assertTrue(phone.reads("number 44") && !phone.reads("number 10"))
        phone.tap("Show more finds: 25 left")
        assertTrue(phone.reads("number 10") && !phone.reads("number 2 "))
        phone.die()
        assertTrue(phone.reads("number 10"))
        phone.tap("Show more finds: 5 left")
        assertTrue(phone.reads("number 0"))
        phone.type("weir number", HINT)
        phone.assertReads("Show more finds: 25 left")
    }

    @Test
    fun `a kind tells its danger, what it is taken for and what is on record`() = Phone().use { phone ->
        winter(phone)
        phone.tap("Search")
        phone.type("funeral", HINT)
        phone.assertReads("has killed")
        phone.tapWhat("Galerina")
        phone.assertReads("Has killed.")
        phone.assertReads("If in any doubt, leave it.")
        phone.draw("kind-deadly")
        phone.die()
        phone.tapWhat("Funeral bell against velvet shank")
        phone.turn()
        phone.assertReads("Flammulina velutipes")
        phone.assertReads("Gathered by people, which is no promise.")
        phone.assertReads("Funeral bell (has killed)")
        phone.assertReads("Harrow Shaw")
        phone.assertTouchable()
        phone.draw("kind-gathered")
        phone.tap("Show all that is known of it")
        phone.assertReads("Kind of fungus")
        phone.die()
        phone.assertReads("Kind of fungus")
        phone.tap("Check one against this")
        phone.assertReads("Work it out")
        // Out of the key, which has a step of its own, and past the kind that it came from.
        repeat(3) { phone.back() }
        phone.assertReads("Galerina")
        assertFalse(phone.texts().any { it.contains("edible", ignoreCase = true) && !it.contains("inedible", ignoreCase = true) })
    }

    private companion object {
        const val HINT = "Name, place, tree, day …"
    }
}
