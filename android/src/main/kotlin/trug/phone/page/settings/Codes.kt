package trug.phone.page.settings

import android.os.Bundle
import trug.core.CodeShown
import trug.core.CodesPage
import trug.phone.R
import trug.phone.app.House
import trug.phone.draw.Ink
import trug.phone.draw.part
import trug.phone.draw.put
import trug.phone.draw.row
import trug.phone.words.called
import trug.phone.words.day
import trug.phone.words.joined
import trug.phone.words.sentence

/** Codes of gathering by the place where they hold, and which are in force. */
internal class CodesLeaf(house: House, saved: Bundle?) : Leaf(house, R.string.codes_title, saved) {
    init {
        busy()
    }

    override fun shown() = house.calls.make({ it.codes() }) { it.onSuccess(::draw).onFailure(::fail) }

    private fun draw(page: CodesPage) {
        val body = ink.column(
            ink.words(words(R.string.codes_help)),
            ink.words(words(if (page.chosen) R.string.codes_chosen else R.string.codes_not_chosen), colour = ink.quiet),
        )
        page.codes.groupBy { it.holdsIn }.forEach { (place, codes) ->
            body.part(ink, words(R.string.codes_holds_in, place))
            codes.forEach { code -> body.put(ink, row(ink, code.title, about(code)) { turn("$CODE:${code.id}") }, 0) }
        }
        body.put(ink, ink.rule(), Ink.MARGIN)
        body.put(ink, ink.words(words(R.string.codes_elsewhere), colour = ink.quiet))
        if (page.chosen) body.put(ink, atFirst(), Ink.MARGIN)
        show(body)
    }

    private fun about(code: CodeShown): String {
        val force = words(if (code.inForce) R.string.codes_in_force else R.string.codes_not_in_force)
        return context.resources.joined(listOf(force, context.resources.called("code-kind", code.kind)))
    }

    private fun atFirst() = ink.button(words(R.string.codes_at_first)) { once({ it.gatherAsAtFirst() }, ::draw) }

    /** A code that was chosen with a newer Trug is not here: then the way back to those for Britain is. */
    private fun fail(error: Throwable) = show(ink.column(ink.words(context.resources.sentence(error))).apply { put(ink, atFirst(), Ink.MARGIN) })
}

/** One code: where it holds, where its text stands, what it asks; and whether to gather under it. */
internal class CodeLeaf(house: House, private val id: String, saved: Bundle?) : Leaf(house, R.string.codes_title, saved) {
    init {
        busy()
    }

    override fun shown() = ask({ it.codes() }, ::draw)

    private fun draw(page: CodesPage) {
        val code = page.codes.find { it.id == id } ?: return house.leave(this)
        val resources = context.resources
        val body = ink.column(
            ink.head(code.title),
            ink.words(resources.joined(listOf(words(R.string.codes_holds_in, code.holdsIn), resources.called("code-kind", code.kind)))),
        )
        if (code.checkLocally) body.put(ink, ink.words(words(R.string.codes_check), bold = true))
        code.note?.let { body.put(ink, ink.words(it)) }
        body.part(ink, words(R.string.codes_rules))
        for (rule in code.rules) {
            body.put(ink, ink.words(rule.words), Ink.GAP)
            val memory = words(R.string.codes_from_memory).takeIf { rule.fromMemory }
            val further = resources.joined(listOfNotNull(rule.standsIn, rule.note, memory))
            if (further.isNotEmpty()) body.put(ink, ink.words(further, colour = ink.quiet), 0)
        }
        body.put(ink, ink.rule(), Ink.MARGIN)
        body.put(ink, ink.words(words(R.string.codes_source, code.source), colour = ink.quiet))
        code.textOf?.let { body.put(ink, ink.words(words(R.string.codes_text_of, context.day(it)), colour = ink.quiet), 0) }
        val seen = code.seen?.let { words(R.string.codes_seen, context.day(it)) } ?: words(R.string.codes_seen_never)
        // What people do has no text.
        if (code.kind != PRACTICE) body.put(ink, ink.words(seen, colour = ink.quiet), 0)
        if (code.always) body.put(ink, ink.words(words(R.string.codes_always)))
        show(body, if (code.always) null else thumb(code))
    }

    private fun thumb(code: CodeShown) = if (code.inForce) {
        ink.button(words(R.string.codes_leave_out)) { once({ it.gatherUnder(id, false) }, ::draw) }.apply { minHeight = ink.dp(Ink.THUMB) }
    } else {
        ink.thumb(words(R.string.codes_use)) { once({ it.gatherUnder(id, true) }, ::draw) }
    }

    private companion object {
        const val PRACTICE = "practice"
    }
}
