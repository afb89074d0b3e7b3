package trug.phone.page.work

import android.view.View
import android.view.inputmethod.EditorInfo
import android.widget.EditText
import android.widget.LinearLayout
import java.time.Month
import java.time.format.TextStyle
import trug.core.KeyPage
import trug.core.Question
import trug.core.StateOffered
import trug.phone.R
import trug.phone.draw.Ink
import trug.phone.draw.States
import trug.phone.draw.onTyped
import trug.phone.draw.takeFractions

/** One question: what to look at and why, its states, drawn; and at the thumb the ways round it. */
internal class QuestionLeaf(private val desk: Desk) : LeafView {
    private val ink = desk.ink
    private var fields: Size? = null
    override val body: LinearLayout = ink.column()
    override val thumb: LinearLayout = ink.column()

    override fun show(asking: Asking, page: KeyPage) {
        body.removeAllViews()
        thumb.removeAllViews()
        val question = page.question ?: return
        add(dangers(ink, page.strip, asking.allDangers) { desk.turn { it.copy(allDangers = !it.allDangers) } })
        add(ink.head(question.words), if (page.strip.isEmpty()) 0 else Ink.MARGIN)
        question.help?.let { add(ink.words(it), Ink.GAP) }
        add(ink.words(question.why, colour = ink.quiet), Ink.GAP)
        if (asking.draft.unsure && question.states.isNotEmpty()) add(ink.words(desk.words(R.string.work_not_sure_help), bold = true), Ink.MARGIN)
        add(answer(asking, question), Ink.MARGIN)
        thumb.addView(ways(asking, question))
        thumb.addView(others(page), ink.across(Ink.GAP))
    }

    private fun add(view: View?, above: Int = 0) {
        if (view != null) body.addView(view, ink.across(above))
    }

    private fun answer(asking: Asking, question: Question): View = when (question.unit) {
        MONTH -> states(asking, question.copy(states = months()))
        "" -> states(asking, question)
        else -> Size(desk, asking.draft) { size -> desk.turn { it.answerSize(question.character, size) } }.also { fields = it }.view
    }

    private fun states(asking: Asking, question: Question): View {
        val drafted = asking.draft
        val offered = if (drafted.unsure) question.states.map { it.copy(chosen = it.id in drafted.states) } else question.states
        return States(ink, offered) { state -> desk.turn { it.choose(question.character, state) } }
    }

    private fun months(): List<StateOffered> {
        val locale = ink.context.resources.configuration.locales[0]
        return Month.entries.map { StateOffered("${it.value}", it.getDisplayName(TextStyle.FULL_STANDALONE, locale), null, false) }
    }

    private fun ways(asking: Asking, question: Question): View {
        val none = if (question.effort == NIGHT) R.string.work_not_yet else R.string.work_cannot_tell
        val cannot = ink.button(desk.words(none)) { desk.turn { it.cannotTell(question.character) } }
        val doubt = ink.button(desk.words(R.string.work_not_sure)) { desk.turn { it.doubt() } }
        if (asking.draft.unsure) ink.press(doubt)
        val isSize = question.unit != "" && question.unit != MONTH
        val go = when {
            isSize -> ink.button(desk.words(R.string.work_go_on), filled = true) { fields?.tell() }
            asking.draft.states.isNotEmpty() ->
                ink.button(desk.words(R.string.work_go_on), filled = true) { desk.turn { it.answerUnsure(question.character) } }
            else -> null
        }
        return ink.beside(cannot, doubt, go)
    }

    private fun others(page: KeyPage): View = ink.beside(
        if (page.others.isEmpty()) null else ink.button(desk.words(R.string.work_another)) { desk.turn { it.turn(Leaf.OTHERS) } },
        ink.button(desk.counted(R.plurals.work_answers, page.answers.size)) { desk.turn { it.turn(Leaf.ANSWERS) } },
    )

    private companion object {
        const val MONTH = "month"
        const val NIGHT = "spore print"
    }
}

/** A size in millimetres, or the least and the greatest. */
private class Size(private val desk: Desk, draft: Draft, private val told: (ClosedFloatingPointRange<Double>) -> Unit) {
    private val ink = desk.ink
    private val from = field(R.string.work_from_mm, draft.from) { text -> copy(from = text) }
    private val to = field(R.string.work_to_mm, draft.to) { text -> copy(to = text) }
    val view: View = ink.column(ink.words(desk.words(R.string.work_size_help)), ink.beside(from, to))

    /** Tells the size, or says what is wrong with it. */
    fun tell() {
        val size = Asking.size(from.text.toString(), to.text.toString())
        if (size == null) desk.complain(desk.words(R.string.work_size_wrong)) else told(size)
    }

    private fun field(hint: Int, typed: String, draft: Draft.(String) -> Draft) = EditText(ink.context).apply {
        setText(typed)
        this.hint = desk.words(hint)
        ink.print(this)
        takeFractions()
        imeOptions = EditorInfo.IME_ACTION_DONE or EditorInfo.IME_FLAG_NO_FULLSCREEN
        onTyped { text -> desk.remember { it.copy(draft = it.draft.draft(text)) } }
        setOnEditorActionListener { _, action, _ -> (action == EditorInfo.IME_ACTION_DONE).also { if (it) tell() } }
    }
}
