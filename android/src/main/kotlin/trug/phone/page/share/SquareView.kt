package trug.phone.page.share

import android.annotation.SuppressLint
import android.graphics.Canvas
import android.graphics.Paint
import android.graphics.Typeface
import android.util.TypedValue
import android.view.View
import trug.core.SquareShown
import trug.phone.draw.Ink

/** A square of the map among its neighbours, north at the top: its edge black, within it the squares of a tenth of its side. */
@SuppressLint("ViewConstructor") // It is made here and nowhere else.
internal class SquareView(private val ink: Ink, private val square: SquareShown, description: String) : View(ink.context) {
    private val fine = line(ink.quiet, FINE)
    private val edges = line(ink.quiet, EDGE)
    private val own = line(ink.text, OWN)
    private val name = Paint(Paint.ANTI_ALIAS_FLAG).apply { textAlign = Paint.Align.CENTER }

    init {
        contentDescription = description
        // A map has its west at the left, whichever way people read.
        layoutDirection = LAYOUT_DIRECTION_LTR
    }

    override fun onMeasure(width: Int, height: Int) {
        val across = minOf(MeasureSpec.getSize(width), ink.dp(WIDEST))
        setMeasuredDimension(MeasureSpec.getSize(width), across)
    }

    override fun onDraw(canvas: Canvas) {
        val whole = height - own.strokeWidth
        val side = whole / ROWS
        val (west, north) = (width - whole) / 2 to own.strokeWidth / 2
        val (left, top) = west + side to north + side
        for (step in 1 until PARTS) {
            val along = side * step / PARTS
            canvas.drawLine(left + along, top, left + along, top + side, fine)
            canvas.drawLine(left, top + along, left + side, top + along, fine)
        }
        for (at in square.around.indices) {
            val (x, y) = west + side * (at % ROWS) to north + side * (at / ROWS)
            if (square.around[at] != null) canvas.drawRect(x, y, x + side, y + side, edges)
        }
        canvas.drawRect(left, top, left + side, top + side, own)
        square.around.forEachIndexed { at, called ->
            if (called != null) name(canvas, called, west + side * (at % ROWS), north + side * (at / ROWS), side, isOwn = at == OWN_AT)
        }
    }

    /** A name in the middle of its square, no wider than that; the own one on paper, so that no line runs through it. */
    private fun name(canvas: Canvas, called: String, x: Float, y: Float, side: Float, isOwn: Boolean) {
        name.typeface = if (isOwn) Typeface.DEFAULT_BOLD else Typeface.DEFAULT
        name.textSize = TypedValue.applyDimension(TypedValue.COMPLEX_UNIT_SP, Ink.READING, resources.displayMetrics)
        val room = side - 2 * ink.dp(GAP)
        val wide = name.measureText(called)
        if (wide > room) name.textSize *= room / wide
        val (middle, base) = x + side / 2 to y + side / 2 - (name.ascent() + name.descent()) / 2
        if (isOwn) {
            name.color = ink.paper
            val half = name.measureText(called) / 2 + ink.dp(GAP) / 2
            canvas.drawRect(middle - half, base + name.ascent(), middle + half, base + name.descent(), name)
        }
        name.color = if (isOwn) ink.text else ink.quiet
        canvas.drawText(called, middle, base, name)
    }

    private fun line(colour: Int, width: Float) = Paint(Paint.ANTI_ALIAS_FLAG).apply {
        style = Paint.Style.STROKE
        color = colour
        strokeWidth = width * resources.displayMetrics.density
    }

    private companion object {
        const val ROWS = 3
        const val PARTS = 10
        const val OWN_AT = 4
        const val WIDEST = 300
        const val GAP = 8
        const val FINE = 0.5f
        const val EDGE = 1f
        const val OWN = 4f
    }
}
