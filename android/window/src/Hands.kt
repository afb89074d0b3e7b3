package trug.window

import android.graphics.Rect
import android.os.SystemClock
import android.view.InputDevice
import android.view.KeyEvent
import android.view.MotionEvent
import android.view.View
import android.view.WindowManager.LayoutParams
import android.view.inputmethod.EditorInfo
import android.view.inputmethod.InputConnection
import android.widget.AdapterView
import android.widget.TextView

/** Fingers on the screen, and what an input method does. Places are pixels of the screen. */
internal class Hands(
    private val screen: Screen,
    private val keyboard: Keyboard,
    private val pass: (Long) -> Unit,
) {
    private var since = 0L
    private var touched: Pane? = null

    fun down(x: Float, y: Float) {
        since = SystemClock.uptimeMillis()
        touched = null
        for (pane in screen.panes().asReversed().filter { it.takesTouches }) {
            if (pane.holds(x, y) || pane.isModal) {
                touched = pane
                break
            }
            if (pane.how.flags and LayoutParams.FLAG_WATCH_OUTSIDE_TOUCH != 0) send(pane, MotionEvent.ACTION_OUTSIDE, x, y)
        }
        touched?.let { send(it, MotionEvent.ACTION_DOWN, x, y) }
    }

    fun move(x: Float, y: Float) = touched?.let { send(it, MotionEvent.ACTION_MOVE, x, y) } ?: Unit

    fun up(x: Float, y: Float) {
        touched?.let { send(it, MotionEvent.ACTION_UP, x, y) }
        touched = null
    }

    private fun send(pane: Pane, action: Int, x: Float, y: Float) {
        if (!pane.view.isAttachedToWindow) return
        val event = MotionEvent.obtain(since, SystemClock.uptimeMillis(), action, x - pane.left, y - pane.top, 0)
        event.source = InputDevice.SOURCE_TOUCHSCREEN
        pane.view.dispatchTouchEvent(event)
        event.recycle()
    }

    fun touch(x: Float, y: Float, long: Boolean = false) {
        down(x, y)
        pass(if (long) LONG else SHORT)
        up(x, y)
    }

    /** A finger drawn across the screen, by so many of its halves to the right and down. */
    fun swipe(right: Int, down: Int) {
        val (x, y) = screen.size.let { it.x / 2f to it.y / 2f }
        val (farX, farY) = x * right * REACH to y * down * REACH
        down(x - farX / 2, y - farY / 2)
        for (step in 1..STEPS) {
            pass(STEP)
            move(x - farX / 2 + farX * step / STEPS, y - farY / 2 + farY * step / STEPS)
        }
        up(x + farX / 2, y + farY / 2)
    }

    /** Touches what reads [words], brought into sight first. */
    fun touch(words: String, long: Boolean = false) {
        val (_, hidden) = wanted(words)
        hidden.requestRectangleOnScreen(Rect(0, 0, hidden.width, hidden.height), true)
        pass(SHORT)
        // Looked for again: the page may have been drawn anew meanwhile.
        val (pane, view) = wanted(words)
        val around = generateSequence(view) { it.parent as? View }
        if (around.none { it.isClickable || it.isLongClickable || it.parent is AdapterView<*> }) {
            throw StepFailed("“$words” is not to be touched")
        }
        val seen = Rect()
        if (!view.getGlobalVisibleRect(seen)) throw StepFailed("“$words” cannot be brought into sight")
        touch(pane.left + seen.exactCenterX(), pane.top + seen.exactCenterY(), long)
    }

    private fun wanted(words: String) = find(words) ?: throw StepFailed("nothing reads “$words”")

    fun reads(words: String) = find(words) != null

    /**
     * What reads so, or else begins so, or else has it somewhere; what can be touched before what cannot. Of `A | B` the first
     * that is there.
     */
    private fun find(words: String): Pair<Pane, View>? {
        val all = screen.inReach().asReversed().flatMap { pane -> Screen.shown(pane.view).map { pane to it } }
        val wanted = words.split(" | ")
        return WAYS.firstNotNullOfOrNull { fits ->
            wanted.firstNotNullOfOrNull { word ->
                val found = all.filter { (_, view) -> Screen.wordsOf(view).any { fits(it, word) } }
                found.firstOrNull { (_, view) -> view.isClickable } ?: found.firstOrNull()
            }
        }
    }

    /** Types as an input method does, where the focus is. */
    fun type(words: String) = edit { it.commitText(words, 1) }

    fun empty() = edit {
        it.performContextMenuAction(android.R.id.selectAll)
        it.commitText("", 1)
    }

    private fun edit(act: (InputConnection) -> Unit) {
        val field = focused()?.findFocus()
        val connection = field?.onCreateInputConnection(EditorInfo()) ?: throw StepFailed("nothing waits to be typed into")
        act(connection)
    }

    fun key(code: Int) {
        val view = focused() ?: return
        val now = SystemClock.uptimeMillis()
        view.dispatchKeyEvent(KeyEvent(now, now, KeyEvent.ACTION_DOWN, code, 0))
        view.dispatchKeyEvent(KeyEvent(now, now, KeyEvent.ACTION_UP, code, 0))
    }

    /** Back: hides the keyboard first; goes to whoever registered for it; as a key where nobody did, as before API 33. */
    fun back() {
        val window = focused() ?: return
        if (keyboard.isUp) return keyboard.hide(window)
        val dispatcher = window.findOnBackInvokedDispatcher()
        val callback = dispatcher?.javaClass?.methods?.find { it.name == "getTopCallback" }?.invoke(dispatcher)
        if (callback is android.window.OnBackInvokedCallback) callback.onBackInvoked() else key(KeyEvent.KEYCODE_BACK)
    }

    private fun focused(): View? = screen.panes().lastOrNull { it.takesFocus }?.view

    private companion object {
        val WAYS = listOf<(String, String) -> Boolean>(
            { text, word -> text == word },
            { text, word -> text.startsWith(word) },
            { text, word -> word in text },
        )

        /** Milliseconds that a finger stays. */
        const val SHORT = 50L
        const val LONG = 700L
        const val STEP = 10L
        const val STEPS = 12
        const val REACH = 0.8f
    }
}
