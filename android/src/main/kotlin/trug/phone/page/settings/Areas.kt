package trug.phone.page.settings

import android.net.Uri
import android.os.Bundle
import java.io.File
import trug.core.AreaShown
import trug.core.outlinesIn
import trug.phone.R
import trug.phone.app.House
import trug.phone.draw.put
import trug.phone.draw.row
import trug.phone.files.Documents
import trug.phone.words.joined

/** The file from which areas are to come, while it is asked what holds there. */
internal val House.areaFile: File get() = File(ink.context.filesDir, "arriving/area.geojson")

/** Areas that are closed, or have a code of their own. */
internal class AreasLeaf(house: House, saved: Bundle?) : Leaf(house, R.string.areas_title, saved) {
    init {
        busy()
    }

    override fun shown() = ask({ it.areas() }, ::draw)

    private fun draw(areas: List<AreaShown>) {
        val body = ink.column(ink.words(words(R.string.areas_help), colour = ink.quiet))
        if (areas.isEmpty()) body.put(ink, ink.words(words(R.string.settings_none)))
        areas.forEach { area -> body.put(ink, row(ink, area.name, about(area)) { turn("$AREA:${area.id}") }, 0) }
        body.put(ink, ink.words(words(R.string.areas_from_file_help), colour = ink.quiet))
        show(body, ink.thumb(words(R.string.areas_from_file)) { house.ask(Documents.toRead(), FILE) })
    }

    override fun answered(name: String, picked: Uri) {
        if (name != FILE) return
        val documents = Documents(context.contentResolver)
        val file = house.areaFile
        house.aside.make({
            documents.bringIn(picked, file)
            // What is no outline is said here, where another file can be chosen.
            outlinesIn(file.path)
        }) { it.onSuccess { turn(NEW_AREA) }.onFailure { error -> house.complain(context.resources.documentSentence(error)) } }
    }

    private companion object {
        const val FILE = "area"
    }
}

/** What is said of an area. */
private fun Leaf.about(area: AreaShown): String = ink.context.resources.joined(
    listOfNotNull(
        if (area.closed) words(R.string.areas_closed) else null,
        area.code?.let { words(R.string.areas_code_holds, it) },
        area.shape ?: words(R.string.areas_unread),
    ),
)

/** One area, to be removed: not where a finger only passes. */
internal class AreaLeaf(house: House, private val id: String, saved: Bundle?) : Leaf(house, R.string.areas_area, saved) {
    init {
        busy()
    }

    override fun shown() = ask({ it.areas() }, ::draw)

    private fun draw(areas: List<AreaShown>) {
        val area = areas.find { it.id == id } ?: return house.leave(this)
        val body = ink.column(ink.head(area.name), ink.words(about(area)))
        area.note?.let { body.put(ink, ink.words(it, colour = ink.quiet)) }
        show(body, ink.thumb(words(R.string.areas_remove)) { once({ it.removeArea(id) }) { house.leave(this) } })
    }
}
