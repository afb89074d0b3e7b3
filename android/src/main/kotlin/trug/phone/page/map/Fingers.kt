package trug.phone.page.map

import android.animation.ValueAnimator
import android.content.Context
import android.view.GestureDetector
import android.view.MotionEvent
import android.view.ViewConfiguration
import android.widget.OverScroller
import kotlin.math.abs
import kotlin.math.hypot

/** What fingers do to the map. */
internal interface Fingered {
    fun drag(x: Float, y: Float)

    fun closer(times: Double, x: Float, y: Float)

    fun touch(x: Float, y: Float)

    /** Nothing moves any more. */
    fun settled()

    /** Something moves by itself: this goes on with it at the next picture. */
    fun next(step: Runnable)
}

/** Fingers on the map: one draws it along or touches, two pinch; a double tap goes closer in, a tap of two fingers farther out. */
internal class Fingers(context: Context, private val map: Fingered) {
    private val slop = ViewConfiguration.get(context).scaledTouchSlop
    private val scroller = OverScroller(context)
    private var flungX = 0
    private var flungY = 0
    private val onward = Runnable(::run)

    // Two fingers: how far apart they were last, and what may yet become a tap of both.
    private var span = 0f
    private var bothSince = 0L
    private var bothSpan = 0f
    private var bothDrawn = 0f
    private var mayBeTap = false

    private val detector = GestureDetector(
        context,
        object : GestureDetector.SimpleOnGestureListener() {
            override fun onDown(event: MotionEvent) = true

            override fun onScroll(from: MotionEvent?, to: MotionEvent, x: Float, y: Float): Boolean {
                bothDrawn += hypot(x, y)
                map.drag(-x, -y)
                return true
            }

            override fun onFling(from: MotionEvent?, to: MotionEvent, x: Float, y: Float): Boolean {
                fling(x, y)
                return true
            }

            override fun onDoubleTap(event: MotionEvent): Boolean {
                map.closer(TWICE, event.x, event.y)
                return true
            }

            override fun onSingleTapConfirmed(event: MotionEvent): Boolean {
                map.touch(event.x, event.y)
                return true
            }
        },
    ).apply { setIsLongpressEnabled(false) }

    fun feel(event: MotionEvent) {
        if (event.actionMasked == MotionEvent.ACTION_DOWN) stop()
        detector.onTouchEvent(event)
        when (event.actionMasked) {
            MotionEvent.ACTION_POINTER_DOWN -> both(event)
            MotionEvent.ACTION_MOVE -> if (event.pointerCount == 2) pinch(event)
            MotionEvent.ACTION_POINTER_UP -> if (event.pointerCount == 2) lift(event)
            MotionEvent.ACTION_UP, MotionEvent.ACTION_CANCEL -> if (scroller.isFinished) map.settled()
        }
    }

    private fun both(event: MotionEvent) {
        mayBeTap = event.pointerCount == 2
        if (!mayBeTap) return
        bothSince = event.eventTime
        bothDrawn = 0f
        span = apart(event)
        bothSpan = span
    }

    private fun pinch(event: MotionEvent) {
        val now = apart(event)
        // Two fingers that hardly part from each other draw the map along, or tap.
        if (mayBeTap && abs(now - bothSpan) < slop) return
        mayBeTap = false
        if (span > slop && now > slop) map.closer((now / span).toDouble(), (event.getX(0) + event.getX(1)) / 2, (event.getY(0) + event.getY(1)) / 2)
        span = now
    }

    private fun lift(event: MotionEvent) {
        val isTap = mayBeTap && bothDrawn < slop && event.eventTime - bothSince < ViewConfiguration.getDoubleTapTimeout()
        mayBeTap = false
        if (isTap) map.closer(1 / TWICE, (event.getX(0) + event.getX(1)) / 2, (event.getY(0) + event.getY(1)) / 2)
    }

    private fun apart(event: MotionEvent) = hypot(event.getX(0) - event.getX(1), event.getY(0) - event.getY(1))

    /** Runs on after a flick, unless its owner wants nothing to move by itself. */
    private fun fling(x: Float, y: Float) {
        if (!ValueAnimator.areAnimatorsEnabled()) return
        flungX = 0
        flungY = 0
        scroller.fling(0, 0, x.toInt(), y.toInt(), -FAR, FAR, -FAR, FAR)
        map.next(onward)
    }

    private fun run() {
        if (scroller.isFinished) return
        if (scroller.computeScrollOffset()) {
            map.drag((scroller.currX - flungX).toFloat(), (scroller.currY - flungY).toFloat())
            flungX = scroller.currX
            flungY = scroller.currY
            map.next(onward)
        }
        if (scroller.isFinished) map.settled()
    }

    fun stop() = scroller.forceFinished(true)

    private companion object {
        const val TWICE = 2.0
        const val FAR = 1_000_000
    }
}
