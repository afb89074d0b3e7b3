package trug.phone.page.patches

import android.os.Bundle
import trug.core.NameShown
import trug.phone.R
import trug.phone.app.House
import trug.phone.draw.Ink
import trug.phone.draw.put
import trug.phone.page.names.Lookup
import trug.phone.words.sentence

/** What grows in a patch, if it is one kind: looked up by name, and then shown with the way to another. */
internal class Kind(private val house: House, private val told: (String?) -> Unit) {
    private val ink = house.ink
    private val context = ink.context
    val view = ink.column()

    /** What is chosen: what the core knows it by, and what it is called. */
    private var chosen: Pair<String, String>? = null
    val id: String? get() = chosen?.first
    private var lookup: Lookup? = null

    init {
        draw("")
    }

    /** Shows what is on record. */
    fun show(name: NameShown?) {
        val known = name?.let { it.id to it.english }
        if (known == chosen) return
        chosen = known
        draw("")
    }

    fun save(into: Bundle) {
        into.putString(ID, chosen?.first)
        into.putString(CALLED, chosen?.second)
        into.putString(TYPED, lookup?.typed)
    }

    fun restore(saved: Bundle) {
        val (id, called) = saved.getString(ID) to saved.getString(CALLED)
        chosen = if (id != null && called != null) id to called else null
        draw(saved.getString(TYPED).orEmpty())
    }

    private fun draw(typed: String) {
        view.removeAllViews()
        view.put(ink, ink.words(context.getString(R.string.patches_kind), colour = ink.quiet), 0)
        val chosen = chosen
        if (chosen != null) {
            lookup = null
            view.put(ink, ink.words(chosen.second, bold = true))
            view.put(ink, ink.button(context.getString(R.string.patches_kind_drop)) { choose(null) })
            return
        }
        val names = Lookup(ink, ::find, { choose(it.id to it.english) }, { ink.button(context.getString(R.string.names_as_typed, it)) { choose(it to it) } })
        lookup = names
        view.put(ink, names.entry, 0)
        view.put(ink, names.found, 0)
        names.begin(typed, atOnce = false)
    }

    private fun choose(kind: Pair<String, String>?) {
        chosen = kind
        draw("")
        told(kind?.first)
    }

    private fun find(typed: String, then: (List<NameShown>) -> Unit) =
        house.calls.make({ it.names(typed, MOST) }) { found -> found.onSuccess(then).onFailure { house.complain(context.resources.sentence(it)) } }

    private companion object {
        const val MOST = 8u
        const val ID = "id"
        const val CALLED = "called"
        const val TYPED = "typed"
    }
}
