package trug.phone.page.map

import android.graphics.Canvas
import android.graphics.Path
import android.graphics.RectF
import kotlin.math.hypot
import kotlin.math.min
import trug.core.MapPoint
import trug.core.MapSheet

/** Prints what stands on the land: patches, finds, whoever holds the phone, and how far things are. */
internal class Marks(private val press: Press, private val length: (Double) -> String) {
    private val needle = Path()

    /** A patch: as wide as it is, with a spot in its middle that is seen from afar. One that rests has a broken edge. */
    fun patch(canvas: Canvas, sight: Sight, patch: Thing.Patch, isChosen: Boolean) {
        val (x, y) = sight.x(patch.at.east) to sight.y(patch.at.north)
        val radius = (patch.patch.radiusM / sight.scale).toFloat()
        if (radius > press.px(SPOT)) canvas.drawCircle(x, y, radius, if (patch.patch.restsUntil != null) press.resting else press.mark)
        canvas.drawCircle(x, y, press.px(SPOT), press.spot)
        if (isChosen) canvas.drawCircle(x, y, press.px(CHOSEN), press.bold)
    }

    /** A find that belongs to no patch: a cross. */
    fun find(canvas: Canvas, sight: Sight, find: Thing.Find, isChosen: Boolean) {
        val (x, y) = sight.x(find.at.east) to sight.y(find.at.north)
        val arm = press.px(ARM)
        canvas.drawLine(x - arm, y - arm, x + arm, y + arm, press.mark)
        canvas.drawLine(x - arm, y + arm, x + arm, y - arm, press.mark)
        if (isChosen) canvas.drawCircle(x, y, press.px(CHOSEN), press.bold)
    }

    fun name(canvas: Canvas, sight: Sight, thing: Thing, room: Room, isChosen: Boolean) {
        val type = when {
            thing is Thing.Area -> press.strong
            isChosen -> press.chosen
            else -> press.touch
        }
        val (x, y) = sight.x(thing.at.east) to sight.y(thing.at.north)
        val wide = press.wide(thing.name, type)
        val box = if (thing is Thing.Area) room.on(x, y, wide, press.high) else room.beside(x, y, press.px(CLEAR), wide, press.high)
        box?.let { press.print(canvas, thing.name, it, type) }
    }

    /** Where whoever holds the phone is: within the thin circle, and most likely at the spot. */
    fun here(canvas: Canvas, sight: Sight, sheet: MapSheet) {
        val here = sheet.here ?: return
        val (x, y) = sight.x(here.at.east) to sight.y(here.at.north)
        here.accuracyM?.let { canvas.drawCircle(x, y, (it / sight.scale).toFloat(), press.fine) }
        canvas.drawCircle(x, y, press.px(SPOT), press.here)
        canvas.drawCircle(x, y, press.px(SPOT + RIM), press.bold)
    }

    /** The middle of the map, which the words below are about. */
    fun middle(canvas: Canvas, sight: Sight) {
        val (x, y, arm) = Triple(sight.width / 2f, sight.height / 2f, press.px(ARM))
        canvas.drawLine(x - arm, y, x + arm, y, press.firm)
        canvas.drawLine(x, y - arm, x, y + arm, press.firm)
    }

    /** Rings of distance, each at a length that reads well, as far as the view reaches. */
    fun rings(canvas: Canvas, sight: Sight, about: MapPoint, lengths: List<Double>, room: Room) {
        val (x, y) = sight.x(about.east) to sight.y(about.north)
        val farthest = sight.scale * hypot(sight.width.toDouble(), sight.height.toDouble())
        for (metres in lengths.filter { it >= press.px(FIRST_RING) * sight.scale && it <= farthest }) {
            val radius = (metres / sight.scale).toFloat()
            canvas.drawCircle(x, y, radius, press.fine)
            val words = length(metres)
            room.on(x, y - radius, press.wide(words, press.plain), press.high)?.let { press.print(canvas, words, it, press.plain) }
        }
    }

    /** The scale: the longest length that reads well and has room. */
    fun scale(canvas: Canvas, sight: Sight, lengths: List<Double>, room: Room, fromRight: Boolean) {
        val most = min(press.px(BAR), sight.width / 2f)
        val metres = lengths.lastOrNull { it / sight.scale <= most } ?: return
        val (long, gap, words) = Triple((metres / sight.scale).toFloat(), press.px(GAP), length(metres))
        val wide = maxOf(long, press.wide(words, press.plain))
        val left = if (fromRight) sight.width - gap - wide else gap
        val box = RectF(left, sight.height - gap - press.high - press.px(TICK), left + wide, sight.height - gap)
        room.take(box)
        canvas.drawRect(box, press.paper)
        canvas.drawText(words, box.left, box.top - press.plain.fontMetrics.top, press.plain)
        val (from, foot) = box.left to box.bottom - press.bold.strokeWidth / 2
        canvas.drawLine(from, foot, from + long, foot, press.bold)
        for (end in listOf(from, from + long)) canvas.drawLine(end, foot, end, foot - press.px(TICK), press.bold)
    }

    /** North, in the corner where reading ends. */
    fun north(canvas: Canvas, sight: Sight, sheet: MapSheet?, letter: String, room: Room, fromRight: Boolean) {
        val (wide, high, gap) = Triple(press.px(NEEDLE), press.px(NEEDLE) * 2, press.px(GAP))
        val left = if (fromRight) gap else sight.width - gap - wide
        val top = press.high + gap
        val box = RectF(left, top, left + wide, top + high + press.high)
        room.take(box)
        canvas.drawRect(box, press.paper)
        canvas.save()
        canvas.rotate((sheet?.trueNorth ?: 0.0).toFloat(), box.centerX(), top + high / 2)
        needle.rewind()
        needle.moveTo(box.centerX(), top)
        needle.lineTo(box.right - wide / 4, top + high)
        needle.lineTo(box.centerX(), top + high * NOTCH)
        needle.lineTo(box.left + wide / 4, top + high)
        needle.close()
        canvas.drawPath(needle, press.here)
        canvas.restore()
        canvas.drawText(letter, box.centerX() - press.strong.measureText(letter) / 2, top + high - press.strong.fontMetrics.top, press.strong)
    }

    private companion object {
        const val SPOT = 5f
        const val RIM = 4f
        const val CHOSEN = 14f
        const val CLEAR = 10f
        const val ARM = 6f
        const val FIRST_RING = 56f
        const val BAR = 140f
        const val TICK = 6f
        const val GAP = 8f
        const val NEEDLE = 20f
        const val NOTCH = 0.75f
    }
}
