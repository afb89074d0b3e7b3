package trug.phone.page.map

import android.graphics.Canvas
import android.graphics.Path
import android.graphics.PointF
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

    /** What no name may cover: the spot of a patch, the cross of a find, whoever holds the phone. */
    fun keep(sight: Sight, at: MapPoint, room: Room) {
        val (x, y, half) = Triple(sight.x(at.east), sight.y(at.north), press.px(SPOT + RIM))
        room.take(RectF(x - half, y - half, x + half, y + half))
    }

    fun name(canvas: Canvas, sight: Sight, thing: Thing, spot: PointF, room: Room, isChosen: Boolean) {
        val type = when {
            thing is Thing.Area -> press.strong
            isChosen -> press.chosen
            else -> press.touch
        }
        val (x, y) = spot.x to spot.y
        val words = press.fitted(thing.name, type, sight.width)
        val wide = press.wide(words, type)
        val box = if (thing is Thing.Area) room.near(x, y, wide, press.high) else room.beside(x, y, clear(sight, thing, isChosen), wide, press.high)
        box?.let { press.print(canvas, words, it, type) }
    }

    /** How far from its spot a name stands clear of its ring, unless that is so wide that the name would seem to be of something else. */
    private fun clear(sight: Sight, thing: Thing, isChosen: Boolean): Float {
        val ring = ((thing as? Thing.Patch)?.patch?.radiusM ?: 0.0) / sight.scale
        val least = press.px(if (isChosen) CHOSEN else SPOT) + press.px(CLEAR)
        return if (ring < press.px(WIDE_RING)) maxOf(least, ring.toFloat() + press.px(CLEAR)) else least
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

    /** The lengths at which rings of distance are drawn: those that read well, as far as the view reaches. */
    fun ringsOf(sight: Sight, lengths: List<Double>): List<Double> {
        val farthest = sight.scale * hypot(sight.width.toDouble(), sight.height.toDouble())
        return lengths.filter { it >= press.px(FIRST_RING) * sight.scale && it <= farthest }
    }

    fun ring(canvas: Canvas, sight: Sight, about: MapPoint, metres: Double) =
        canvas.drawCircle(sight.x(about.east), sight.y(about.north), (metres / sight.scale).toFloat(), press.fine)

    /** How far off a ring is, at its top. */
    fun ringName(canvas: Canvas, sight: Sight, about: MapPoint, metres: Double, room: Room) {
        val words = length(metres)
        val top = sight.y(about.north) - (metres / sight.scale).toFloat()
        room.on(sight.x(about.east), top, press.wide(words, press.plain), press.high)?.let { press.print(canvas, words, it, press.plain) }
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
        canvas.drawText(words, box.left, box.top - press.plain.fontMetrics.ascent, press.plain)
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
        canvas.drawText(letter, box.centerX() - press.strong.measureText(letter) / 2, top + high - press.strong.fontMetrics.ascent, press.strong)
    }

    private companion object {
        const val SPOT = 5f
        const val RIM = 4f
        const val CHOSEN = 14f
        const val CLEAR = 3f
        const val WIDE_RING = 48f
        const val ARM = 6f
        const val FIRST_RING = 56f
        const val BAR = 140f
        const val TICK = 6f
        const val GAP = 8f
        const val NEEDLE = 20f
        const val NOTCH = 0.75f
    }
}
