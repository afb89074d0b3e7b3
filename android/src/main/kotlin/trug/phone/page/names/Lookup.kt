package trug.phone.page.names

import android.view.View
import android.view.inputmethod.EditorInfo
import android.widget.EditText
import trug.core.NameShown
import trug.phone.R
import trug.phone.draw.Field
import trug.phone.draw.Ink
import trug.phone.draw.onTyped
import trug.phone.draw.put
import trug.phone.draw.row
import trug.phone.draw.showKeyboard

/** A field for a name, and the names that fit what is typed into it. */
internal class Lookup(
    private val ink: Ink,
    private val find: (String, (List<NameShown>) -> Unit) -> Unit,
    private val chosen: (NameShown) -> Unit,
    /** What else is offered where no name fits. */
    private val orElse: (String) -> View? = { null },
    /** Told of every change of what is typed. */
    private val told: (String) -> Unit = {},
) {
    val entry = EditText(ink.context).apply {
        hint = ink.context.getString(R.string.names_hint)
        ink.print(this)
        inputType = Field.Kind.NAME.input
        imeOptions = EditorInfo.IME_ACTION_DONE or EditorInfo.IME_FLAG_NO_FULLSCREEN
    }
    val found = ink.column()

    /** What is typed. */
    val typed: String get() = entry.text.toString()

    /** Begins with what was typed before; [atOnce] where the page is there for this field. */
    fun begin(before: String, atOnce: Boolean = true) {
        entry.setText(before)
        entry.setSelection(before.length)
        entry.onTyped {
            told(it)
            look()
        }
        if (atOnce) entry.showKeyboard()
        look()
    }

    private fun look() {
        val text = typed
        if (text.isBlank()) return found.removeAllViews()
        find(text) { names -> if (typed == text) list(text.trim(), names) }
    }

    private fun list(text: String, names: List<NameShown>) {
        found.removeAllViews()
        names.forEach { name -> found.put(ink, row(ink, name.english, name.latin) { chosen(name) }) }
        if (names.isNotEmpty()) return
        found.put(ink, ink.words(ink.context.getString(R.string.names_none)), Ink.MARGIN)
        found.put(ink, orElse(text))
    }
}
