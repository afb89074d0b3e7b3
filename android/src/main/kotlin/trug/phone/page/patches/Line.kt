package trug.phone.page.patches

import android.view.Gravity
import android.view.View
import android.widget.LinearLayout
import trug.phone.draw.Ink
import trug.phone.draw.row
import trug.phone.words.listed

/** A patch in a line: what it is called, the way there, and what more there is to say of it. Touched it opens. */
internal fun patchRow(ink: Ink, called: String, way: String, about: String, beside: View?, open: () -> Unit): View {
    val line = row(ink, called, "", open)
    val words = ink.column()
    while (line.childCount > 0) line.getChildAt(0).let { text -> line.removeView(text).also { words.addView(text, ink.across()) } }
    words.addView(ink.words(way).apply { fontFeatureSettings = LINED_UP }, ink.across())
    words.addView(ink.words(about, colour = ink.quiet), ink.across())
    return line.apply {
        orientation = LinearLayout.HORIZONTAL
        contentDescription = resources.listed(listOf(called, way, about))
        addView(words, LinearLayout.LayoutParams(0, LinearLayout.LayoutParams.WRAP_CONTENT, 1f))
        beside?.let { addView(it) }
    }
}

/** Points the way on a page whose top is north; the words beside it say the same. */
internal fun northUp(ink: Ink, bearing: Double): View = ink.words(ARROW, ARROW_SIZE, bold = true).apply {
    rotation = bearing.toFloat()
    gravity = Gravity.CENTER
    width = ink.dp(Ink.TARGET)
    importantForAccessibility = View.IMPORTANT_FOR_ACCESSIBILITY_NO
}

private const val LINED_UP = "tnum"
private const val ARROW = "↑"
private const val ARROW_SIZE = 32f
