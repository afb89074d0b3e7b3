package trug.window

import android.graphics.Canvas
import android.graphics.Color
import android.graphics.Insets
import android.view.View
import android.view.WindowInsets
import android.view.inputmethod.InputMethodManager
import org.robolectric.RuntimeEnvironment
import org.robolectric.Shadows.shadowOf

/** The keyboard on the screen, as far as an app has to make room for it: it comes and goes as the app and its fields ask. */
internal class Keyboard {
    private val manager = RuntimeEnvironment.getApplication().getSystemService(InputMethodManager::class.java)
    private val known = mutableSetOf<View>()
    val isUp: Boolean get() = shadowOf(manager).isSoftInputVisible
    private var wasUp = false

    private val height: Int
        get() = RuntimeEnvironment.getApplication().resources.run {
            val isLow = configuration.screenHeightDp < configuration.screenWidthDp
            ((if (isLow) LOW else HIGH) * displayMetrics.density).toInt()
        }

    /** To be called as time passes, with the windows that are there: each learns how much of the screen is left to it. */
    fun serve(windows: List<View>) {
        for (window in windows.filter(known::add)) {
            window.setOnApplyWindowInsetsListener { view, insets ->
                view.onApplyWindowInsets(if (isUp) lessened(insets) else insets)
            }
        }
        known.retainAll(windows.toSet())
        if (isUp != wasUp) windows.forEach(View::requestApplyInsets)
        wasUp = isUp
    }

    private fun lessened(insets: WindowInsets) = WindowInsets.Builder(insets)
        .setInsets(WindowInsets.Type.ime(), Insets.of(0, 0, 0, height))
        .setVisible(WindowInsets.Type.ime(), true)
        .build()

    fun hide(window: View) {
        manager.hideSoftInputFromWindow(window.windowToken, 0)
    }

    /** A plain slab where its keys would be. */
    fun draw(canvas: Canvas) {
        if (!isUp) return
        val saved = canvas.save()
        canvas.clipRect(0, canvas.height - height, canvas.width, canvas.height)
        canvas.drawColor(Color.GRAY)
        canvas.restoreToCount(saved)
    }

    private companion object {
        /** Usual heights in dp on an upright phone and on one that lies on its side (from memory). */
        const val HIGH = 270
        const val LOW = 200
    }
}
