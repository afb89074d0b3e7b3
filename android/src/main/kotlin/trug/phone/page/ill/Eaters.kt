package trug.phone.page.ill

import trug.core.EaterNoted
import trug.phone.R
import trug.phone.draw.Choice
import trug.phone.draw.Field
import trug.phone.draw.Ink
import trug.phone.draw.put
import trug.phone.words.choices

/** Who ate, the well included: each by name or initials, a child or not, how they feel, when and with what signs it began. */
internal class Eaters(private val bedside: Bedside, private val keep: (List<EaterNoted>) -> Unit) {
    private val ink = bedside.ink
    private val list = ink.column()
    private val name = Field(ink, words(R.string.ill_name), Field.Kind.NAME) { }
    private var shown: List<EaterNoted> = emptyList()
    private var signs: List<Field> = emptyList()
    val view = ink.column(list, name.view, ink.button(words(R.string.ill_add), touched = ::add))

    /** Shows who is noted. Somebody whose signs are being typed keeps them. */
    fun show(eaters: List<EaterNoted>) {
        // Signs change by being typed here, in fields that must stay.
        val isDrawn = eaters.map { it.copy(signs = null) } == shown.map { it.copy(signs = null) }
        shown = eaters
        if (isDrawn) return
        list.removeAllViews()
        signs = eaters.map(::add)
    }

    fun flush() {
        signs.forEach(Field::flush)
        // A name that was typed is meant, with or without the button.
        add()
    }

    private fun add() {
        val typed = name.text
        if (typed.isEmpty() || shown.any { it.name.equals(typed, ignoreCase = true) }) return
        name.forget("")
        keep(shown + EaterNoted(typed, child = false, feels = UNKNOWN, firstSign = null, signs = null))
    }

    private fun add(eater: EaterNoted): Field {
        val feels = ink.context.resources.choices("feels")
        val told = Choice(ink, feels + (CHILD to words(R.string.ill_child)), eater.name) { word, chosen ->
            change(eater) { if (word == CHILD) it.copy(child = chosen) else it.copy(feels = if (chosen) word else UNKNOWN) }
        }
        told.show(setOfNotNull(eater.feels, CHILD.takeIf { eater.child }))
        val signs = Field(ink, words(R.string.ill_signs), Field.Kind.LINES) { typed -> change(eater) { it.copy(signs = typed) } }
        signs.show(eater.signs.orEmpty())
        list.put(ink, ink.words(eater.name, bold = true), Ink.MARGIN)
        list.put(ink, told.view)
        if (eater.feels == ILL) {
            val first = eater.firstSign
            val begun = if (first == null) words(R.string.ill_first_sign) else words(R.string.ill_first_sign_at, bedside.told(first.shown(), null))
            list.put(ink, ink.button(begun) { askTime(ink.context, first) { at -> change(eater) { it.copy(firstSign = at) } } })
            list.put(ink, signs.view)
        }
        val off = ink.button(words(R.string.ill_take_off, eater.name)) { keep(shown.filter { it.name != eater.name }) }
        list.put(ink, off)
        return signs
    }

    private fun change(eater: EaterNoted, change: (EaterNoted) -> EaterNoted) =
        keep(shown.map { if (it.name == eater.name) change(it) else it })

    private fun words(id: Int, vararg arguments: Any) = bedside.words(id, *arguments)

    private companion object {
        const val UNKNOWN = "unknown"
        const val ILL = "ill"
        const val CHILD = "child"
    }
}
