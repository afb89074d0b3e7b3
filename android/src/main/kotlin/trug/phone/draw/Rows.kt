package trug.phone.draw

import android.view.View
import android.view.ViewGroup
import android.widget.ImageView
import android.widget.LinearLayout
import trug.phone.words.listed

/** A row that can be touched: a word, and something smaller about it. */
internal fun row(ink: Ink, words: String, about: String, touched: () -> Unit): LinearLayout =
    ink.column(ink.words(words, colour = ink.touch), if (about.isEmpty()) null else ink.words(about, colour = ink.quiet)).apply {
        val pad = ink.dp(Ink.GAP)
        setPadding(pad, pad, pad, pad)
        minimumHeight = ink.dp(Ink.TARGET)
        gravity = android.view.Gravity.CENTER_VERTICAL
        background = ink.touchable(null, null)
        contentDescription = resources.listed(listOf(words, about))
        onTouch(touched)
    }

/** A row that can be touched, with a small picture before its words. */
internal fun pictured(ink: Ink, picture: String?, words: String, about: String, touched: () -> Unit): View {
    val plain = row(ink, words, about, touched)
    if (picture == null) return plain
    val texts = ink.column()
    while (plain.childCount > 0) plain.getChildAt(0).let { text -> plain.removeView(text).also { texts.addView(text, ink.across()) } }
    val small = ImageView(ink.context).apply {
        scaleType = ImageView.ScaleType.CENTER_CROP
        importantForAccessibility = View.IMPORTANT_FOR_ACCESSIBILITY_NO
        Pictures.show(ink, picture, this, ink.dp(PICTURE))
    }
    return plain.apply {
        orientation = LinearLayout.HORIZONTAL
        addView(small, LinearLayout.LayoutParams(ink.dp(PICTURE), ink.dp(PICTURE)).apply { marginEnd = ink.dp(Ink.MARGIN) })
        addView(texts, LinearLayout.LayoutParams(0, ViewGroup.LayoutParams.WRAP_CONTENT, 1f))
    }
}

private const val PICTURE = 64

/** Adds a view below a gap; nothing for none. */
internal fun LinearLayout.put(ink: Ink, view: View?, above: Int = Ink.GAP) {
    if (view != null) addView(view, if (view.tag == Ink.RULE) ink.line(above) else ink.across(above))
}

/** Begins a new part: a rule and a heading. */
internal fun LinearLayout.part(ink: Ink, head: CharSequence) {
    put(ink, ink.rule(), Ink.MARGIN)
    put(ink, ink.part(head))
}
