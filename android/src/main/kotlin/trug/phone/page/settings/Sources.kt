package trug.phone.page.settings

import android.os.Bundle
import android.widget.LinearLayout
import trug.core.KnowledgePage
import trug.core.LicencePage
import trug.core.LicenceShown
import trug.core.SourceShown
import trug.core.knowledge
import trug.core.licencePage
import trug.core.licences
import trug.phone.R
import trug.phone.app.House
import trug.phone.draw.Ink
import trug.phone.draw.part
import trug.phone.draw.put
import trug.phone.draw.row
import trug.phone.words.listed

/** Where the knowledge comes from: every source, and what it is used for. */
internal class SourcesLeaf(house: House, saved: Bundle?) : Leaf(house, R.string.sources_title, saved) {
    init {
        busy()
    }

    override fun shown() = askAside({ knowledge() }, ::draw)

    private fun draw(page: KnowledgePage) {
        val body = ink.column(ink.head(words(R.string.sources_knowledge, page.title, page.version)))
        page.notes.forEach { body.put(ink, ink.words(it)) }
        body.put(ink, ink.words(words(R.string.sources_help_there), colour = ink.quiet))
        sources(body, R.string.sources_codes, page.codes)
        sources(body, R.string.sources_unpublished, page.unpublished)
        sources(body, R.string.sources_published, page.published)
        show(body)
    }

    private fun sources(body: LinearLayout, head: Int, sources: List<SourceShown>) {
        body.part(ink, words(head))
        for (source in sources) {
            body.put(ink, ink.words(source.citation), Ink.MARGIN)
            body.put(ink, ink.words(words(R.string.sources_used_for, context.resources.listed(source.usedFor)), colour = ink.quiet), 0)
        }
    }
}

/** What an app says of itself to the core. */
private const val APP = "android"

/** The licences of everything that Trug is built from. */
internal class LicencesLeaf(house: House, saved: Bundle?) : Leaf(house, R.string.sources_licences, saved) {
    init {
        busy()
    }

    override fun shown() = askAside({ licences(APP) }, ::draw)

    private fun draw(licences: List<LicenceShown>) {
        val body = ink.column(ink.part(words(R.string.sources_built)))
        licences.forEach { licence ->
            body.put(ink, row(ink, name(licence.id), counted(R.plurals.sources_libraries, licence.libraries.toInt())) { turn("$LICENCE:${licence.id}") }, 0)
        }
        body.put(ink, ink.words(words(R.string.sources_source_code), colour = ink.quiet))
        show(body)
    }
}

/** One licence: its text, and what is used under it. */
internal class LicenceLeaf(house: House, private val id: String, saved: Bundle?) : Leaf(house, R.string.sources_licences, saved) {
    init {
        busy()
    }

    override fun shown() = askAside({ licencePage(APP, id) }, ::draw)

    private fun draw(page: LicencePage) {
        val body = ink.column(ink.head(name(page.id)))
        page.text.split("\n\n").forEach { body.put(ink, ink.words(it)) }
        body.part(ink, counted(R.plurals.sources_libraries, page.libraries.size))
        for (library in page.libraries) {
            val named = if (library.version.isEmpty()) library.name else words(R.string.sources_library, library.name, library.version)
            body.put(ink, ink.words(named))
            body.put(ink, ink.words(library.whose, colour = ink.quiet), 0)
        }
        show(body)
    }
}

/** What a licence is called; its SPDX name, where that is a name. */
private fun Leaf.name(id: String): String = if (id == "blessing") words(R.string.sources_public_domain) else id
