package trug.phone.page.names

import android.os.Bundle
import android.view.View
import android.widget.EditText
import trug.core.NameShown
import trug.phone.R
import trug.phone.app.House
import trug.phone.app.Page
import trug.phone.app.Place
import trug.phone.app.Stop
import trug.phone.draw.Choice
import trug.phone.draw.Leaves
import trug.phone.draw.put
import trug.phone.words.choices
import trug.phone.words.sentence

/** A name is looked up: to be checked by the key, or on the word of somebody who knows. */
internal class Names(private val house: House, private val find: String, private val toCheck: Boolean, saved: Bundle?) : Page {
    private val ink = house.ink
    private val context = ink.context
    override val title = if (toCheck) R.string.names_think else R.string.names_know
    private var how = saved?.getString(HOW) ?: WAYS.first()

    private val who = EditText(context).apply {
        hint = context.getString(R.string.names_who)
        ink.print(this)
        setText(saved?.getString(WHO).orEmpty())
    }
    private val ways = Choice(ink, context.resources.choices("how", WAYS)) { way, _ -> choose(way) }
    private val names = Lookup(ink, ::find, { take(it.id) }, ::asTyped)

    /** A name is given once, however often it is touched. */
    private var isTaken = false
    override val view: View = Leaves(ink).apply {
        val body = ink.column(names.entry)
        if (toCheck) {
            body.put(ink, ink.part(context.getString(R.string.names_think_help)))
        } else {
            body.put(ink, ink.part(context.getString(R.string.names_how)))
            body.put(ink, ways.view)
            body.put(ink, who)
        }
        body.put(ink, names.found)
        show(body, null)
    }.view

    init {
        choose(how)
        names.begin(saved?.getString(TYPED).orEmpty())
    }

    override fun save(into: Bundle) {
        into.putString(TYPED, names.typed)
        into.putString(HOW, how)
        into.putString(WHO, who.text.toString())
    }

    private fun choose(way: String) {
        how = way
        ways.show(setOf(way))
        who.visibility = if (way == TOLD) View.VISIBLE else View.GONE
    }

    private fun find(typed: String, then: (List<NameShown>) -> Unit) =
        house.calls.make({ it.names(typed, MOST) }) { found -> found.onSuccess(then).onFailure(::complain) }

    /** A name that no pack knows is a name all the same; the key can do nothing with it. */
    private fun asTyped(name: String): View? =
        if (toCheck) null else ink.button(context.getString(R.string.names_as_typed, name)) { take(name) }

    private fun take(name: String) {
        if (toCheck) return house.turnInto(Stop(Place.WORK, find, name))
        if (isTaken) return
        isTaken = true
        val told = who.text.toString().trim().takeIf { how == TOLD && it.isNotEmpty() }
        house.calls.make({ it.nameFind(find, name, how, null, told) }) { named ->
            isTaken = false
            named.onSuccess { house.leave(this) }.onFailure(::complain)
        }
    }

    private fun complain(error: Throwable) = house.complain(context.resources.sentence(error))

    private companion object {
        const val MOST = 20u
        const val TYPED = "typed"
        const val HOW = "how"
        const val WHO = "who"
        const val TOLD = "told"

        /** The ways that are somebody's word; the key has its own page. */
        val WAYS = listOf("sight", TOLD, "spore-print", "microscope")
    }
}
