package trug.phone.everyone

import android.graphics.Bitmap
import android.graphics.Canvas
import android.graphics.Color
import android.view.View
import android.view.ViewGroup
import android.widget.HorizontalScrollView
import android.widget.ScrollView
import android.widget.TextView
import kotlin.math.max
import kotlin.math.min

/** A window as it is drawn, with all that can be scrolled to. */
internal class Drawn(root: View) {
    /** Each scroll's whole body, and the window itself, with its picture. */
    private val pictures: Map<View, Bitmap> =
        (all(root).filter { (it is ScrollView || it is HorizontalScrollView) && it.isShown }.mapNotNull { (it as ViewGroup).getChildAt(0) } + root)
            .filter { it.width > 0 && it.height > 0 }
            .associateWith { body -> Bitmap.createBitmap(body.width, body.height, Bitmap.Config.ARGB_8888).also { paint(body, it) } }

    private fun paint(body: View, into: Bitmap) {
        val behind = generateSequence(body) { it.parent as? View }.firstNotNullOfOrNull { it.background as? android.graphics.drawable.ColorDrawable }
        into.eraseColor(behind?.color ?: Color.TRANSPARENT)
        body.draw(Canvas(into))
    }

    /** The contrast of a view's words with what lies behind them, by the formula of WCAG 2.1; none for what is not drawn. */
    fun contrast(view: TextView): Double? {
        val body = generateSequence(view as View) { it.parent as? View }.firstOrNull { it in pictures } ?: return null
        val picture = pictures.getValue(body)
        var (left, top) = 0 to 0
        var at: View = view
        while (at !== body) {
            left += at.left - (if (at !== view && at is ViewGroup) at.scrollX else 0)
            top += at.top - (if (at !== view && at is ViewGroup) at.scrollY else 0)
            at = at.parent as View
        }
        val wide = min(picture.width, left + view.width) - max(0, left)
        val high = min(picture.height, top + view.height) - max(0, top)
        if (wide <= 0 || high <= 0 || view.rotation != 0f) return null
        val pixels = IntArray(wide * high).also { picture.getPixels(it, 0, wide, max(0, left), max(0, top), wide, high) }
        pixels.sort()
        val colours = runs(pixels)
        val paper = colours.maxBy { it.second }.first
        return colours.maxOf { (colour, _) -> ratio(colour, paper) }
    }

    /** The colours of sorted pixels, and how often each is there. */
    private fun runs(sorted: IntArray): List<Pair<Int, Int>> = buildList {
        var from = 0
        for (at in 1..sorted.size) {
            if (at < sorted.size && sorted[at] == sorted[from]) continue
            add(sorted[from] to at - from)
            from = at
        }
    }

    private fun ratio(one: Int, other: Int): Double {
        val (light, dark) = listOf(Color.luminance(one), Color.luminance(other)).sortedDescending()
        return (light + GLARE) / (dark + GLARE)
    }

    private companion object {
        const val GLARE = 0.05
    }
}
