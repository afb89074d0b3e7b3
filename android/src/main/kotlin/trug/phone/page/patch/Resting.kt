package trug.phone.page.patch

import trug.core.PatchPage
import trug.phone.R
import trug.phone.draw.Field
import trug.phone.draw.Ink
import trug.phone.draw.put
import trug.phone.words.plainNumber
import trug.phone.words.rest

/** A patch is let rest for some days from today, or its rest is ended. */
internal class Resting(private val desk: Desk) : Section {
    private val ink = desk.ink
    private val rests = ink.words("", bold = true)
    private val end = ink.button(desk.words(R.string.patch_rest_end)) { rest(null) }
    private val other = Field(ink, desk.words(R.string.patch_rest_other), Field.Kind.WHOLE) { }
    override val view = ink.column(ink.head(desk.words(R.string.patch_rest)), rests).apply {
        put(ink, ink.words(desk.words(R.string.patch_rest_help), colour = ink.quiet))
        put(ink, end)
        DAYS.forEach { days -> put(ink, ink.button(desk.counted(R.plurals.patch_rest_days, days)) { rest(days.toUInt()) }) }
        put(ink, other.view, Ink.MARGIN)
        put(ink, ink.button(desk.words(R.string.patch_rest_set), touched = ::set))
    }

    private fun set() {
        val days = plainNumber(other.text).toUIntOrNull()?.takeIf { it > 0u } ?: return
        rest(days)
    }

    private fun rest(days: UInt?) = desk.once({ desk.turn(Leaf.ALL) }) { it.restPatch(desk.patch, days) }

    override fun show(page: PatchPage) {
        rests.say(ink.context.rest(page.line.restsUntil, page.now) ?: desk.words(R.string.patch_rest_none))
        end.visibility = if (page.line.restsUntil == null) android.view.View.GONE else android.view.View.VISIBLE
    }

    private companion object {
        /** A week, a fortnight, a month: what a flush of fruitbodies takes to come again (common practice, no source). */
        val DAYS = listOf(7, 14, 28)
    }
}
