package trug.phone.page.map

import android.graphics.Canvas
import android.graphics.Matrix
import android.graphics.Path
import android.graphics.RectF
import android.graphics.Region
import kotlin.math.ceil
import trug.core.MapLine
import trug.core.MapPoint
import trug.core.MapSheet

/** Prints the land itself: areas, and the lines of the grid with their figures. */
internal class Plate(private val press: Press) {
    private val onMap = Matrix()
    private val drawn = Path()
    private val bounds = RectF()

    /** Outlines in metres, ready to be scaled. */
    fun outline(area: Thing.Area): Path = Path().apply {
        fillType = Path.FillType.EVEN_ODD
        for (ring in area.area.rings) {
            ring.forEachIndexed { at, corner ->
                if (at == 0) moveTo(corner.east.toFloat(), -corner.north.toFloat()) else lineTo(corner.east.toFloat(), -corner.north.toFloat())
            }
            close()
        }
    }

    /** An area: hatched and firmly edged where it is closed, with a broken edge where a code holds. */
    fun area(canvas: Canvas, sight: Sight, area: Thing.Area, outline: Path, isChosen: Boolean) {
        scale(sight, outline)
        drawn.computeBounds(bounds, true)
        if (!bounds.intersect(0f, 0f, sight.width.toFloat(), sight.height.toFloat())) return
        if (area.area.closed) hatch(canvas, sight)
        canvas.drawPath(drawn, if (area.area.closed || isChosen) press.bold else press.dashed)
    }

    /** As much of an area as is in view, in pixels; empty for one that is not. */
    fun inView(sight: Sight, outline: Path): Region {
        scale(sight, outline)
        return Region().apply { setPath(drawn, Region(0, 0, sight.width, sight.height)) }
    }

    private fun scale(sight: Sight, outline: Path) {
        val times = (1 / sight.scale).toFloat()
        onMap.setScale(times, times)
        onMap.postTranslate(sight.x(0.0), sight.y(0.0))
        outline.transform(onMap, drawn)
    }

    /** Slanting lines that lie on the land, not on the screen: they go along with it. */
    private fun hatch(canvas: Canvas, sight: Sight) {
        val apart = press.px(HATCH)
        canvas.save()
        canvas.clipPath(drawn)
        // Each slant is where x + y is the same; those of the map's own middle are the first.
        val origin = sight.x(0.0) + sight.y(0.0)
        var slant = origin + ceil((bounds.left + bounds.top - origin) / apart) * apart
        while (slant < bounds.right + bounds.bottom) {
            canvas.drawLine(slant - bounds.top, bounds.top, slant - bounds.bottom, bounds.bottom, press.fine)
            slant += apart
        }
        canvas.restore()
    }

    fun lines(canvas: Canvas, sight: Sight, sheet: MapSheet) = sheet.lines.forEach { line ->
        val pen = if (line.isTenth) press.firm else press.fine
        for ((from, to) in line.points.zipWithNext()) {
            canvas.drawLine(sight.x(from.east), sight.y(from.north), sight.x(to.east), sight.y(to.north), pen)
        }
    }

    /** Figures stand where their lines enter: those of eastings along the top, of northings down the side where reading begins. */
    fun figures(canvas: Canvas, sight: Sight, sheet: MapSheet, room: Room, fromRight: Boolean) {
        for (line in sheet.lines.filter { it.name.isNotEmpty() }) {
            val wide = press.wide(line.name, press.plain)
            val at = if (line.isEasting) {
                crossing(sight, line) { sight.y(it.north) - press.high / 2 }?.let { sight.x(it.east) to press.high / 2 }
            } else {
                val x = if (fromRight) sight.width - wide / 2 else wide / 2
                crossing(sight, line) { sight.x(it.east) - x }?.let { x to sight.y(it.north) }
            } ?: continue
            room.on(at.first, at.second, wide, press.high)?.let { press.print(canvas, line.name, it, press.plain) }
        }
        for (square in sheet.squares) {
            val box = room.on(sight.x(square.at.east), sight.y(square.at.north), press.wide(square.name, press.plain), press.high) ?: continue
            press.print(canvas, square.name, box, press.plain)
        }
    }

    /** Where a line comes to nought, in metres. */
    private fun crossing(sight: Sight, line: MapLine, of: (MapPoint) -> Float): MapPoint? {
        for ((from, to) in line.points.zipWithNext()) {
            val (before, after) = of(from) to of(to)
            if (before * after > 0 || before == after) continue
            val share = before / (before - after).toDouble()
            val at = MapPoint(from.east + (to.east - from.east) * share, from.north + (to.north - from.north) * share)
            if (sight.holds(at, press.high.toDouble())) return at
        }
        return null
    }

    private companion object {
        const val HATCH = 12f
    }
}
