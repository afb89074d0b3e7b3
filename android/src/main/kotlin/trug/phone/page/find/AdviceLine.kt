package trug.phone.page.find

import android.text.TextUtils
import android.view.View
import trug.core.FindPage
import trug.core.Kind
import trug.phone.R
import trug.phone.draw.Ink

/** The advice, one line first: always in view. Touched, it says why. */
internal class AdviceLine(private val desk: Desk) {
    private val ink = desk.ink
    private val line = ink.words("", bold = true).apply { ellipsize = TextUtils.TruncateAt.END }
    private val why = ink.words(desk.words(R.string.find_why), colour = ink.touch)
    val view = ink.column(line, why).apply {
        val (pad, gap) = ink.dp(Ink.MARGIN) to ink.dp(Ink.GAP)
        setPadding(pad, gap, pad, gap)
        minimumHeight = ink.dp(Ink.TARGET)
        isClickable = true
        isFocusable = true
        accessibilityLiveRegion = View.ACCESSIBILITY_LIVE_REGION_POLITE
        setOnClickListener { desk.turn(Part.WHY) }
        visibility = View.GONE
    }

    /** Shows the advice, at length where the rest of it is read, else in a few lines. */
    fun show(page: FindPage, part: Part) {
        view.visibility = View.VISIBLE
        line.text = page.advice.firstLine
        line.maxLines = if (part == Part.WHY) Int.MAX_VALUE else FEW
        why.visibility = if (part == Part.WHY) View.GONE else View.VISIBLE
        view.contentDescription = desk.words(R.string.find_why_open, page.advice.firstLine)
        view.background = if (page.advice.kind == Kind.LEAVE) ink.edge() else ink.touchable(null, ink.text)
    }

    private companion object {
        const val FEW = 4
    }
}
