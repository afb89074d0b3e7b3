package trug.phone.page.work

import trug.core.Ending
import trug.core.KeyAsked
import trug.core.KeyPage
import trug.core.KeySeen
import trug.phone.words.plainNumber

/** The leaves that *Work it out* turns between. */
enum class Leaf { SHEET, NAMES, QUESTION, OTHERS, ANSWERS, END }

/** An answer that is being given, and not told to the key yet. */
data class Draft(
    /** States between which the eye cannot choose. */
    val states: List<String> = emptyList(),
    /** Whether its finder is not sure: then several states may be tapped before going on. */
    val unsure: Boolean = false,
    /** The least size, as typed. */
    val from: String = "",
    /** The greatest size, as typed. */
    val to: String = "",
)

/**
 * All that *Work it out* remembers: enough to draw it again after the process has died. Plain data; every touch is one of the
 * functions below, which say what is to be remembered next. The key's answer to [asked] is asked for again whenever it changes.
 */
data class Asking(
    val asked: KeyAsked,
    val leaf: Leaf = Leaf.SHEET,
    val draft: Draft = Draft(),
    /** What was typed on the leaf of names. */
    val typed: String = "",
    /** How the key ended when its end was last shown, so that going on is not interrupted again by the same. */
    val shownEnd: Ending? = null,
    /** Whether all of the dangerous ones are shown. */
    val allDangers: Boolean = false,
) {
    /** A state of the sheet, tapped: seen, another instead, or not seen after all. */
    fun tap(character: String, state: String): Asking {
        val before = asked.evidence.lastOrNull { it.character == character }
        val others = asked.evidence.filter { it.character != character }
        val seen = if (before?.states == listOf(state)) emptyList() else listOf(seen(character, listOf(state), sure = true))
        return copy(asked = asked.copy(evidence = others + seen))
    }

    /** A state of the question, tapped. Sure, it is the answer; not sure, it is one of those it could be. */
    fun choose(character: String, state: String): Asking =
        if (draft.unsure) {
            val states = if (state in draft.states) draft.states - state else draft.states + state
            copy(draft = draft.copy(states = states))
        } else {
            answer(seen(character, listOf(state), sure = true))
        }

    /** The answer that was drafted. */
    fun answerUnsure(character: String): Asking = answer(seen(character, draft.states, sure = false))

    /** A size, in millimetres. */
    fun answerSize(character: String, size: ClosedFloatingPointRange<Double>): Asking {
        val to = size.endInclusive.takeIf { it > size.start }
        return answer(KeySeen(character, emptyList(), size.start, to, !draft.unsure))
    }

    /** It cannot be told: the key goes on to something else. */
    fun cannotTell(character: String): Asking = answer(seen(character, emptyList(), sure = true))

    private fun answer(seen: KeySeen): Asking =
        copy(asked = asked.copy(evidence = asked.evidence + seen, ask = null), draft = Draft(), leaf = Leaf.QUESTION)

    /** Not sure after all, or sure again. */
    fun doubt(): Asking = copy(draft = draft.copy(unsure = !draft.unsure, states = emptyList()))

    /** Another question, or another look at what was answered. */
    fun ask(character: String): Asking =
        copy(asked = asked.copy(ask = character), draft = Draft(), leaf = Leaf.QUESTION)

    /** The answer at a place in the list is taken back. */
    fun takeBack(at: Int): Asking =
        copy(asked = asked.copy(evidence = asked.evidence.filterIndexed { index, _ -> index != at }), shownEnd = null)

    /** A name that its finder thinks of, or none any more. */
    fun suspect(name: String?): Asking =
        copy(asked = asked.copy(suspect = name, ask = null), leaf = Leaf.QUESTION, typed = "", draft = Draft())

    /** Another leaf. */
    fun turn(to: Leaf): Asking = copy(leaf = to)

    /** One step back, or null where the page itself is left. */
    fun back(): Asking? = when (leaf) {
        Leaf.SHEET -> null
        Leaf.NAMES -> turn(if (asked.evidence.isEmpty() && asked.suspect == null) Leaf.SHEET else Leaf.QUESTION)
        Leaf.OTHERS, Leaf.ANSWERS, Leaf.END -> turn(Leaf.QUESTION)
        Leaf.QUESTION -> if (draft.unsure) doubt() else turn(Leaf.SHEET)
    }

    /** The key has spoken: an end that was not shown yet is shown. */
    fun told(page: KeyPage): Asking {
        if (leaf != Leaf.QUESTION) return copy(asked = page.asked)
        val ending = page.verdict.ending
        val isNew = ending in ENDS && ending != shownEnd
        val turned = if (isNew || page.question == null) Leaf.END else Leaf.QUESTION
        return copy(asked = page.asked, leaf = turned, shownEnd = ending.takeIf { it in ENDS })
    }

    companion object {
        private val ENDS = setOf(Ending.SETTLED, Ending.GROUP, Ending.UNKNOWN)

        /** As the key begins: on the sheet, unless more is known already than a glance and a month. */
        fun begun(page: KeyPage): Asking {
            val glanced = page.sheet.any { it.states.any { state -> state.chosen } }
            val leaf = if (glanced || page.asked.suspect != null) Leaf.QUESTION else Leaf.SHEET
            return Asking(page.asked, leaf).told(page)
        }

        private fun seen(character: String, states: List<String>, sure: Boolean) =
            KeySeen(character, states, null, null, sure)

        /** A size as typed into two fields, in whichever way the phone writes fractions; null if it is none. */
        fun size(from: String, to: String): ClosedFloatingPointRange<Double>? {
            val least = millimetres(from) ?: return null
            val most = if (to.isBlank()) least else millimetres(to) ?: return null
            return (least..most).takeIf { least <= most }
        }

        private fun millimetres(text: String): Double? =
            plainNumber(text).toDoubleOrNull()?.takeIf { it > 0.0 && it <= MOST_MM }

        private const val MOST_MM = 2000.0
    }
}
