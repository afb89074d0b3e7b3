package trug.phone.page.patches

import android.os.Bundle
import android.view.View
import android.widget.EditText
import kotlin.math.roundToInt
import trug.core.PatchNoted
import trug.phone.R
import trug.phone.app.House
import trug.phone.draw.Field
import trug.phone.draw.Ink
import trug.phone.draw.Speaks
import trug.phone.draw.put
import trug.phone.draw.takeFractions
import trug.phone.words.plainNumber
import trug.phone.words.sentence

/** A patch is founded by hand: what it is called, what grows there, how far it reaches, and where its middle is. */
internal class Founding(private val house: House, saved: Bundle?, private val founded: (String) -> Unit) : Speaks {
    override val ink = house.ink
    private val name = field(R.string.patches_name, Field.Kind.TEXT, saved?.getString(NAME))
    private val kind = Kind(house) { }.apply { saved?.getBundle(KIND)?.let(::restore) }
    private val reach = field(R.string.patches_reach, Field.Kind.DECIMAL, saved?.getString(REACH)).apply { takeFractions() }
    private val here = ink.column()
    private val typed = field(R.string.find_where_typed, Field.Kind.NAME, saved?.getString(TYPED))

    /** A patch is founded once, however often that is touched. */
    private var isWaiting = false

    val view: View = ink.column(ink.head(words(R.string.patches_founding)), name).apply {
        put(ink, kind.view, Ink.MARGIN)
        put(ink, reach, Ink.MARGIN)
        put(ink, ink.words(words(R.string.patches_reach_help), colour = ink.quiet), 0)
        put(ink, here, Ink.MARGIN)
        put(ink, typed)
    }
    val below: View = ink.thumb(words(R.string.patches_keep), ::found)

    init {
        placed()
    }

    /** Where the phone is may be known otherwise now. */
    fun placed() {
        here.removeAllViews()
        val position = house.position
        val best = position.best
        when {
            best != null -> here.put(ink, ink.words(words(R.string.patches_here, best.accuracyM?.roundToInt() ?: 0)), 0)
            position.isAllowed -> here.put(ink, ink.words(words(R.string.now_no_fix), colour = ink.quiet), 0)
            else -> here.put(ink, ink.button(words(R.string.now_ask_position)) { house.askPosition() }, 0)
        }
        if (best == null) here.put(ink, ink.words(words(R.string.patches_without), colour = ink.quiet))
    }

    fun save(into: Bundle) {
        into.putString(NAME, name.text.toString())
        into.putBundle(KIND, Bundle().also(kind::save))
        into.putString(REACH, reach.text.toString())
        into.putString(TYPED, typed.text.toString())
    }

    private fun found() {
        if (isWaiting) return
        val far = plainNumber(reach.text.toString())
        val metres = far.toDoubleOrNull()
        if (far.isNotEmpty() && metres == null) return house.complain(words(R.string.patches_reach_help))
        val patch = PatchNoted(name.text.toString(), kind.id, metres, house.position.best?.fix, typed.text.toString())
        isWaiting = true
        house.calls.make({ it.addPatch(patch) }) { answered ->
            isWaiting = false
            answered.onSuccess(founded).onFailure { house.complain(ink.context.resources.sentence(it)) }
        }
    }

    private fun field(label: Int, kind: Field.Kind, typed: String?) = EditText(ink.context).apply {
        hint = words(label)
        ink.print(this)
        inputType = kind.input
        setText(typed.orEmpty())
    }

    private companion object {
        const val NAME = "name"
        const val KIND = "kind"
        const val REACH = "reach"
        const val TYPED = "typed"
    }
}
