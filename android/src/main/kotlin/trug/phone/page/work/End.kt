package trug.phone.page.work

import android.view.View
import android.widget.LinearLayout
import trug.core.Ending
import trug.core.KeyPage
import trug.core.Verdict
import trug.phone.R
import trug.phone.draw.Ink

/** Where the key has come to, in the core's words, and what to do about it. */
internal class EndLeaf(private val desk: Desk) : LeafView {
    private val ink = desk.ink
    override val body: LinearLayout = ink.column()
    override val thumb: LinearLayout = ink.column()

    override fun show(asking: Asking, page: KeyPage) {
        body.removeAllViews()
        thumb.removeAllViews()
        val verdict = page.verdict
        add(dangers(ink, page.strip, asking.allDangers) { desk.turn { it.copy(allDangers = !it.allDangers) } })
        add(ink.head(verdict.title), Ink.GAP)
        if (verdict.ending == Ending.GROUP) add(ink.words(desk.words(R.string.work_end_group)))
        verdict.named.forEach { name ->
            if (verdict.ending == Ending.GROUP) add(ink.words(name.english, bold = true), Ink.GAP)
            if (name.latin.isNotEmpty()) add(ink.latin(name.latin))
        }
        if (verdict.checks.isEmpty()) {
            // The first sentence of the body is the title again; the rest says the more.
            add(ink.words(verdict.body.removePrefix("${verdict.title}. ")), Ink.GAP)
        } else {
            list(R.string.work_end_checks, verdict.checks)
            add(ink.words(desk.words(R.string.work_end_checks_do), bold = true), Ink.GAP)
            add(ink.words(desk.words(R.string.work_in_doubt), bold = true), Ink.GAP)
        }
        if (verdict.ending == Ending.NOT_SETTLED) list(R.string.work_end_in_the_way, verdict.inTheWay)
        list(R.string.work_end_cautions, verdict.cautions)
        if (page.answers.isNotEmpty()) {
            add(ink.button(desk.counted(R.plurals.work_answers, page.answers.size)) { desk.turn { it.turn(Leaf.ANSWERS) } }, Ink.MARGIN)
        }
        thumb.addView(ink.beside(on(page), keep(verdict)))
    }

    private fun on(page: KeyPage): View? =
        if (page.question == null) null else ink.button(desk.words(R.string.work_ask_on)) { desk.turn { it.turn(Leaf.QUESTION) } }

    private fun keep(verdict: Verdict): View {
        val keep = desk.keep ?: return ink.words(desk.words(R.string.work_no_find), colour = ink.quiet)
        val settled = verdict.ending == Ending.SETTLED || verdict.ending == Ending.GROUP
        return ink.button(desk.words(if (settled) R.string.work_keep else R.string.work_keep_open), filled = true, touched = keep)
    }

    private fun list(head: Int, items: List<String>) {
        if (items.isEmpty()) return
        add(ink.rule(), Ink.MARGIN)
        add(ink.words(desk.words(head), bold = true), Ink.GAP)
        items.forEach { add(ink.words(it), Ink.GAP) }
    }

    private fun add(view: View?, above: Int = 0) {
        if (view != null) body.addView(view, if (view.tag == Ink.RULE) ink.line(above) else ink.across(above))
    }
}
