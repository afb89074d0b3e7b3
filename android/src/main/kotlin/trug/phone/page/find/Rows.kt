package trug.phone.page.find

import trug.core.FindPage
import trug.phone.R
import trug.phone.app.Place
import trug.phone.app.Stop
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
        val ages = page.fields.stages.map { desk.words(R.string.find_age_count, ink.context.resources.called("stages", it.stage), it.count.toInt()) }
        row(R.string.find_ages, ink.context.resources.listed(ages).ifEmpty { desk.words(R.string.find_ages_none) }, Part.AGES)
        row(R.string.find_note, page.fields.note ?: desk.words(R.string.find_note_none), Part.NOTE)
        patch(page)
        if (!page.deleted) view.put(ink, ink.button(desk.words(R.string.share_find)) { desk.house.go(Stop(Place.SHARE, desk.find)) }, Ink.MARGIN)
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
        if (joined != null) {
            val words = desk.words(R.string.find_patch_in, joined.name ?: unnamed)
            return view.put(ink, row(ink, words, "") { desk.house.go(Stop(Place.PATCH, about = joined.id)) }, 0)
        }
        page.patchChoices.forEach { choice ->
            val words = desk.words(R.string.find_patch_join, choice.name ?: unnamed, rounded(choice.metres ?: 0.0))
            view.put(ink, ink.button(words) { desk.act { it.joinPatch(desk.find, choice.id) } })
        }
        if (page.place != null) view.put(ink, ink.button(desk.words(R.string.find_patch_found)) { desk.once { it.foundPatch(desk.find, null) } })
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
