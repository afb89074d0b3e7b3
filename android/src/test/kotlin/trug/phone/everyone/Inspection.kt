package trug.phone.everyone

import android.graphics.Rect
import android.os.Build
import android.view.View
import android.view.ViewGroup
import android.view.accessibility.AccessibilityNodeInfo
import android.widget.Checkable
import android.widget.EditText
import android.widget.HorizontalScrollView
import android.widget.ImageView
import android.widget.ScrollView
import android.widget.TextView
import trug.phone.R
import trug.phone.draw.Ink

/**
 * Goes over everything that is on a window and finds what would keep somebody from it: who cannot see it, sees it at 200 %, has
 * large thumbs, or no hands for a screen. By WCAG 2.1 (1.1.1, 1.3.1, 1.3.2, 1.4.3, 1.4.4, 1.4.10, 2.1.1, 2.4.6, 2.4.9, 4.1.2); 48 dp
 * is what Android's own guidance asks for.
 */
internal class Inspection(private val root: View) {
    private val density = root.resources.displayMetrics.density
    private val shown = all(root).filter { it.isShown && it.width > 0 && it.height > 0 }
    private val back = root.context.getString(R.string.app_back)

    // Text that can be selected takes touches too, and is read as text.
    private val touchable = shown.filter { it is EditText || (it.isClickable && !(it is TextView && it.isTextSelectable)) }
    private val drawn = Drawn(root)

    /** How many nodes were looked at: views, and what views draw and name themselves. */
    val nodes: Int get() = shown.size + shown.sumOf { virtual(it).size }

    fun findings(): List<Finding> = touched() + written() + virtuals() + listOfNotNull(headless())

    private fun touched(): List<Finding> = buildList {
        for (view in touchable) {
            val name = spoken(view)
            if (name.isBlank()) add(Finding(Flaw.UNNAMED, view.javaClass.simpleName))
            if (view.width < LEAST * density - 1 || view.height < LEAST * density - 1) add(Finding(Flaw.SMALL, "$name ${view.width}×${view.height}"))
            if (!view.isFocusable) add(Finding(Flaw.KEYS, name))
            if (!hasRole(view)) add(Finding(Flaw.ROLE, name))
        }
        // Back is on every page, and may stand at the thumb as well. Two records may be alike in all that a row tells of them.
        val ownWords = touchable.filter { it is TextView || it is Checkable }
        val names = ownWords.groupBy(::spoken).filter { (name, views) -> name.isNotBlank() && name != back && views.size > 1 }
        names.forEach { (name, _) -> add(Finding(Flaw.SAME, name)) }
        val rooms = touchable.map { it to seen(it) }
        for ((at, one) in rooms.withIndex()) {
            for (other in rooms.drop(at + 1)) {
                val (first, second) = one.second to other.second
                if (first == null || second == null || holds(one.first, other.first) || holds(other.first, one.first)) continue
                if (Rect(first).intersect(second)) add(Finding(Flaw.OVER, "${spoken(one.first)} / ${spoken(other.first)}"))
            }
        }
        for ((before, after) in touchable.zipWithNext()) {
            val (first, second) = if (scroll(before) === scroll(after)) room(before) to room(after) else clipped(before) to clipped(after)
            // In a column of its own, beside what was read before, it may begin above it.
            val beside = if (isMirrored()) second.right <= first.left else second.left >= first.right
            if (second.bottom <= first.top && second.top < first.top && !beside) add(Finding(Flaw.ORDER, spoken(before)))
        }
    }

    private fun written(): List<Finding> = buildList {
        for (view in shown) {
            if (isBeyond(view)) add(Finding(Flaw.OUTSIDE, spoken(view).ifBlank { view.javaClass.simpleName }))
            if (view is ImageView && view.drawable != null && isRead(view) && spoken(view).isBlank() && !view.isClickable) {
                add(Finding(Flaw.PICTURE, view.javaClass.simpleName))
            }
        }
        for (view in shown.filterIsInstance<TextView>()) {
            val words = view.text.ifEmpty { view.hint ?: "" }
            if (words.isEmpty()) continue
            if (Fit.isCut(view)) add(Finding(Flaw.CUT, words.toString()))
            if (Fit.isBroken(view)) add(Finding(Flaw.BROKEN, words.toString()))
            drawn.contrast(view)?.let { if (it < CONTRAST) add(Finding(Flaw.PALE, "$words %.2f".format(it))) }
            if (!isRead(view)) continue
            val isHead = view.textSize >= sp(Ink.HEAD) - 1 && view.typeface?.isBold == true && !view.isClickable && view !is EditText
            if (isHead && Build.VERSION.SDK_INT >= Build.VERSION_CODES.P && !view.isAccessibilityHeading) add(Finding(Flaw.HEADING, words.toString()))
        }
    }

