package trug.phone.page.find

import android.text.TextUtils
import android.view.View
import trug.core.FindPage
import trug.core.Kind
import trug.phone.R
import trug.phone.draw.Ink

/** The advice, one line first: always in view. Touched, it says why. */
internal class AdviceLine(private val desk: Desk) : Section {
    private val ink = desk.ink
    private val line = ink.words("", bold = true).apply { ellipsize = TextUtils.TruncateAt.END }
    private val why = ink.words(desk.words(R.string.find_why), colour = ink.touch)
    override val view = ink.column(line, why).apply {
        val (pad, gap) = ink.dp(Ink.MARGIN) to ink.dp(Ink.GAP)
        setPadding(pad, gap, pad, gap)
        minimumHeight = ink.dp(Ink.TARGET)
        isClickable = true
        isFocusable = true
        accessibilityLiveRegion = View.ACCESSIBILITY_LIVE_REGION_POLITE
        setOnClickListener { desk.turn(Part.WHY) }
        visibility = View.GONE
    }

    /** At length where the rest of it is read, else in a few lines. */
    fun show(page: FindPage, part: Part) {
        line.maxLines = if (part == Part.WHY) Int.MAX_VALUE else FEW
        why.visibility = if (part == Part.WHY) View.GONE else View.VISIBLE
        show(page)
    }

    override fun show(page: FindPage) {
        view.visibility = View.VISIBLE
        line.text = page.advice.firstLine
        view.contentDescription = desk.words(R.string.find_why_open, page.advice.firstLine)
        // What is to be left stands in a black-edged band, whatever the theme.
        view.background = ink.touchable(null, ink.text, if (page.advice.kind == Kind.LEAVE) EDGE else 1)
    }

    private companion object {
        const val EDGE = 4
        const val FEW = 4
    }
}
