package trug.phone.page.year

import android.graphics.Canvas
import android.graphics.RectF
import android.view.View
import trug.core.YearCame
import trug.phone.draw.Ink

/** One month, drawn as large as its view. */
internal class Mark(private val ink: Ink, private val came: YearCame, private val level: Int) : View(ink.context) {
    private val marks = Marks(ink)
    private val room = RectF()

    init {
        importantForAccessibility = IMPORTANT_FOR_ACCESSIBILITY_NO
    }

    override fun onDraw(canvas: Canvas) {
        room.set(0f, 0f, width.toFloat(), (height - ink.dp(1)).toFloat())
        marks.draw(canvas, room, came, level)
    }
}
