package trug.phone.page.settings

import android.os.Bundle
import android.widget.EditText
import trug.core.AreaAsked
import trug.core.CodeShown
import trug.core.OutlinesSeen
import trug.core.outlinesIn
import trug.phone.R
import trug.phone.app.House
import trug.phone.draw.Choice
import trug.phone.draw.Field
import trug.phone.draw.Ink
import trug.phone.draw.put

/** What holds in the outlines of a file, before they become areas. */
internal class NewAreaLeaf(house: House, saved: Bundle?) : Leaf(house, R.string.areas_new, saved) {
    private val file = house.areaFile
    private var holds = saved?.getString(HOLDS) ?: CLOSED
    private val name = entry(R.string.areas_name, saved?.getString(NAME))
    private val note = entry(R.string.areas_note, saved?.getString(NOTE))

    /** Whether the name of the file's own was offered already. */
    private var isNamed = saved?.getBoolean(NAMED) == true
    private var read: Read? = null

    /** What the file holds, and the codes that may hold there. */
    private class Read(val seen: OutlinesSeen, val codes: List<CodeShown>)

    init {
        busy()
    }

    override fun shown() {
        if (read != null) return
        if (!file.exists()) return show(ink.words(words(R.string.areas_gone)), ink.thumb(words(R.string.app_done)) { house.leave(this) })
        ask({ Read(outlinesIn(file.path), it.codes().codes.filter { code -> !code.always }) }, ::draw)
    }

    override fun save(into: Bundle) {
        super.save(into)
        into.putString(HOLDS, holds)
        into.putString(NAME, name.text.toString())
        into.putString(NOTE, note.text.toString())
        into.putBoolean(NAMED, isNamed)
    }

    private fun entry(label: Int, before: String?) = EditText(context).apply {
        hint = words(label)
        ink.print(this)
        inputType = Field.Kind.TEXT.input
        setText(before.orEmpty())
    }

    private fun draw(read: Read) {
        this.read = read
        if (!isNamed) name.setText(read.seen.name.orEmpty())
        isNamed = true
        val body = ink.column(ink.words(counted(R.plurals.areas_holds, read.seen.count.toInt())))
        read.seen.shapes.take(MOST).forEach { body.put(ink, ink.words(it, colour = ink.quiet), 0) }
        body.put(ink, name)
        body.put(ink, ink.part(words(R.string.areas_what)), Ink.MARGIN)
        val offered = listOf(CLOSED to words(R.string.areas_closed)) + read.codes.map { it.id to it.title }
        val choice = Choice(ink, offered) { chosen, _ -> choose(chosen) }
        pick = { choice.show(setOf(it)) }
        choose(holds)
        body.put(ink, choice.view)
        body.put(ink, note, Ink.MARGIN)
        show(body, ink.thumb(words(R.string.areas_keep), ::keep))
    }

    private var pick: (String) -> Unit = {}

    private fun choose(what: String) {
        holds = what
        pick(what)
    }

    private fun keep() {
        if (name.text.isBlank()) return house.complain(words(R.string.areas_name_needed))
        val closed = holds == CLOSED
        val asked = AreaAsked(name.text.toString(), closed, holds.takeIf { !closed }, note.text.toString())
        once({ it.addAreas(file.path, asked) }) {
            file.delete()
            house.leave(this)
        }
    }

    private companion object {
        const val HOLDS = "holds"
        const val NAME = "name"
        const val NOTE = "note"
        const val NAMED = "named"

        /** No code has this id. */
        const val CLOSED = ""
        const val MOST = 5
    }
}
