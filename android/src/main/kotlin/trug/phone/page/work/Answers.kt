package trug.phone.page.work

import android.view.View
import android.widget.LinearLayout
import trug.core.AnswerGiven
import trug.core.Fits
import trug.core.KeyPage
import trug.phone.R
import trug.phone.draw.Ink
import trug.phone.draw.row

/** What was answered, to be looked at again or taken back, and what still fits, with what speaks for and against it. */
internal class AnswersLeaf(private val desk: Desk) : LeafView {
    private val ink = desk.ink
    override val body: LinearLayout = ink.column()
    override val thumb: LinearLayout = ink.column()

    override fun show(asking: Asking, page: KeyPage) {
        body.removeAllViews()
        thumb.removeAllViews()
        body.addView(ink.head(desk.words(R.string.work_answers_head)))
        if (page.answers.isEmpty()) body.addView(ink.words(desk.words(R.string.work_answers_none)), ink.across(Ink.GAP))
        if (page.answers.isNotEmpty()) body.addView(ink.words(desk.words(R.string.work_answers_help), colour = ink.quiet), ink.across(Ink.GAP))
        val suspect = ink.button(desk.words(R.string.names_think)) { desk.turn { it.turn(Leaf.NAMES) } }
        page.answers.forEachIndexed { at, answer -> body.addView(answer(at, answer), ink.across(Ink.GAP)) }
        body.addView(suspect, ink.across(Ink.MARGIN))
        body.addView(ink.rule(), ink.line(Ink.MARGIN))
        body.addView(ink.head(desk.words(R.string.work_fits_head)), ink.across(Ink.MARGIN))
        if (page.fits.isEmpty()) body.addView(ink.words(desk.words(R.string.work_fits_none)), ink.across(Ink.GAP))
        page.fits.forEach { body.addView(fits(it), ink.across(Ink.MARGIN)) }
        thumb.addView(
            ink.beside(
                ink.button(desk.words(R.string.work_stop)) { desk.turn { it.turn(Leaf.END) } },
                ink.button(desk.words(R.string.work_ask_on), filled = true) { desk.turn { it.turn(Leaf.QUESTION).told(page) } },
            ),
        )
    }

    private fun answer(at: Int, answer: AnswerGiven): View {
        val again = row(ink, answer.words, "") { desk.turn { it.ask(answer.seen.character) } }
        again.contentDescription = desk.words(R.string.work_again_of, answer.words)
        val back = ink.button(desk.words(R.string.work_take_back)) { desk.turn { it.takeBack(at) } }
        back.contentDescription = desk.words(R.string.work_back_of, answer.words)
        return (if (ink.leftHanded) ink.beside(back, again) else ink.beside(again, back)).apply { weigh(again, ANSWER) }
    }

    private fun weigh(view: View, weight: Float) {
        (view.layoutParams as LinearLayout.LayoutParams).weight = weight
    }

    private fun fits(fits: Fits): View = ink.column(
        ink.words(fits.name.english, bold = true),
        if (fits.name.latin.isEmpty()) null else ink.latin(fits.name.latin),
        *fits.words.map { ink.words(it) }.toTypedArray(),
    )

    private companion object {
        const val ANSWER = 1.8f
    }
}
