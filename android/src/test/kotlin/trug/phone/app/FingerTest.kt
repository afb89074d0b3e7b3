package trug.phone.app

import android.os.Looper
import android.os.SystemClock
import android.view.MotionEvent
import org.junit.Assert.assertEquals
import org.junit.Assert.assertTrue
import org.junit.Test
import org.junit.runner.RunWith
import org.robolectric.Robolectric
import org.robolectric.RobolectricTestRunner
import org.robolectric.Shadows.shadowOf
import org.robolectric.annotation.Config

/** A page does not change under a finger: the button that it is on would lose its touch. */
@RunWith(RobolectricTestRunner::class)
@Config(sdk = [34, 35])
class FingerTest {
    private val activity = Robolectric.buildActivity(MainActivity::class.java).setup().visible().get()
    private val core = (activity.application as App).core
    private val main = shadowOf(Looper.getMainLooper())

    @Test
    fun `answers wait until the finger is gone, and keep their order`() {
        settle { !core.isBusy }
        val answered = mutableListOf<Int>()
        touch(MotionEvent.ACTION_DOWN)
        for (number in 1..3) core.make({ number }) { answered += it.getOrThrow() }
        Thread.sleep(LONG_ENOUGH)
        main.idle()
        assertEquals(emptyList<Int>(), answered)
        assertTrue(core.isBusy)
        touch(MotionEvent.ACTION_UP)
        settle { !core.isBusy }
        assertEquals(listOf(1, 2, 3), answered)
    }

    private fun settle(done: () -> Boolean) {
        val until = System.nanoTime() + PATIENCE
        while (!done() && System.nanoTime() < until) main.idle()
        main.idle()
    }

    private fun touch(action: Int) {
        val now = SystemClock.uptimeMillis()
        activity.dispatchTouchEvent(MotionEvent.obtain(now, now, action, 1f, 1f, 0))
    }

    private companion object {
        const val LONG_ENOUGH = 500L
        const val PATIENCE = 20_000_000_000L
    }
}
