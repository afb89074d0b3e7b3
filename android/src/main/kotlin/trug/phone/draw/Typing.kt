package trug.phone.draw

import android.text.Editable
import android.text.InputType
import android.text.TextWatcher
import android.view.View
import android.view.inputmethod.EditorInfo
import android.widget.EditText

/** Tells every change of what is typed, from now on. */
internal fun EditText.onTyped(told: (String) -> Unit) = addTextChangedListener(object : TextWatcher {
    override fun beforeTextChanged(text: CharSequence, start: Int, count: Int, after: Int) = Unit

    override fun onTextChanged(text: CharSequence, start: Int, before: Int, count: Int) = Unit

    override fun afterTextChanged(text: Editable) = told(text.toString())
})

/**
 * A field that keeps what is typed into it: a moment after the last letter, and at once when it is left. What the page knows
 * better never overwrites what somebody is typing.
 */
internal class Field(private val ink: Ink, label: String, kind: Kind = Kind.TEXT, private val keep: (String) -> Unit) {
    /** What is typed. */
    enum class Kind(val input: Int) {
        WHOLE(InputType.TYPE_CLASS_NUMBER),
        DECIMAL(InputType.TYPE_CLASS_NUMBER or InputType.TYPE_NUMBER_FLAG_DECIMAL),
        TEXT(InputType.TYPE_CLASS_TEXT or InputType.TYPE_TEXT_FLAG_CAP_SENTENCES),
        LINES(InputType.TYPE_CLASS_TEXT or InputType.TYPE_TEXT_FLAG_CAP_SENTENCES or InputType.TYPE_TEXT_FLAG_MULTI_LINE),
        NAME(InputType.TYPE_CLASS_TEXT or InputType.TYPE_TEXT_FLAG_NO_SUGGESTIONS),
    }

    val view = EditText(ink.context).apply {
        ink.print(this)
        hint = label
        contentDescription = null
        inputType = kind.input
        isSingleLine = kind != Kind.LINES
        imeOptions = if (kind == Kind.LINES) EditorInfo.IME_ACTION_NONE else EditorInfo.IME_ACTION_NEXT
    }
    private var known = ""
    private val later = Runnable { flush() }
    private var filling = false

    init {
        view.onTyped {
            if (filling) return@onTyped
            view.removeCallbacks(later)
            view.postDelayed(later, PAUSE)
        }
        view.setOnFocusChangeListener { _, has -> if (!has) flush() }
    }

    /** What stands in the field now. */
    val text: String get() = view.text.toString().trim()

    /** Shows what is on record, unless something newer is being typed. */
    fun show(value: String) {
        val touched = text != known
        known = value
        if (touched || text == value) return
        filling = true
        view.setText(value)
        view.setSelection(view.text.length)
        filling = false
    }

    /** Keeps what is typed and not kept yet. */
    fun flush() {
        view.removeCallbacks(later)
        if (text == known) return
        known = text
        keep(text)
    }

    /** Gives up what is typed for what is on record: it cannot be kept. */
    fun forget(value: String) {
        known = text
        show(value)
    }

    private companion object {
        const val PAUSE = 600L
    }
}

/** Hides the system's keyboard. */
internal fun View.hideKeyboard() {
    val keyboard = context.getSystemService(android.view.inputmethod.InputMethodManager::class.java)
    keyboard?.hideSoftInputFromWindow(windowToken, 0)
}
