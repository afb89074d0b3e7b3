package trug.phone.page.map

import android.graphics.RectF

/** Where names may still be printed: what is taken stays free of others, and what would be cut off is not begun. */
internal class Room(private val width: Float, private val height: Float) {
    private val taken = mutableListOf<RectF>()

    /** Keeps this much clear. */
    fun take(box: RectF) {
        taken += RectF(box)
    }

    /** Takes this much if it is free and in view. */
    fun takes(box: RectF): Boolean {
        val fits = box.left >= 0 && box.top >= 0 && box.right <= width && box.bottom <= height
        if (!fits || taken.any { RectF.intersects(it, box) }) return false
        take(box)
        return true
    }

    /** Where a name of this size may stand beside a mark: above it, below, or at either side; none where all are taken. */
    fun beside(x: Float, y: Float, clear: Float, wide: Float, high: Float): RectF? = listOf(
        RectF(x - wide / 2, y - clear - high, x + wide / 2, y - clear),
        RectF(x - wide / 2, y + clear, x + wide / 2, y + clear + high),
        RectF(x + clear, y - high / 2, x + clear + wide, y + high / 2),
        RectF(x - clear - wide, y - high / 2, x - clear, y + high / 2),
    ).firstOrNull(::takes)

    /** Where a long name may stand about a spot: on it or near it, and pushed in from the edge. */
    fun near(x: Float, y: Float, wide: Float, high: Float): RectF? {
        val left = (x - wide / 2).coerceIn(0f, maxOf(0f, width - wide))
        return SHIFTS.map { y + it * high - high / 2 }.map { RectF(left, it, left + wide, it + high) }.firstOrNull(::takes)
    }

    /** Where a name may stand on the spot itself. */
    fun on(x: Float, y: Float, wide: Float, high: Float): RectF? =
        RectF(x - wide / 2, y - high / 2, x + wide / 2, y + high / 2).takeIf(::takes)

    private companion object {
        val SHIFTS = listOf(0f, -1f, 1f, -2f, 2f)
    }
}
