package trug.phone.page.work

import android.text.InputType
import android.view.View
import android.view.inputmethod.EditorInfo
import android.widget.EditText
import android.widget.LinearLayout
import trug.core.KeyPage
import trug.core.NameShown
import trug.phone.R
import trug.phone.draw.Ink
import trug.phone.draw.onTyped
import trug.phone.draw.row
import trug.phone.words.Ids
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
            val effort = Ids.choices["effort"]?.get(other.effort)?.let { desk.words(it) } ?: other.effort
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
    private val found = ink.column()
    private var drawn = false
    private val typed = EditText(ink.context).apply {
        hint = desk.words(R.string.work_suspect_hint)
        ink.print(this)
        inputType = InputType.TYPE_CLASS_TEXT or InputType.TYPE_TEXT_FLAG_NO_SUGGESTIONS
        imeOptions = EditorInfo.IME_ACTION_DONE
    }
    override val body: View =
        ink.column(ink.head(desk.words(R.string.work_suspect)), ink.words(desk.words(R.string.work_suspect_help)), typed, found)
    override val thumb: LinearLayout = ink.column()

    override fun show(asking: Asking, page: KeyPage) {
        thumb.removeAllViews()
        val drop = asking.asked.suspect?.let { ink.button(desk.words(R.string.work_suspect_drop)) { desk.turn { it.suspect(null) } } }
        thumb.addView(ink.beside(back(desk), drop))
        if (drawn) return
        drawn = true
        typed.setText(asking.typed)
        typed.onTyped { text ->
            desk.remember { it.copy(typed = text) }
            look(text)
        }
        typed.requestFocus()
        look(asking.typed)
    }

    private fun look(text: String) {
        if (text.isBlank()) return list(emptyList(), none = false)
        desk.names(text) { names -> if (typed.text.toString() == text) list(names, none = names.isEmpty()) }
    }

    private fun list(names: List<NameShown>, none: Boolean) {
        found.removeAllViews()
        if (none) found.addView(ink.words(desk.words(R.string.work_suspect_none)), ink.across(Ink.MARGIN))
        names.forEach { name ->
            found.addView(row(ink, name.english, name.latin) { desk.turn { it.suspect(name.id) } }, ink.across(Ink.GAP))
        }
    }
}

internal fun back(desk: Desk): View = desk.ink.button(desk.words(R.string.app_back)) { desk.turn { it.back() ?: it } }
