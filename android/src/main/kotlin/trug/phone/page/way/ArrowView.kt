package trug.phone.page.way

import android.graphics.Canvas
import android.graphics.Paint
import android.graphics.Path
import android.view.View
import trug.phone.draw.Ink

/** An arrow as on a chart, as large as its view; the words beside it say the same to whoever does not see it. */
internal class ArrowView(private val ink: Ink) : View(ink.context) {
    private val paint = Paint(Paint.ANTI_ALIAS_FLAG)
    private val path = Path()

    /** How far it is turned from the top of the page, in degrees clockwise. */
    var points = 0f
        set(to) {
            if (to == field) return
            field = to
            invalidate()
        }

    /** Whether it goes by an old position. */
    var isFaint = false
        set(to) {
            if (to == field) return
            field = to
            invalidate()
        }

    init {
        importantForAccessibility = IMPORTANT_FOR_ACCESSIBILITY_NO
        paint.strokeJoin = Paint.Join.MITER
    }

    override fun onSizeChanged(width: Int, height: Int, before: Int, beforeHeight: Int) {
        val (middle, tall) = width / 2f to height.toFloat()
        path.rewind()
        path.moveTo(middle, tall * TOP)
        path.lineTo(middle + tall * WING, tall * BOTTOM)
        path.lineTo(middle, tall * NOTCH)
        path.lineTo(middle - tall * WING, tall * BOTTOM)
        path.close()
    }

    override fun onDraw(on: Canvas) {
        paint.color = if (isFaint) ink.quiet else ink.text
        paint.style = if (isFaint) Paint.Style.STROKE else Paint.Style.FILL_AND_STROKE
        paint.strokeWidth = ink.dp(STROKE).toFloat()
        on.rotate(points, width / 2f, height / 2f)
        on.drawPath(path, paint)
    }

    private companion object {
        const val TOP = 0.06f
        const val BOTTOM = 0.9f
        const val NOTCH = 0.72f
        const val WING = 0.26f
        const val STROKE = 3
    }
}
