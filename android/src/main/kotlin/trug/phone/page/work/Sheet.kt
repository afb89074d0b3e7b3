package trug.phone.page.work

import android.view.View
import android.widget.LinearLayout
import trug.core.KeyPage
import trug.core.Sheet
import trug.core.StateOffered
import trug.phone.R
import trug.phone.draw.Ink
import trug.phone.draw.State
import trug.phone.draw.States

/** The sheet to begin with: what a glance shows. Each tap is told to the key, so that the sheet grows with what is known. */
internal class SheetLeaf(private val desk: Desk) : LeafView {
    private val ink = desk.ink
    private val parts = LinkedHashMap<String, Part>()
    private val list = ink.column()
    override val body: View = ink.column(ink.head(desk.words(R.string.work_sheet)), list)
    override val thumb: LinearLayout = ink.column()

    override fun show(asking: Asking, page: KeyPage) {
        val wanted = page.sheet.map { it.character }
        if (wanted.take(parts.size) != parts.keys.toList()) {
            parts.clear()
            list.removeAllViews()
        }
        for (one in page.sheet) parts.getOrPut(one.character) { Part(one).also { list.addView(it.view, ink.across(Ink.MARGIN)) } }.show(one)
        val seen = page.sheet.any { it.states.any { state -> state.chosen } }
        thumb.removeAllViews()
        thumb.addView(
            ink.beside(
                ink.button(desk.words(R.string.names_think)) { desk.turn { it.turn(Leaf.NAMES) } },
                ink.button(desk.words(if (seen) R.string.work_go_on else R.string.work_skip), filled = true) {
                    desk.turn { it.turn(Leaf.QUESTION).told(page) }
                },
            ),
        )
    }

    /** One character. Once it is answered, only the answer is left in view, and what comes next moves up to the thumb. */
    private inner class Part(first: Sheet) {
        private val room = ink.column()
        val view = ink.column(ink.words(first.label, bold = true), room)
        private var drawn: List<StateOffered>? = null

        fun show(sheet: Sheet) {
            val chosen = sheet.states.filter { it.chosen }
            val states = chosen.ifEmpty { sheet.states }
            if (states == drawn) return
            drawn = states
            room.removeAllViews()
            val touched = { state: String -> desk.turn { it.tap(sheet.character, state) } }
            if (chosen.isEmpty()) room.addView(States(ink, states, touched = touched), ink.across(Ink.GAP))
            chosen.forEach { room.addView(State(ink, it, inGrid = false) { touched(it.id) }, ink.across(Ink.GAP)) }
        }
    }
}
