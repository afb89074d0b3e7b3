package trug.phone.page.search

import android.os.Handler
import android.os.Looper
import android.view.inputmethod.EditorInfo
import android.widget.EditText
import trug.phone.R
import trug.phone.draw.Field
import trug.phone.draw.Ink
import trug.phone.draw.hideKeyboard
import trug.phone.draw.onTyped
import trug.phone.draw.showKeyboard

/** The field that words are typed into: [look] is told a short while after the last letter, and at once by the keyboard's own key. */
internal class Entry(ink: Ink, before: String, private val look: () -> Unit) {
    private val main = Handler(Looper.getMainLooper())
    private val later = Runnable { look() }
    val view = EditText(ink.context).apply {
        hint = ink.context.getString(R.string.search_hint)
        ink.print(this)
        inputType = Field.Kind.NAME.input
        imeOptions = EditorInfo.IME_ACTION_SEARCH or EditorInfo.IME_FLAG_NO_FULLSCREEN
        setText(before)
        setSelection(before.length)
        onTyped {
            main.removeCallbacks(later)
            main.postDelayed(later, PAUSE)
        }
        setOnEditorActionListener { field, _, _ ->
            field.hideKeyboard()
            lookNow()
            true
        }
        if (before.isBlank()) showKeyboard()
    }

    /** What is typed. */
    val typed: String get() = view.text.toString()

    /** Other words in place of what is typed. */
    fun take(words: String) {
        view.setText(words)
        view.setSelection(words.length)
        lookNow()
    }

    /** The page is left: nothing is looked for any more. */
    fun stop() = main.removeCallbacks(later)

    private fun lookNow() {
        stop()
        look()
    }

    private companion object {
        const val PAUSE = 250L
    }
}
