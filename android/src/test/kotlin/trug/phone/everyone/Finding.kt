package trug.phone.everyone

import android.view.View
import android.widget.TextView

/** What would keep somebody from a page. */
internal enum class Flaw(val words: String) {
    UNNAMED("can be touched and has no name"),
    SMALL("is smaller than 48 dp"),
    ROLE("can be touched and does not say that it is a button, a field or a choice"),
    KEYS("can be touched and not be reached by keys"),
    SAME("is called the same as something else to touch"),
    CUT("is cut off"),
    BROKEN("is broken within a word"),
    OUTSIDE("stands beyond its page"),
    OVER("lies over something else to touch"),
    PALE("has too little contrast"),
    HEADING("looks like a heading and is none"),
    ORDER("is read before something above it"),
    PICTURE("is a picture that says nothing"),
    HEADLESS("has no heading at all"),
}

/** One of them, and where. */
internal data class Finding(val flaw: Flaw, val what: String) {
    override fun toString() = "“$what” ${flaw.words}"
}

/** What a screen reader calls a view: its description, its words, or those of what it holds. */
internal fun spoken(view: View): String {
    view.contentDescription?.let { if (it.isNotBlank()) return it.toString() }
    if (view is TextView) return view.text.ifEmpty { view.hint ?: "" }.toString()
    return if (view is android.view.ViewGroup) {
        view.children().filter { it.isShown && it.importantForAccessibility != View.IMPORTANT_FOR_ACCESSIBILITY_NO_HIDE_DESCENDANTS }
            .map(::spoken).filter { it.isNotBlank() }.joinToString(" ")
    } else {
        ""
    }
}

internal fun android.view.ViewGroup.children(): List<View> = (0 until childCount).map(::getChildAt)

/** A view and all that it holds, in the order in which they are read. */
internal fun all(view: View): List<View> = listOf(view) + ((view as? android.view.ViewGroup)?.children()?.flatMap(::all).orEmpty())
