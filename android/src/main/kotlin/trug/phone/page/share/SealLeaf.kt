package trug.phone.page.share

import android.text.InputType
import android.view.View
import android.view.inputmethod.EditorInfo
import android.widget.EditText
import trug.phone.R
import trug.phone.draw.onTyped
import trug.phone.draw.put

/**
 * The passphrase, typed twice: one that was mistyped would open nothing ever again. It is written down nowhere, neither for the
 * keyboard nor for the day on which the process ends.
 */
internal class SealLeaf(private val sharing: Sharing) {
    private val ink = sharing.ink
    private val first = field(R.string.share_passphrase_hint)
    private val second = field(R.string.share_passphrase_again)
    private val wrong = ink.words("", bold = true).apply { accessibilityLiveRegion = View.ACCESSIBILITY_LIVE_REGION_ASSERTIVE }
    val view: View = ink.column(ink.head(sharing.words(R.string.share_passphrase))).apply {
        put(ink, ink.words(sharing.words(R.string.share_passphrase_why), colour = ink.quiet))
        put(ink, first)
        put(ink, second)
        put(ink, wrong)
    }
    val thumb: View get() = ink.thumb(sharing.words(R.string.share_make), ::make)

    /** What is typed so far; none where nothing is. */
    val typed: Pair<String, String>? get() = (first.text.toString() to second.text.toString()).takeIf { it.first.isNotEmpty() || it.second.isNotEmpty() }

    fun fill(typed: Pair<String, String>?) {
        first.setText(typed?.first.orEmpty())
        second.setText(typed?.second.orEmpty())
        wrong.text = ""
    }

    private fun make() {
        val (once, again) = first.text.toString() to second.text.toString()
        when {
            once.isEmpty() -> wrong.text = sharing.words(R.string.share_passphrase_empty)
            once != again -> wrong.text = sharing.words(R.string.share_passphrase_differs)
            else -> sharing.make(agreed = true, passphrase = once)
        }
    }

    private fun field(label: Int) = EditText(ink.context).apply {
        ink.print(this)
        hint = sharing.words(label)
        inputType = InputType.TYPE_CLASS_TEXT or InputType.TYPE_TEXT_VARIATION_PASSWORD
        imeOptions = EditorInfo.IME_FLAG_NO_FULLSCREEN or EditorInfo.IME_FLAG_NO_PERSONALIZED_LEARNING
        isSaveEnabled = false
        importantForAutofill = View.IMPORTANT_FOR_AUTOFILL_NO
        onTyped { wrong.text = "" }
    }
}
