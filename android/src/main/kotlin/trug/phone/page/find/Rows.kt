package trug.phone.page.find

import android.os.Bundle
import android.view.View
import android.view.inputmethod.EditorInfo
import kotlin.math.roundToInt
import trug.core.FindPage
import trug.phone.R
import trug.phone.draw.Field
import trug.phone.draw.Ink
import trug.phone.draw.part
import trug.phone.draw.put
import trug.phone.draw.row
import trug.phone.words.called
import trug.phone.words.listed
import trug.phone.words.rounded

/** The rest of a find, a row each: where, growing on, ages, note, patch. */
internal class Rows(private val desk: Desk) : Section {
    private val ink = desk.ink
    override val view = ink.column()

    override fun show(page: FindPage) {
        view.removeAllViews()
        view.put(ink, ink.rule(), 0)
        row(R.string.find_where, place(desk, page), Part.WHERE)
        row(R.string.find_grows, grows(page), Part.GROWS)
        val ages = page.fields.stages.map { desk.words(R.string.find_age_count, desk.words(called(it.stage)), it.count.toInt()) }
        row(R.string.find_ages, ink.context.resources.listed(ages).ifEmpty { desk.words(R.string.find_ages_none) }, Part.AGES)
        row(R.string.find_note, page.fields.note ?: desk.words(R.string.find_note_none), Part.NOTE)
        patch(page)
        if (!page.deleted) view.put(ink, ink.button(desk.words(R.string.find_delete)) { desk.act { it.deleteFind(desk.find) } }, Ink.MARGIN)
    }

    private fun row(head: Int, about: String, to: Part) = view.put(ink, row(ink, desk.words(head), about) { desk.turn(to) }, 0)

    private fun grows(page: FindPage): String {
        val resources = ink.context.resources
        val fields = page.fields
        val words = listOfNotNull(
            fields.on?.let { resources.called("on", it) },
            fields.host,
            fields.ground?.let { resources.called("ground", it) },
            fields.growth?.let { resources.called("growth", it) },
        ) + fields.hazards.map { resources.called("hazards", it) }
        return resources.listed(words).ifEmpty { desk.words(R.string.find_grows_none) }
    }

    private fun patch(page: FindPage) {
        view.part(ink, desk.words(R.string.find_patch))
        val unnamed = desk.words(R.string.find_patch_unnamed)
        val joined = page.patch
        if (joined != null) return view.put(ink, ink.words(desk.words(R.string.find_patch_in, joined.name ?: unnamed)))
        page.patchChoices.forEach { choice ->
            val words = desk.words(R.string.find_patch_join, choice.name ?: unnamed, rounded(choice.metres ?: 0.0))
            view.put(ink, ink.button(words) { desk.act { it.joinPatch(desk.find, choice.id) } })
        }
        if (page.place != null) view.put(ink, ink.button(desk.words(R.string.find_patch_found)) { desk.once { it.foundPatch(desk.find, null) } })
    }
}

/** Where a find is, in words. */
internal fun place(desk: Desk, page: FindPage): String {
    val place = page.place ?: return desk.words(R.string.find_where_none)
    val within = place.accuracyM?.roundToInt() ?: return place.name
    val words = if (Better.isImproving(page)) R.string.find_where_improving else R.string.find_where_within
    return desk.words(words, place.name, within)
}

/** Where it is: from this phone, or typed. */
internal class Whereabouts(private val desk: Desk, saved: Bundle?) : Section {
    private val ink = desk.ink
    private val place = ink.column()
    private val here = ink.column()
    private val typed = Field(ink, desk.words(R.string.find_where_typed), Field.Kind.NAME) { }
    private var tried = saved?.getString(TRIED).orEmpty()
    override val view: View = ink.column(ink.head(desk.words(R.string.find_where)), place, here, typed.view).apply {
        put(ink, ink.button(desk.words(R.string.find_where_set), touched = ::set))
    }

    init {
        typed.view.setText(saved?.getString(TYPED))
        typed.view.imeOptions = EditorInfo.IME_ACTION_DONE or EditorInfo.IME_FLAG_NO_FULLSCREEN
        typed.view.setOnEditorActionListener { _, action, _ -> (action == EditorInfo.IME_ACTION_DONE).also { if (it) set() } }
    }

    private fun set() {
        val text = typed.text
        tried = text
        desk.act { it.placeFindAt(desk.find, text) }
    }

    /** What was typed and not set yet is meant all the same. */
    override fun leave() {
        if (typed.text.isNotEmpty() && typed.text != tried) set()
    }

    override fun save(into: Bundle) {
        into.putString(TYPED, typed.text)
        into.putString(TRIED, tried)
    }

    override fun show(page: FindPage) {
        place.removeAllViews()
        place.put(ink, ink.words(place(desk, page), bold = true), 0)
        page.place?.let { place.put(ink, ink.words(ink.context.resources.called("got", it.got), colour = ink.quiet), 0) }
        here.removeAllViews()
        val position = desk.house.position
        val best = position.best
        when {
            !position.isAllowed -> here.put(ink, ink.button(desk.words(R.string.now_ask_position)) { desk.house.askPosition() })
            best == null -> here.put(ink, ink.words(desk.words(R.string.now_no_fix), colour = ink.quiet))
            else -> {
                val within = best.accuracyM?.roundToInt() ?: 0
                here.put(ink, ink.button(desk.words(R.string.find_where_here, within)) {
                    tried = typed.text
                    desk.act { it.placeFind(desk.find, best.fix) }
                })
            }
        }
    }

    private companion object {
        const val TYPED = "typed"
        const val TRIED = "tried"
    }
}

/** Anything else, and who gathered it. */
internal class Note(private val desk: Desk) : Section {
    private val ink = desk.ink
    private val note = Field(ink, desk.words(R.string.find_note_none), Field.Kind.LINES) {
        desk.amend("note" to it.ifEmpty { null }, refused = this::refused)
    }
    private val by = Field(ink, desk.words(R.string.find_by)) { desk.amend("by" to it.ifEmpty { null }, refused = this::refused) }
    override val view = ink.column(ink.head(desk.words(R.string.find_note)), note.view, by.view)

    override fun show(page: FindPage) {
        note.show(page.fields.note.orEmpty())
        by.show(page.fields.by.orEmpty())
    }

    override fun flush() = listOf(note, by).forEach(Field::flush)
}
