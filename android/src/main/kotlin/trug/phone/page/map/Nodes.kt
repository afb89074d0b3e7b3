package trug.phone.page.map

import android.graphics.Rect
import android.os.Build
import android.os.Bundle
import android.view.MotionEvent
import android.view.View
import android.view.accessibility.AccessibilityEvent
import android.view.accessibility.AccessibilityManager
import android.view.accessibility.AccessibilityNodeInfo
import android.view.accessibility.AccessibilityNodeInfo.AccessibilityAction
import android.view.accessibility.AccessibilityNodeProvider
import trug.phone.R
import trug.phone.draw.Ink
import trug.phone.words.listed

/**
 * The map for screen readers: all that can be touched in view is a node of its own, with its name, how far it is and which way; and the
 * map itself can be moved by its actions.
 */
internal class Nodes(private val map: MapView) : AccessibilityNodeProvider() {
    private val manager = map.context.getSystemService(AccessibilityManager::class.java)

    /** Numbers stay with their things while the map moves. */
    private val numbers = mutableMapOf<String, Int>()
    private var focused: Int? = null
    private var hovered: Int? = null

    override fun createAccessibilityNodeInfo(number: Int): AccessibilityNodeInfo? =
        if (number == View.NO_ID) host() else map.inView().find { number(it) == number }?.let { node(it, number) }

    @Suppress("DEPRECATION") // The constructors that replace obtain() need API 30.
    private fun host(): AccessibilityNodeInfo = AccessibilityNodeInfo.obtain(map).apply {
        map.onInitializeAccessibilityNodeInfo(this)
        map.inView().forEach { addChild(map, number(it)) }
        for ((action, words) in ACTIONS) addAction(AccessibilityAction(action, map.context.getString(words)))
    }

    @Suppress("DEPRECATION")
    private fun node(thing: Thing, number: Int): AccessibilityNodeInfo = AccessibilityNodeInfo.obtain(map, number).apply {
        setParent(map)
        packageName = map.context.packageName
        className = (if (thing.page != null) android.widget.Button::class else View::class).java.name
        contentDescription = map.resources.listed(listOf(thing.name, thing.about))
        isEnabled = true
        isVisibleToUser = true
        isFocusable = true
        isClickable = true
        isSelected = thing === map.chosen
        isAccessibilityFocused = number == focused
        addAction(AccessibilityAction.ACTION_CLICK)
        addAction(if (number == focused) AccessibilityAction.ACTION_CLEAR_ACCESSIBILITY_FOCUS else AccessibilityAction.ACTION_ACCESSIBILITY_FOCUS)
        val box = box(thing)
        setBoundsInParent(box)
        val corner = IntArray(2).also(map::getLocationOnScreen)
        setBoundsInScreen(Rect(box).apply { offset(corner[0], corner[1]) })
    }

    /** As large as a thumb needs, about the mark. */
    private fun box(thing: Thing): Rect {
        val spot = map.spot(thing) ?: return Rect()
        val half = (Ink.TARGET * map.resources.displayMetrics.density / 2).toInt()
        val (x, y) = spot.x.toInt() to spot.y.toInt()
        return Rect(x - half, y - half, x + half, y + half)
    }

    private fun number(thing: Thing): Int = numbers.getOrPut(thing.id) { numbers.size + 1 }

    override fun performAction(number: Int, action: Int, arguments: Bundle?): Boolean {
        if (number == View.NO_ID) return map.performAccessibilityAction(action, arguments)
        val thing = map.inView().find { number(it) == number } ?: return false
        when (action) {
            AccessibilityNodeInfo.ACTION_CLICK -> map.open(thing)
            AccessibilityNodeInfo.ACTION_ACCESSIBILITY_FOCUS -> focus(number)
            AccessibilityNodeInfo.ACTION_CLEAR_ACCESSIBILITY_FOCUS -> unfocus(number)
            else -> return false
        }
        return true
    }

    override fun findFocus(focus: Int): AccessibilityNodeInfo? =
        focused.takeIf { focus == AccessibilityNodeInfo.FOCUS_ACCESSIBILITY }?.let(::createAccessibilityNodeInfo)

    private fun focus(number: Int) {
        focused?.let(::unfocus)
        focused = number
        map.invalidate()
        tell(number, AccessibilityEvent.TYPE_VIEW_ACCESSIBILITY_FOCUSED)
    }

    private fun unfocus(number: Int) {
        if (focused != number) return
        focused = null
        map.invalidate()
        tell(number, AccessibilityEvent.TYPE_VIEW_ACCESSIBILITY_FOCUS_CLEARED)
    }

    /** A finger that explores: what is under it is read out. Whether it is on a thing. */
    fun hover(thing: Thing?, event: MotionEvent): Boolean {
        if (!manager.isTouchExplorationEnabled) return false
        val number = thing?.takeUnless { event.actionMasked == MotionEvent.ACTION_HOVER_EXIT }?.let(::number)
        if (number != hovered) {
            val before = hovered
            hovered = number
            number?.let { tell(it, AccessibilityEvent.TYPE_VIEW_HOVER_ENTER) }
            before?.let { tell(it, AccessibilityEvent.TYPE_VIEW_HOVER_EXIT) }
        }
        return number != null
    }

    /** Other things are in view, or the same elsewhere. */
    fun changed() {
        if (!manager.isEnabled) return
        val event = event(AccessibilityEvent.TYPE_WINDOW_CONTENT_CHANGED)
        event.contentChangeTypes = AccessibilityEvent.CONTENT_CHANGE_TYPE_SUBTREE
        event.setSource(map)
        map.parent?.requestSendAccessibilityEvent(map, event)
    }

    private fun tell(number: Int, type: Int) {
        if (!manager.isEnabled) return
        val thing = map.inView().find { number(it) == number }
        val event = event(type).apply {
            packageName = map.context.packageName
            className = View::class.java.name
            isEnabled = true
            contentDescription = thing?.let { map.resources.listed(listOf(it.name, it.about)) }
            setSource(map, number)
        }
        map.parent?.requestSendAccessibilityEvent(map, event)
    }

    @Suppress("DEPRECATION")
    private fun event(type: Int): AccessibilityEvent =
        if (Build.VERSION.SDK_INT >= Build.VERSION_CODES.R) AccessibilityEvent(type) else AccessibilityEvent.obtain(type)

    private companion object {
        val ACTIONS = listOf(
            R.id.map_move_north to R.string.map_move_north,
            R.id.map_move_south to R.string.map_move_south,
            R.id.map_move_east to R.string.map_move_east,
            R.id.map_move_west to R.string.map_move_west,
            R.id.map_closer to R.string.map_closer,
            R.id.map_farther to R.string.map_farther,
        )
    }
}
