package trug.phone.everyone

import android.text.Layout
import android.text.StaticLayout
import android.widget.EditText
import android.widget.TextView

/** Whether words fit the room that they were given. */
internal object Fit {
    /** Something of it is not to be seen, and no scrolling brings it back. */
    fun isCut(view: TextView): Boolean {
        if (view.text.isEmpty()) return isHintCut(view)
        val layout = view.layout ?: return false
        val lines = 0 until layout.lineCount
        if (view is EditText) return false
        val isLong = layout.lineCount > view.maxLines.coerceAtLeast(1) || layout.height > view.high + 1
        return isLong || lines.any { layout.getEllipsisCount(it) > 0 || layout.getLineMax(it) > view.wide + 1 }
    }

    private fun isHintCut(view: TextView): Boolean {
        val hint = view.hint ?: return false
        if (view.maxLines == 1) return Layout.getDesiredWidth(hint, view.paint) > view.wide + 1
        val layout = StaticLayout.Builder.obtain(hint, 0, hint.length, view.paint, view.wide.coerceAtLeast(1)).build()
        return layout.lineCount > view.maxLines.coerceAtLeast(1) || layout.height > view.high + 1
    }

    /** A line ends within a word that has no hyphen there. The address of a source may, and a key or a hash. */
    fun isBroken(view: TextView): Boolean {
        val layout = view.layout ?: return false
        return (0 until layout.lineCount - 1).any { line -> isWithinWord(layout.text, layout.getLineEnd(line)) }
    }

    private fun isWithinWord(words: CharSequence, at: Int): Boolean {
        if (at !in 1 until words.length || !words[at - 1].isLetterOrDigit() || !words[at].isLetterOrDigit()) return false
        val word = words.substring(0, at).takeLastWhile { it != ' ' } + words.substring(at).takeWhile { it != ' ' }
        return word.length <= LONGEST && !word.dropLast(1).contains('.')
    }

    /** Longer words are of other languages, and names of things: a narrow page in large type has no room for them whole. */
    private const val LONGEST = 16

    private val TextView.high get() = height - compoundPaddingTop - compoundPaddingBottom

    private val TextView.wide get() = width - compoundPaddingLeft - compoundPaddingRight
}
