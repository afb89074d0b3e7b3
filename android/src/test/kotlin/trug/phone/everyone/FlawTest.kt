package trug.phone.everyone

import android.graphics.Color
import android.graphics.drawable.ColorDrawable
import android.text.TextUtils
import android.view.View
import android.view.ViewGroup
import android.widget.EditText
import android.widget.FrameLayout
import android.widget.ImageView
import android.widget.LinearLayout
import android.widget.ScrollView
import org.junit.Assert.assertEquals
import org.junit.Assert.assertTrue
import org.junit.Test
import org.junit.runner.RunWith
import org.robolectric.RobolectricTestRunner
import org.robolectric.annotation.Config
import org.robolectric.annotation.GraphicsMode
import trug.phone.app.Phone
import trug.phone.draw.Ink
import trug.phone.draw.onTouch

/** Pages that are broken on purpose: each flaw is found, and a page without one has none. */
@RunWith(RobolectricTestRunner::class)
@GraphicsMode(GraphicsMode.Mode.NATIVE)
@Config(sdk = [34], qualifiers = "en-rGB-w360dp-h740dp-xhdpi")
class FlawTest {
    private fun flaws(made: Ink.() -> View): Set<Flaw> = Phone().use { phone ->
        val ink = phone.activity.ink
        val page = ink.column().apply { setBackgroundColor(ink.paper) }
        page.addView(ink.made())
        phone.activity.setContentView(page)
        phone.settle()
        Inspection(page).findings().map { it.flaw }.toSet()
    }

    private fun Ink.wide(view: View, width: Int = 200, height: Int = 60) = view.apply {
        layoutParams = LinearLayout.LayoutParams(dp(width), dp(height))
    }

    @Test
    fun `a page without a flaw has none`() {
        assertEquals(emptySet<Flaw>(), flaws { column(head("Harrow Shaw"), words("Seven of them"), button("Count") {}, button("Go on") {}) })
    }

    @Test
    fun `what cannot be named, hit or reached`() {
        assertEquals(setOf(Flaw.UNNAMED), flaws { wide(View(context).apply { onTouch {} }) })
        assertEquals(setOf(Flaw.SMALL), flaws { wide(button("Count") {}.apply { minHeight = 0 }, height = 40) })
        assertEquals(setOf(Flaw.KEYS), flaws { button("Count") {}.apply { isFocusable = false } })
        assertEquals(setOf(Flaw.ROLE), flaws { button("Count") {}.apply { accessibilityDelegate = null } })
        assertEquals(setOf(Flaw.SAME), flaws { column(button("Remove") {}, button("Remove") {}) })
    }

    @Test
    fun `what is cut, broken, beyond or over`() {
        val name = "Chanterelle waxcap"
        assertEquals(setOf(Flaw.CUT), flaws { wide(words(name).apply { maxLines = 1; ellipsize = TextUtils.TruncateAt.END }, 60) })
        assertEquals(setOf(Flaw.CUT), flaws { wide(words("$name and $name"), 150, 30) })
        assertEquals(setOf(Flaw.CUT), flaws { wide(EditText(context).also { print(it); it.hint = "$name, English or Latin, and the place" }, 120) })
        assertTrue(Flaw.BROKEN in flaws { wide(words("Fasciculare"), 60, 200) })
        assertTrue(Flaw.OUTSIDE in flaws { wide(FrameLayout(context).apply { addView(words(name), FrameLayout.LayoutParams(dp(300), dp(40)).apply { leftMargin = dp(80) }) }) })
        val over = setOf(Flaw.OVER)
        assertEquals(over, flaws { wide(FrameLayout(context).apply { listOf("One", "Other").forEach { addView(wide(button(it) {})) } }) })
    }

    @Test
    fun `what cannot be read, jumped to or followed`() {
        assertEquals(setOf(Flaw.PALE), flaws { words("Seven of them", colour = Color.rgb(0xAA, 0xAA, 0xAA)) })
        assertEquals(setOf(Flaw.HEADING), flaws { words("Harrow Shaw", Ink.HEAD, bold = true) })
        assertEquals(setOf(Flaw.HEADLESS), flaws { ScrollView(context).apply { addView(column(*Array(9) { words("Seven of them, $it") })) } })
        assertEquals(setOf(Flaw.PICTURE), flaws { wide(ImageView(context).apply { setImageDrawable(ColorDrawable(text)) }) })
        val order = flaws {
            FrameLayout(context).apply {
                addView(button("Last") {}, FrameLayout.LayoutParams(ViewGroup.LayoutParams.MATCH_PARENT, dp(60)).apply { topMargin = dp(100) })
                addView(button("First") {}, FrameLayout.LayoutParams(ViewGroup.LayoutParams.MATCH_PARENT, dp(60)))
            }
        }
        assertEquals(setOf(Flaw.ORDER), order)
    }
}
