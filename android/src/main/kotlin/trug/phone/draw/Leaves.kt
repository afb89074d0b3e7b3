package trug.phone.draw

import android.view.Gravity
import android.view.View
import android.view.ViewGroup
import android.widget.LinearLayout
import android.widget.ScrollView

/**
 * A leaf of a page: what scrolls, and at the thumb, behind a rule, what to do next: below it, or beside it where the screen is so low
 * that little would be left between the two. What stands [above] stays in view; in large type, which would leave the rest no room, and
 * on a low screen it scrolls along.
 */
internal class Leaves(private val ink: Ink, private val above: View? = null) {
    private val isLow = ink.context.resources.configuration.screenHeightDp < LOW
    private val scrollsAlong = isLow || ink.largeType
    private val isRightToLeft = ink.context.resources.configuration.layoutDirection == View.LAYOUT_DIRECTION_RTL
    private val scroll = ScrollView(ink.context).apply { isFillViewport = true }
    private val thumb = LinearLayout(ink.context).apply {
        val pad = ink.dp(Ink.GAP)
        setPadding(pad * 2, pad, pad * 2, pad)
        // What stands at the end for a right thumb stands at the start for a left one.
        if (ink.leftHanded) layoutDirection = if (isRightToLeft) View.LAYOUT_DIRECTION_LTR else View.LAYOUT_DIRECTION_RTL
    }
    private val rule = ink.rule()
    val view: LinearLayout = ink.column(above.takeUnless { scrollsAlong }).apply {
        addView(scroll, LinearLayout.LayoutParams(FILL, 0, 1f))
    }.let { page ->
        if (isLow) {
            LinearLayout(ink.context).apply {
                thumb.gravity = Gravity.BOTTOM
                val high = ScrollView(ink.context).apply {
                    isFillViewport = true
                    addView(thumb)
                }
                val columns = listOf(
                    page to LinearLayout.LayoutParams(0, FILL, 1f),
                    rule to LinearLayout.LayoutParams(ink.dp(1), FILL),
                    high to LinearLayout.LayoutParams(ink.dp(BESIDE), FILL),
                )
                for ((column, room) in if (ink.leftHanded) columns.reversed() else columns) addView(column, room)
            }
        } else {
            page.apply {
                addView(rule, ink.line(0))
                addView(thumb)
            }
        }
    }

    /** How far it is scrolled. */
    var scrolled: Int
        get() = scroll.scrollY
        set(to) {
            scroll.post { scroll.scrollTo(0, to) }
        }

    /** Another leaf. */
    fun show(body: View, below: View?) {
        val margin = ink.dp(Ink.MARGIN)
        scroll.removeAllViews()
        body.setPadding(margin, margin, margin, margin)
        (above?.parent as? ViewGroup)?.takeIf { scrollsAlong }?.removeView(above)
        scroll.addView(if (scrollsAlong && above != null) ink.column(above, body) else body)
        below(below)
    }

    /** Something else at the thumb. */
    fun below(below: View?) {
        thumb.removeAllViews()
        below?.let { thumb.addView(it, ink.across()) }
        for (part in listOf(rule, thumb)) part.visibility = if (below == null) View.GONE else View.VISIBLE
    }

    private companion object {
        const val FILL = ViewGroup.LayoutParams.MATCH_PARENT

        /** Lower than this, in dp, is a phone on its side. */
        const val LOW = 480
        const val BESIDE = 280
    }
}
