package trug.phone.draw

import trug.core.StateOffered

/**
 * A list to choose from, as words; what is chosen is said with each where a page has several lists with the same words. [touched] is told
 * what was touched, and whether that chooses it or gives it up.
 */
internal class Choice(ink: Ink, offered: List<Pair<String, String>>, of: String? = null, private val touched: (String, Boolean) -> Unit) {
    private var chosen: Set<String> = emptySet()
    val view = States(ink, offered.map { (id, label) -> StateOffered(id, label, figure = null, chosen = false) }, of) { touched(it, it !in chosen) }

    /** Shows what is chosen. */
    fun show(ids: Set<String>) {
        chosen = ids
        view.choose(ids)
    }
}
