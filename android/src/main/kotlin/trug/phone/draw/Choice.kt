package trug.phone.draw

import android.view.View
import android.widget.LinearLayout
import trug.core.StateOffered

/** A list to choose from. [touched] is told what was touched, and whether that chooses it or gives it up. */
internal class Choice(private val ink: Ink, offered: List<Pair<String, String>>, private val touched: (String, Boolean) -> Unit) {
    private val cells: List<State> = offered.map { (id, label) -> State(ink, StateOffered(id, label, null, false), inGrid = false) { touch(id) } }
    private val columns = if (ink.largeType) 1 else COLUMNS
    val view: LinearLayout = ink.column().apply {
        cells.chunked(columns).forEachIndexed { row, inRow ->
            val padded: List<View> = inRow + List(columns - inRow.size) { View(context) }
            put(ink, ink.beside(*padded.toTypedArray()), if (row == 0) 0 else Ink.GAP)
        }
    }

    /** Shows what is chosen. */
    fun show(ids: Set<String>) = cells.forEach { it.isChecked = it.offered.id in ids }

    private fun touch(id: String) = touched(id, cells.none { it.offered.id == id && it.isChecked })

    private companion object {
        const val COLUMNS = 2
    }
}
