package trug.phone.page.work

import android.view.View
import android.widget.LinearLayout
import trug.core.KeyPage
import trug.phone.R
import trug.phone.draw.Ink
import trug.phone.draw.row
import trug.phone.page.names.Lookup
import trug.phone.words.called
import trug.phone.words.joined

/** Other questions, the best first, each with what looking costs. */
internal class OthersLeaf(private val desk: Desk) : LeafView {
    private val ink = desk.ink
    override val body: LinearLayout = ink.column()
    override val thumb: View = back(desk)

    override fun show(asking: Asking, page: KeyPage) {
        body.removeAllViews()
        body.addView(ink.head(desk.words(R.string.work_another_head)))
        for (other in page.others) {
            val effort = ink.context.resources.called("effort", other.effort)
            val again = if (other.afresh) desk.words(R.string.work_look_again) else null
            body.addView(
                row(ink, other.label, ink.context.resources.joined(listOfNotNull(effort, again))) { desk.turn { it.ask(other.character) } },
                ink.across(Ink.GAP),
            )
        }
    }
}

/** A name that its finder thinks of. */
internal class NamesLeaf(private val desk: Desk) : LeafView {
    private val ink = desk.ink
    private val names = Lookup(
        ink,
        desk::names,
        chosen = { name -> desk.turn { it.suspect(name.id) } },
        told = { typed -> desk.remember { it.copy(typed = typed) } },
    )
    private var drawn = false
    override val body: View =
        ink.column(ink.head(desk.words(R.string.names_think)), ink.words(desk.words(R.string.names_think_help)), names.entry, names.found)
    override val thumb: LinearLayout = ink.column()

    override fun show(asking: Asking, page: KeyPage) {
        thumb.removeAllViews()
        val drop = asking.asked.suspect?.let { ink.button(desk.words(R.string.work_suspect_drop)) { desk.turn { it.suspect(null) } } }
        thumb.addView(ink.beside(back(desk), drop))
        if (drawn) return
        drawn = true
        names.begin(asking.typed)
    }
}

internal fun back(desk: Desk): View = desk.ink.button(desk.words(R.string.app_back)) { desk.turn { it.back() ?: it } }
