package trug.phone.page.find

import android.widget.LinearLayout
import trug.core.AdviceShown
import trug.core.CheckShown
import trug.core.FindPage
import trug.core.ReasonShown
import trug.phone.R
import trug.phone.draw.Field
import trug.phone.draw.Ink
import trug.phone.draw.part
import trug.phone.draw.put
import trug.phone.words.day
import trug.phone.words.listed

/** Why the advice is what it is: every rule that spoke, with where it stands, and what to check on each one that is cut. */
internal class Why(private val desk: Desk) : Section {
    private val ink = desk.ink
    private val told: LinearLayout = ink.column()
    private val because = Field(ink, desk.words(R.string.find_not_followed), Field.Kind.LINES) { why -> desk.act { it.sayWhy(desk.find, why) } }
    override val view = ink.column(told, because.view)

    override fun show(page: FindPage) {
        told.removeAllViews()
        val advice = page.advice
        advice.lookAgain?.let { told.put(ink, ink.words(desk.words(R.string.find_look_again, ink.context.day(it, page.at)))) }
        page.condition?.let { condition ->
            told.put(ink, ink.words(condition.words))
            condition.notes.forEach { told.put(ink, ink.words(it, colour = ink.quiet)) }
        }
        specimens(advice)
        advice.reasons.forEach(::reason)
        if (advice.checks.isNotEmpty()) {
            told.part(ink, desk.words(R.string.find_check_each))
            advice.checks.forEach(::check)
            told.put(ink, ink.words(desk.words(R.string.work_in_doubt), bold = true))
        }
        all(R.string.find_conduct, advice.conduct)
        all(R.string.find_idle, advice.idle)
        because.view.visibility = if (page.followed == false) android.view.View.VISIBLE else android.view.View.GONE
    }

    override fun flush() = because.flush()

    private fun specimens(advice: AdviceShown) {
        val count = advice.specimen.toInt()
        if (count > 0) told.put(ink, ink.words(desk.counted(R.plurals.find_why_more, count)))
    }

    private fun reason(reason: ReasonShown) {
        told.put(ink, ink.words(reason.words), Ink.MARGIN)
        if (reason.title.isNotEmpty()) told.put(ink, ink.words(desk.words(R.string.find_reason_of, reason.title), colour = ink.quiet), 0)
    }

    private fun check(check: CheckShown) {
        val marks = ink.context.resources.listed(check.lookAt)
        val line = if (check.deadly) R.string.find_check_deadly else R.string.find_check_line
        told.put(ink, ink.words(desk.words(line, check.name, marks)))
    }

    private fun all(head: Int, reasons: List<ReasonShown>) {
        if (reasons.isEmpty()) return
        told.part(ink, desk.words(head))
        reasons.forEach(::reason)
    }
}
