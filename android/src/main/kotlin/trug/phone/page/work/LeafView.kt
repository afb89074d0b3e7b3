package trug.phone.page.work

import android.view.View
import trug.core.KeyPage
import trug.core.NameShown
import trug.phone.draw.Speaks

/** One leaf, drawn: what is read and tapped, and below it, at the thumb, what to do next. */
internal interface LeafView {
    val body: View
    val thumb: View

    /** Shows what is remembered and what the key says to it. */
    fun show(asking: Asking, page: KeyPage)
}

/** What leaves may ask for. */
internal interface Desk : Speaks {
    /** A touch: what is remembered next. If that changes what the key is told, the key is asked, and then the leaf drawn. */
    fun turn(next: (Asking) -> Asking)

    /** The same, where the view shows it already: letters in a field. */
    fun remember(next: (Asking) -> Asking)

    /** Names that fit what was typed. */
    fun names(typed: String, then: (List<NameShown>) -> Unit)

    /** Keeps what the key says with the find; null where there is no find. */
    val keep: (() -> Unit)?

    /** Something that was typed or answered cannot be as it is. */
    fun complain(words: String)
}
