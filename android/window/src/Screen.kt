package trug.window

import android.app.Activity
import android.graphics.Bitmap
import android.graphics.Canvas
import android.graphics.Color
import android.graphics.Point
import android.graphics.Rect
import android.os.SystemClock
import android.view.Gravity
import android.view.View
import android.view.ViewGroup
import android.view.WindowManager
import android.view.WindowManager.LayoutParams
import android.view.inspector.WindowInspector
import android.widget.TextView
import java.io.ByteArrayOutputStream
import java.nio.ByteBuffer
import java.util.zip.CRC32
import org.robolectric.RuntimeEnvironment
import org.robolectric.shadow.api.Shadow
import org.robolectric.shadows.ShadowView

/** A window and where it stands on the screen, in pixels. */
internal class Pane(val view: View, val how: LayoutParams, val left: Int, val top: Int) {
    val takesFocus get() = how.flags and LayoutParams.FLAG_NOT_FOCUSABLE == 0
    val takesTouches get() = how.flags and LayoutParams.FLAG_NOT_TOUCHABLE == 0

    /** Whether touches beside it are its own too, and reach nothing below. */
    val isModal get() = how.flags and (LayoutParams.FLAG_NOT_TOUCH_MODAL or LayoutParams.FLAG_NOT_FOCUSABLE) == 0

    fun holds(x: Float, y: Float) = x >= left && y >= top && x < left + view.width && y < top + view.height
}

/** What there is to see: every window, from the lowest up, placed as a window manager would. */
internal class Screen(private val top: () -> Activity?, private val keyboard: Keyboard) {
    private var drawn: Bitmap? = null
    private val setDrawingTime = ShadowView::class.java.getDeclaredMethod("setDrawingTime", Long::class.javaPrimitiveType)
        .apply { isAccessible = true }

    @Suppress("DEPRECATION")
    val size: Point
        get() = Point().also {
            RuntimeEnvironment.getApplication().getSystemService(WindowManager::class.java).defaultDisplay.getRealSize(it)
        }

    fun panes(): List<Pane> {
        val screen = size.let { Rect(0, 0, it.x, it.y) }
        val panes = mutableListOf<Pane>()
        for (view in WindowInspector.getGlobalWindowViews()) {
            val how = view.layoutParams as? LayoutParams ?: continue
            if (view.width == 0 || view.visibility != View.VISIBLE) continue
            // Of the Activities only the one on top is in sight.
            if (how.type == LayoutParams.TYPE_BASE_APPLICATION && top()?.window?.peekDecorView() !== view) continue
            panes += place(view, how, screen, panes)
        }
        return panes
    }

    private fun place(view: View, how: LayoutParams, screen: Rect, below: List<Pane>): Pane {
        if (how.width == LayoutParams.MATCH_PARENT && how.height == LayoutParams.MATCH_PARENT) return Pane(view, how, 0, 0)
        val isPart = how.type in LayoutParams.FIRST_SUB_WINDOW..LayoutParams.LAST_SUB_WINDOW
        val parent = if (isPart) below.lastOrNull { it.view.windowToken === how.token } else null
        val room = parent?.let { Rect(it.left, it.top, it.left + it.view.width, it.top + it.view.height) } ?: screen
        val placed = Rect()
        Gravity.apply(if (how.gravity == 0) Gravity.CENTER else how.gravity, view.width, view.height, room, how.x, how.y, placed)
        Gravity.applyDisplay(how.gravity, screen, placed)
        return Pane(view, how, placed.left, placed.top)
    }

    /** The screen as it is now. The same bitmap every time, as long as its size stays. */
    fun draw(): Bitmap {
        val size = size
        val bitmap = drawn?.takeIf { it.width == size.x && it.height == size.y }
            ?: Bitmap.createBitmap(size.x, size.y, Bitmap.Config.ARGB_8888).also { drawn = it }
        val canvas = Canvas(bitmap)
        canvas.drawColor(Color.BLACK)
        for (pane in panes()) {
            if (pane.how.flags and LayoutParams.FLAG_DIM_BEHIND != 0) {
                canvas.drawColor(Color.argb((pane.how.dimAmount * OPAQUE).toInt(), 0, 0, 0))
            }
            // Animations move by being drawn, to where they are at this time.
            setDrawingTime.invoke(Shadow.extract<ShadowView>(pane.view), SystemClock.uptimeMillis())
            val saved = canvas.save()
            canvas.translate(pane.left.toFloat(), pane.top.toFloat())
            pane.view.draw(canvas)
            canvas.restoreToCount(saved)
        }
        keyboard.draw(canvas)
        return bitmap
    }

    /** A sum over what is seen: the same as long as nothing changes. */
    fun sum(): Long {
        val bitmap = draw()
        val pixels = ByteBuffer.allocate(bitmap.byteCount)
        bitmap.copyPixelsToBuffer(pixels)
        return CRC32().apply { update(pixels.array()) }.value
    }

    fun png(): ByteArray = pack(Bitmap.CompressFormat.PNG, BEST)

    fun jpeg(): ByteArray = pack(Bitmap.CompressFormat.JPEG, CLEAR)

    private fun pack(form: Bitmap.CompressFormat, quality: Int) =
        ByteArrayOutputStream().also { draw().compress(form, quality, it) }.toByteArray()

    /** All that can be read, from the top of the screen down. */
    fun texts(): List<String> = inReach().flatMap { pane -> shown(pane.view).mapNotNull { wordsOf(it).firstOrNull() } }.distinct()

    /** The windows that can be touched: those that no modal one stands before. */
    fun inReach(): List<Pane> {
        val panes = panes()
        return panes.drop(panes.indexOfLast { it.isModal }.coerceAtLeast(0))
    }

    companion object {
        private const val OPAQUE = 255
        private const val BEST = 100
        private const val CLEAR = 90

        fun shown(view: View): Sequence<View> = sequence {
            if (view.visibility != View.VISIBLE) return@sequence
            yield(view)
            if (view is ViewGroup) for (at in 0 until view.childCount) yieldAll(shown(view.getChildAt(at)))
        }

        /** What a view says of itself: first what a screen reader reads, then what is seen. */
        fun wordsOf(view: View): List<String> = listOf(view.contentDescription, (view as? TextView)?.text, (view as? TextView)?.hint)
            .filterNot { it.isNullOrBlank() }.map { it.toString() }
    }
}
