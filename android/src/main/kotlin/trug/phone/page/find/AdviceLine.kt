package trug.phone.page.find

import android.view.View
import trug.core.FindPage
import trug.core.Kind
import trug.phone.R
import trug.phone.draw.Ink
import trug.phone.draw.onTouch

/** The advice, the answer first: always in view, unless large type or a low screen leave no room for both. Touched, it says why. */
internal class AdviceLine(private val desk: Desk) {
    private val ink = desk.ink
    private val line = ink.words("", bold = true)
    private val why = ink.words(desk.words(R.string.find_why), colour = ink.touch)
    val view = ink.column(line, why).apply {
        val (pad, gap) = ink.dp(Ink.MARGIN) to ink.dp(Ink.GAP)
        setPadding(pad, gap, pad, gap)
        minimumHeight = ink.dp(Ink.TARGET)
        onTouch { desk.turn(Part.WHY) }
        accessibilityLiveRegion = View.ACCESSIBILITY_LIVE_REGION_POLITE
        visibility = View.GONE
    }

    /** Shows the advice, at length where the rest of it is read, else the answer alone. */
    fun show(page: FindPage, part: Part) {
        view.visibility = View.VISIBLE
        line.text = if (part == Part.WHY) page.advice.firstLine else page.advice.brief
        why.visibility = if (part == Part.WHY) View.GONE else View.VISIBLE
        view.contentDescription = desk.words(R.string.find_why_open, page.advice.firstLine)
        view.background = if (page.advice.kind == Kind.LEAVE) ink.edge() else ink.touchable(null, ink.text)
    }
}
