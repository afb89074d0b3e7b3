package trug.phone.app

import android.os.Build
import android.view.Gravity
import android.view.View
import android.view.ViewGroup
import android.view.WindowInsets
import android.widget.FrameLayout
import android.widget.LinearLayout
import trug.phone.R
import trug.phone.draw.Ink

/** What stands around every page: the way back, its title, what is wrong, and *Someone is ill*. */
internal class Frame(private val ink: Ink, private val back: () -> Unit, private val ill: () -> Unit) {
    private val bar = LinearLayout(ink.context).apply {
        gravity = Gravity.CENTER_VERTICAL
        if (ink.largeType) orientation = LinearLayout.VERTICAL
    }
    private val complaint = ink.words("", bold = true).apply {
        accessibilityLiveRegion = View.ACCESSIBILITY_LIVE_REGION_ASSERTIVE
        val (pad, gap) = ink.dp(Ink.MARGIN) to ink.dp(Ink.GAP)
        setPadding(pad, gap, pad, gap)
        visibility = View.GONE
    }
    private val room = FrameLayout(ink.context)
    val view: View = ink.column(bar, ink.rule(), complaint).apply {
        getChildAt(1).layoutParams = ink.line(0)
        addView(room, LinearLayout.LayoutParams(ViewGroup.LayoutParams.MATCH_PARENT, 0, 1f))
        setBackgroundColor(ink.paper)
        setOnApplyWindowInsetsListener { view, insets -> insets.also { keepClear(view, it) } }
    }

    /** Shows a page; [deep] if there is a page before it. */
    fun show(page: Page, deep: Boolean) {
        bar.removeAllViews()
        val title = ink.context.getString(page.title)
        val first = LinearLayout(ink.context).apply { gravity = Gravity.CENTER_VERTICAL }
        if (deep) first.addView(ink.plain(ink.context.getString(R.string.app_back), back))
        val margin = ink.dp(if (deep) Ink.GAP else Ink.MARGIN)
        first.addView(
            ink.part(title).apply { setPadding(margin, 0, margin, 0) },
            LinearLayout.LayoutParams(0, ViewGroup.LayoutParams.WRAP_CONTENT, 1f),
        )
        // In large type, where not all three have room side by side, the last goes below.
        bar.addView(first, if (ink.largeType) ink.across() else LinearLayout.LayoutParams(0, ViewGroup.LayoutParams.WRAP_CONTENT, 1f))
        if (page.title != R.string.ill_title) bar.addView(ink.plain(ink.context.getString(R.string.app_ill), ill))
        bar.minimumHeight = ink.dp(Ink.TARGET)
        room.removeAllViews()
        room.addView(page.view, FrameLayout.LayoutParams(ViewGroup.LayoutParams.MATCH_PARENT, ViewGroup.LayoutParams.MATCH_PARENT))
        if (Build.VERSION.SDK_INT >= Build.VERSION_CODES.P) room.accessibilityPaneTitle = title
    }

    fun complain(words: String?) {
        complaint.text = words
        complaint.visibility = if (words.isNullOrEmpty()) View.GONE else View.VISIBLE
    }

    /** Nothing stands under the bars of the system, its notch or its keyboard. */
    private fun keepClear(view: View, insets: WindowInsets) {
        if (Build.VERSION.SDK_INT >= Build.VERSION_CODES.R) {
            val kept = insets.getInsets(WindowInsets.Type.systemBars() or WindowInsets.Type.displayCutout() or WindowInsets.Type.ime())
            view.setPadding(kept.left, kept.top, kept.right, kept.bottom)
        } else {
            @Suppress("DEPRECATION")
            insets.run { view.setPadding(systemWindowInsetLeft, systemWindowInsetTop, systemWindowInsetRight, systemWindowInsetBottom) }
        }
    }
}