    /** What a view draws by itself has names and room as well. */
    private fun virtuals(): List<Finding> = shown.flatMap { view ->
        virtual(view).flatMap { node ->
            val room = Rect().also(node::getBoundsInScreen)
            val name = (node.contentDescription ?: node.text ?: "").toString()
            listOfNotNull(
                if (name.isBlank()) Finding(Flaw.UNNAMED, "within ${spoken(view)}") else null,
                if (node.isClickable && (room.width() < LEAST * density - 1 || room.height() < LEAST * density - 1)) {
                    Finding(Flaw.SMALL, "$name ${room.width()}×${room.height()}")
                } else {
                    null
                },
            )
        }
    }

    private fun virtual(view: View): List<AccessibilityNodeInfo> {
        val provider = view.accessibilityNodeProvider ?: return emptyList()
        val host = provider.createAccessibilityNodeInfo(View.NO_ID) ?: return emptyList()
        return host.childIds().mapNotNull(provider::createAccessibilityNodeInfo)
    }

    /** A page of more than a few lines has headings to jump between. */
    private fun headless(): Finding? {
        if (Build.VERSION.SDK_INT < Build.VERSION_CODES.P) return null
        // The page's own: its title, which is on every page, does not count.
        val texts = shown.filterIsInstance<ScrollView>().flatMap(::all).filterIsInstance<TextView>().filter { it.isShown }
        return if (texts.size > FEW && texts.none { it.isAccessibilityHeading }) Finding(Flaw.HEADLESS, spoken(texts.first())) else null
    }

    private fun hasRole(view: View): Boolean {
        if (view is EditText) return true
        val node = AccessibilityNodeInfo.obtain(view).also(view::onInitializeAccessibilityNodeInfo)
        return node.isCheckable || node.className in ROLES || virtual(view).isNotEmpty()
    }

    /** A screen reader comes to it, and not only to something around it that speaks for it. */
    private fun isRead(view: View) = generateSequence(view) { it.parent as? View }.none { around ->
        around.importantForAccessibility == View.IMPORTANT_FOR_ACCESSIBILITY_NO_HIDE_DESCENDANTS ||
            (around !== view && around.isClickable && !around.contentDescription.isNullOrBlank())
    } && view.importantForAccessibility != View.IMPORTANT_FOR_ACCESSIBILITY_NO

    /** What can be scrolled to is not beyond; what is cut at the side is. */
    private fun isBeyond(view: View): Boolean {
        val parent = view.parent as? ViewGroup ?: return false
        if (parent is HorizontalScrollView) return false
        val beside = view.left + view.translationX < -1 || view.right + view.translationX > parent.width + 1
        val below = parent !is ScrollView && view.bottom > parent.height + 1
        return beside || below
    }

    private fun seen(view: View): Rect? = Rect().takeIf { view.getGlobalVisibleRect(it) }

    private fun room(view: View): Rect {
        val at = IntArray(2).also(view::getLocationInWindow)
        return Rect(at[0], at[1], at[0] + view.width, at[1] + view.height)
    }

    private fun scroll(view: View) = generateSequence(view.parent as? View) { it.parent as? View }.firstOrNull { it is ScrollView }

    /** What is scrolled away lies at the edge behind which it is, not over what stands there. */
    private fun clipped(view: View): Rect {
        val (room, edges) = room(view) to (scroll(view)?.let(::room) ?: return room(view))
        return Rect(room.left, room.top.coerceIn(edges.top, edges.bottom), room.right, room.bottom.coerceIn(edges.top, edges.bottom))
    }

    private fun holds(one: View, other: View) = generateSequence(other.parent) { it.parent }.any { it === one }

    private fun isMirrored() = root.layoutDirection == View.LAYOUT_DIRECTION_RTL

    private fun sp(size: Float) = size * root.resources.displayMetrics.scaledDensity

    private companion object {
        const val LEAST = 48
        const val CONTRAST = 4.5
        const val FEW = 8
        val ROLES = setOf("android.widget.Button", "android.widget.CheckBox", "android.widget.RadioButton", "android.widget.ImageButton", "android.widget.SeekBar")
    }
}

/** The children that a node claims, which the framework keeps to itself. */
private fun AccessibilityNodeInfo.childIds(): List<Int> {
    val id = AccessibilityNodeInfo::class.java.getMethod("getChildId", Int::class.javaPrimitiveType)
    return (0 until childCount).map { (id.invoke(this, it) as Long shr Int.SIZE_BITS).toInt() }
}
