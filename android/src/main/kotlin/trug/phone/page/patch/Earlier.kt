package trug.phone.page.patch

import android.os.Bundle
import android.widget.EditText
import trug.core.At
import trug.core.LookNoted
import trug.core.PatchPage
import trug.phone.R
import trug.phone.draw.Choice
import trug.phone.draw.Field
import trug.phone.draw.Ink
import trug.phone.draw.put
import trug.phone.page.ill.askTime
import trug.phone.page.ill.shown
import trug.phone.words.choices
import trug.phone.words.day
import trug.phone.words.hour

/** A look at the patch on another day, or with words to it, noted afterwards. */
internal class Earlier(private val desk: Desk, saved: Bundle?) : Section {
    private val ink = desk.ink
    private val context = ink.context
    private var at: At? = saved?.takeIf { it.containsKey(AT) }?.let { At(it.getLong(AT), it.getInt(OFFSET)) }
    private var now = Long.MAX_VALUE
    private var outcome: String? = saved?.getString(OUTCOME)
    private val whenever = ink.button("") { askTime(context, at, ::timed) }
    private val came = Choice(ink, context.resources.choices("outcome")) { word, chosen -> choose(word.takeIf { chosen }) }
    private val by = field(R.string.patch_earlier_by, Field.Kind.NAME, saved?.getString(BY))
    private val note = field(R.string.find_note, Field.Kind.LINES, saved?.getString(NOTE))
    override val view = ink.column(ink.head(desk.words(R.string.patch_earlier))).apply {
        put(ink, ink.words(desk.words(R.string.patch_earlier_when), colour = ink.quiet), Ink.MARGIN)
        put(ink, whenever, 0)
        put(ink, ink.words(desk.words(R.string.patch_earlier_came), colour = ink.quiet), Ink.MARGIN)
        put(ink, came.view, 0)
        put(ink, by, Ink.MARGIN)
        put(ink, note)
        put(ink, ink.button(desk.words(R.string.patch_earlier_keep), filled = true, touched = ::keep), Ink.MARGIN)
    }

    init {
        choose(outcome)
        timed(at)
    }

    private fun choose(word: String?) {
        outcome = word
        came.show(setOfNotNull(word))
    }

    /** A look lies in the past, or now: nobody has looked tomorrow. */
    private fun timed(chosen: At?) {
        at = chosen?.takeIf { it.millis < now }
        val shown = at?.shown()
        whenever.text = if (shown == null) desk.words(R.string.patch_earlier_now) else desk.words(R.string.ill_time, context.day(shown.day), context.hour(shown))
    }

    private fun keep() {
        val outcome = outcome ?: return desk.house.complain(desk.words(R.string.patch_earlier_choose))
        val look = LookNoted(outcome, at, by.text.toString(), note.text.toString())
        desk.once({ desk.turn(Leaf.ALL) }) { it.noteLook(desk.patch, look) }
    }

    override fun show(page: PatchPage) {
        now = page.now.millis
    }

    override fun save(into: Bundle) {
        at?.let {
            into.putLong(AT, it.millis)
            into.putInt(OFFSET, it.offsetSeconds)
        }
        into.putString(OUTCOME, outcome)
        into.putString(BY, by.text.toString())
        into.putString(NOTE, note.text.toString())
    }

    private fun field(label: Int, kind: Field.Kind, typed: String?) = EditText(context).apply {
        hint = desk.words(label)
        ink.print(this)
        inputType = kind.input
        isSingleLine = kind != Field.Kind.LINES
        if (kind != Field.Kind.LINES) ink.wrap(this)
        setText(typed.orEmpty())
    }

    private companion object {
        const val AT = "at"
        const val OFFSET = "offset"
        const val OUTCOME = "outcome"
        const val BY = "by"
        const val NOTE = "note"
    }
}
