package trug.phone.page.map

import android.view.View
import android.view.ViewGroup
import android.widget.LinearLayout
import android.widget.TextView
import trug.core.MapSheet
import trug.phone.R
import trug.phone.draw.Ink
import trug.phone.draw.put
import trug.phone.draw.row
import trug.phone.position.Position

/** Below the map: where am I, what was touched, and the buttons at the thumb. It is made once, so that no finger or reader loses its place. */
internal class Foot(
    private val ink: Ink,
    closer: (Double) -> Unit,
    here: () -> Unit,
    askPosition: () -> Unit,
    private val open: (Thing) -> Unit,
) {
    private val context = ink.context
    private var said: Pair<String, String>? = null
    private val told = ink.column().apply { accessibilityLiveRegion = View.ACCESSIBILITY_LIVE_REGION_POLITE }
    private val place = ink.words("", bold = true)
    private val middle = ink.words("")
    private val north = ink.words("", colour = ink.quiet)
    private val ask = ink.button(context.getString(R.string.now_ask_position), touched = askPosition)
    private val toHere = ink.button(context.getString(R.string.map_here), touched = here)
    private val nearer = sign(R.string.map_plus, R.string.map_closer) { closer(MapView.ZOOM) }
    private val wider = sign(R.string.map_minus, R.string.map_farther) { closer(1 / MapView.ZOOM) }

    /** What scrolls below the map. */
    val words: View = ink.column(told, place, middle, north).apply { put(ink, ask) }

    /** What stands at the thumb. */
    val buttons: View = LinearLayout(context).apply {
        for ((button, share) in listOf(wider to 1f, nearer to 1f, toHere to HERE)) {
            addView(button, LinearLayout.LayoutParams(0, ViewGroup.LayoutParams.MATCH_PARENT, share).apply { if (button !== wider) marginStart = ink.dp(Ink.GAP) })
        }
    }

    private fun sign(words: Int, spoken: Int, touched: () -> Unit): TextView =
        ink.button(context.getString(words), touched = touched).apply { contentDescription = context.getString(spoken) }

    /** The words about a place, and whether anybody may know where the phone is, and does. */
    fun show(sheet: MapSheet, position: Position) {
        val unknown = if (position.isAllowed) R.string.now_no_fix else R.string.now_no_position
        say(place, context.whereHere(sheet) ?: context.getString(unknown))
        ask.visibility = if (position.isAllowed) View.GONE else View.VISIBLE
        toHere.visibility = if (sheet.here == null) View.GONE else View.VISIBLE
        say(middle, context.whereMiddle(sheet))
        say(north, context.gridNorth(sheet).orEmpty())
        north.visibility = if (north.text.isEmpty()) View.GONE else View.VISIBLE
    }

    /** What was touched; nothing for none. */
    fun tell(thing: Thing?) {
        val words = thing?.let { it.name to it.about }
        if (words == said) return
        said = words
        told.removeAllViews()
        if (thing == null) return
        if (thing.page != null) return told.put(ink, row(ink, thing.name, thing.about) { open(thing) }, 0)
        told.put(ink, ink.words(thing.name, bold = true), 0)
        if (thing.about.isNotEmpty()) told.put(ink, ink.words(thing.about), 0)
    }

    /** Said again only where it is something else: a reader would begin anew. */
    private fun say(where: TextView, words: String) {
        if (where.text.toString() != words) where.text = words
    }

    private companion object {
        /** Beside two signs a word needs more room. */
        const val HERE = 1.5f
    }
}
