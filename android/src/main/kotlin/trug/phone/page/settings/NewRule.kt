package trug.phone.page.settings

import android.os.Bundle
import android.view.ViewGroup
import android.widget.EditText
import android.widget.LinearLayout
import trug.core.HousePage
import trug.core.NameShown
import trug.core.RuleAsked
import trug.phone.R
import trug.phone.app.House
import trug.phone.draw.Choice
import trug.phone.draw.Field
import trug.phone.draw.Ink
import trug.phone.draw.hideKeyboard
import trug.phone.draw.put
import trug.phone.draw.takeFractions
import trug.phone.page.names.Lookup
import trug.phone.words.choices
import trug.phone.words.plainNumber
import trug.phone.words.sentence

/** The form for a rule of one's own: its kind, then what that kind asks for. */
internal class NewRuleLeaf(house: House, saved: Bundle?) : Leaf(house, R.string.house_new, saved) {
    private var kind = saved?.getString(KIND)
    private var share = saved?.getString(SHARE)
    private var per = saved?.getString(PER) ?: "day"
    private var over = saved?.getString(OVER) ?: "patch"
    private var fungus = saved?.getString(FUNGUS)
    private var called = saved?.getString(CALLED)
    private var typed = saved?.getString(TYPED).orEmpty()
    private var offered: HousePage? = null
    private val number = EditText(context).apply {
        ink.print(this)
        setText(saved?.getString(NUMBER).orEmpty())
    }

    init {
        busy()
    }

    override fun shown() {
        if (offered == null) {
            ask({ it.house() }) {
                offered = it
                draw()
            }
        }
    }

    override fun save(into: Bundle) {
        super.save(into)
        into.putString(KIND, kind)
        into.putString(SHARE, share)
        into.putString(PER, per)
        into.putString(OVER, over)
        into.putString(FUNGUS, fungus)
        into.putString(CALLED, called)
        into.putString(TYPED, typed)
        into.putString(NUMBER, number.text.toString())
    }

    private fun draw() {
        val offered = offered ?: return
        val kind = kind
        val body = ink.column(ink.part(words(R.string.house_kind)))
        body.put(ink, choice("rule-kind", offered.kinds, kind) { this.kind = it })
        if (kind == null) return show(body)
        hint(kind)?.let { label ->
            (number.parent as? ViewGroup)?.removeView(number)
            number.hint = words(label)
            number.inputType = Field.Kind.WHOLE.input
            if (kind == "weight" || kind == "size") number.takeFractions()
            body.put(ink, number, Ink.MARGIN)
        }
        if (kind == "share") {
            body.put(ink, ink.part(words(R.string.house_share)), Ink.MARGIN)
            val shares = Choice(ink, offered.shares.map { it.number to it.words.replaceFirstChar(Char::uppercase) }) { number, _ -> again { share = number } }
            body.put(ink, shares.apply { show(setOfNotNull(share)) }.view)
        }
        if (kind == "count" || kind == "weight") {
            body.put(ink, ink.part(words(R.string.house_per)), Ink.MARGIN)
            body.put(ink, choice("per", offered.per, per) { per = it })
        }
        if (kind == "count") {
            body.put(ink, ink.part(words(R.string.house_over)), Ink.MARGIN)
            body.put(ink, choice("over", offered.over, over) { over = it })
        }
        fungus(body, kind)
        show(body, ink.thumb(words(R.string.house_keep), ::keep))
    }

    private fun fungus(body: LinearLayout, kind: String) {
        body.put(ink, ink.part(words(if (kind == "protected") R.string.house_fungus_needed else R.string.house_fungus)), Ink.MARGIN)
        val called = called
        if (called != null) {
            body.put(ink, ink.words(called, bold = true))
            body.put(ink, ink.button(words(R.string.house_fungus_drop, called)) { again { choose(null) } })
            return
        }
        val names = Lookup(
            ink,
            { text, then -> house.calls.make({ it.names(text, MOST) }) { found -> found.onSuccess(then).onFailure { house.complain(context.resources.sentence(it)) } } },
            { name -> again { choose(name) } },
            told = { typed = it },
        )
        body.put(ink, names.entry)
        body.put(ink, names.found)
        names.begin(typed, atOnce = false)
    }

    private fun choose(name: NameShown?) {
        view.hideKeyboard()
        fungus = name?.id
        called = name?.english
        typed = ""
    }

    private fun choice(list: String, words: List<String>, chosen: String?, choose: (String) -> Unit) =
        Choice(ink, context.resources.choices(list, words)) { word, _ -> again { choose(word) } }.apply { show(setOfNotNull(chosen)) }.view

    private fun again(change: () -> Unit) {
        house.complain(null)
        change()
        draw()
    }

    /** What the number of a kind is, if it has one. */
    private fun hint(kind: String): Int? = when (kind) {
        "share", "protected" -> null
        "weight" -> R.string.house_number_grams
        "size" -> R.string.house_number_mm
        "rest" -> R.string.house_number_days
        else -> R.string.house_number_count
    }

    private fun keep() {
        val kind = kind ?: return
        val number = if (kind == "share") share.orEmpty() else plainNumber(number.text.toString())
        once({ it.addHouseRule(RuleAsked(kind, number, per, over, fungus)) }) { house.leave(this) }
    }

    private companion object {
        const val KIND = "kind"
        const val NUMBER = "number"
        const val SHARE = "share"
        const val PER = "per"
        const val OVER = "over"
        const val FUNGUS = "fungus"
        const val CALLED = "called"
        const val TYPED = "typed"
        val MOST = 8u
    }
}
