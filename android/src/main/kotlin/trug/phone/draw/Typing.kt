package trug.phone.draw

import android.text.Editable
import android.text.InputType
import android.text.TextWatcher
import android.text.method.DigitsKeyListener
import android.view.View
import android.view.inputmethod.EditorInfo
import android.view.inputmethod.InputMethodManager
import android.widget.EditText
import trug.phone.words.plainNumber

/** Tells every change of what is typed, from now on. */
internal fun EditText.onTyped(told: (String) -> Unit) = addTextChangedListener(object : TextWatcher {
    override fun beforeTextChanged(text: CharSequence, start: Int, count: Int, after: Int) = Unit

    override fun onTextChanged(text: CharSequence, start: Int, before: Int, count: Int) = Unit

    override fun afterTextChanged(text: Editable) = told(text.toString())
})

/** Takes numbers with a fraction, after a point or a comma: whichever the keyboard has. */
internal fun EditText.takeFractions() {
    keyListener = DigitsKeyListener.getInstance("0123456789.,")
    setRawInputType(InputType.TYPE_CLASS_NUMBER or InputType.TYPE_NUMBER_FLAG_DECIMAL)
}

/**
 * A field that keeps what is typed into it: a moment after the last letter, and at once when it is left. What the page knows
 * better never overwrites what somebody is typing, nor the same number written otherwise, nor what could not be kept.
 */
internal class Field(ink: Ink, label: String, private val kind: Kind = Kind.TEXT, private val keeping: Field.(String) -> Unit) {
    /** What is typed. */
    enum class Kind(val input: Int) {
        WHOLE(InputType.TYPE_CLASS_NUMBER),
        DECIMAL(InputType.TYPE_CLASS_NUMBER or InputType.TYPE_NUMBER_FLAG_DECIMAL),
        TEXT(InputType.TYPE_CLASS_TEXT or InputType.TYPE_TEXT_FLAG_CAP_SENTENCES),
        LINES(InputType.TYPE_CLASS_TEXT or InputType.TYPE_TEXT_FLAG_CAP_SENTENCES or InputType.TYPE_TEXT_FLAG_MULTI_LINE),
        NAME(InputType.TYPE_CLASS_TEXT or InputType.TYPE_TEXT_FLAG_NO_SUGGESTIONS),

        /** A long line that is pasted, seen whole. */
        CODE(InputType.TYPE_CLASS_TEXT or InputType.TYPE_TEXT_FLAG_NO_SUGGESTIONS or InputType.TYPE_TEXT_FLAG_MULTI_LINE),

        /** A passphrase, in the open: several words are not typed blind. No keyboard is to learn them. */
        SECRET(InputType.TYPE_CLASS_TEXT or InputType.TYPE_TEXT_VARIATION_VISIBLE_PASSWORD or InputType.TYPE_TEXT_FLAG_NO_SUGGESTIONS),
        ;

        /** Whether it may take several lines. */
        val isTall: Boolean get() = this == LINES || this == CODE
    }

    val view = EditText(ink.context).apply {
        ink.print(this)
        hint = label
        contentDescription = null
        inputType = kind.input
        isSingleLine = !kind.isTall
        if (kind == Kind.DECIMAL) takeFractions()
        if (!kind.isTall) ink.wrap(this)
        // Turned on its side, the keyboard must not take the whole page, the advice with it.
        imeOptions = EditorInfo.IME_FLAG_NO_FULLSCREEN or
            (if (kind.isTall) EditorInfo.IME_ACTION_NONE else EditorInfo.IME_ACTION_NEXT) or
            (if (kind == Kind.SECRET) EditorInfo.IME_FLAG_NO_PERSONALIZED_LEARNING else 0)
        if (kind == Kind.SECRET) importantForAutofill = View.IMPORTANT_FOR_AUTOFILL_NO
    }

    /** What needs no keeping: what is on record, or on its way there. */
    private var known = ""
    private var recorded = ""
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
        val isNewer = text != known
        recorded = value
        known = value
        if (isNewer) return
        if (meant(text) == meant(value)) {
            known = text
            return
        }
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
        keeping(text)
    }

    /** What was kept last is not on record after all: it stands here still, and is tried again when the field is left. */
    fun refused() {
        known = recorded
    }

    /** Gives up what is typed for what is on record: it cannot be kept. */
    fun forget(value: String) {
        known = text
        show(value)
    }

    /** "35", "35." and "35,0" are one number. */
    private fun meant(typed: String): Any =
        if (kind == Kind.WHOLE || kind == Kind.DECIMAL) plainNumber(typed).toDoubleOrNull() ?: typed else typed

    private companion object {
        const val PAUSE = 600L
    }
}

/** Hides the system's keyboard. */
internal fun View.hideKeyboard() {
    keyboard?.hideSoftInputFromWindow(windowToken, 0)
}

/** A field that a page is there for is typed into at once. */
internal fun EditText.showKeyboard() {
    requestFocus()
    post { keyboard?.showSoftInput(this, 0) }
}

private val View.keyboard get() = context.getSystemService(InputMethodManager::class.java)
