package trug.phone.page.patch

import android.os.Bundle
import android.view.View
import android.view.inputmethod.EditorInfo
import kotlin.math.roundToInt
import trug.core.PatchPage
import trug.phone.R
import trug.phone.draw.Choice
import trug.phone.draw.Field
import trug.phone.draw.Ink
import trug.phone.draw.part
import trug.phone.draw.put
import trug.phone.page.patches.Kind
import trug.phone.words.choices
import trug.phone.words.plainNumber
import trug.phone.words.written

/** What a patch is called, what grows there, how far it reaches, its tree and what is grown on, and a note. Kept at once. */
internal class Amending(private val desk: Desk, saved: Bundle?) : Section {
    private val ink = desk.ink
    private val name = field(R.string.patches_name, "name")
    private val kind = Kind(desk.house) { desk.amend("taxon", it) }
    private val reach = field(R.string.patches_reach, "radius", Field.Kind.DECIMAL)
    private val host = Field(ink, desk.words(R.string.find_host)) { tree(it, sureness, this::refused) }
    private val sure = Choice(ink, ink.context.resources.choices("host-sure")) { how, chosen ->
        sureness = how.takeIf { chosen }
        tree(host.text, sureness)
    }
    private val on = Choice(ink, ink.context.resources.choices("on")) { word, chosen -> desk.amend("on", word.takeIf { chosen }) }
    private val note = field(R.string.find_note, "note", Field.Kind.LINES)
    private var sureness: String? = null
    private var remembered = saved?.getBundle(KIND)
    override val view = ink.column(ink.head(desk.words(R.string.patch_amend)), name.view).apply {
        put(ink, kind.view, Ink.MARGIN)
        put(ink, reach.view, Ink.MARGIN)
        put(ink, ink.words(desk.words(R.string.patches_reach_help), colour = ink.quiet), 0)
        put(ink, note.view, Ink.MARGIN)
        part(ink, desk.words(R.string.find_host))
        put(ink, host.view, 0)
        put(ink, ink.words(desk.words(R.string.find_host_sure), colour = ink.quiet))
        put(ink, sure.view)
        part(ink, desk.words(R.string.find_grows))
        put(ink, on.view)
    }

    private fun field(label: Int, field: String, kind: Field.Kind = Field.Kind.TEXT) = Field(ink, desk.words(label), kind) {
        val value = if (kind == Field.Kind.DECIMAL) plainNumber(it) else it
        desk.amend(field, value.ifEmpty { null }, this::refused)
    }

    private fun tree(tree: String, how: String?, refused: () -> Unit = {}) =
        desk.amend("host", tree.ifEmpty { null }?.let { it + MARKS[how].orEmpty() }, refused)

    override fun show(page: PatchPage) {
        val line = page.line
        name.show(line.name.orEmpty())
        kind.show(line.kind)
        remembered?.let(kind::restore)
        remembered = null
        reach.show(page.reachSaidM?.let(ink.context.resources::written).orEmpty())
        note.show(page.note.orEmpty())
        sureness = page.hostSure
        host.show(line.host.orEmpty())
        sure.show(if (line.host == null) emptySet() else setOfNotNull(sureness))
        on.show(setOfNotNull(line.on))
    }

    override fun flush() = listOf(name, reach, host, note).forEach(Field::flush)

    override fun save(into: Bundle) = into.putBundle(KIND, Bundle().also(kind::save))

    private companion object {
        const val KIND = "kind"

        /** How the core reads how sure somebody is of a tree. */
        val MARKS = mapOf("guess" to "?", "sure" to "!")
    }
}

/** Where its middle is: from this phone, or typed. */
internal class Whereabouts(private val desk: Desk, saved: Bundle?) : Section {
    private val ink = desk.ink
    private val place = ink.words("", bold = true)
    private val here = ink.column()
    private val typed = Field(ink, desk.words(R.string.find_where_typed), Field.Kind.NAME) { }
    override val view: View = ink.column(ink.head(desk.words(R.string.patch_place)), place, here, typed.view).apply {
        put(ink, ink.button(desk.words(R.string.find_where_set), touched = ::set))
    }

    init {
        typed.view.setText(saved?.getString(TYPED))
        typed.view.imeOptions = EditorInfo.IME_ACTION_DONE or EditorInfo.IME_FLAG_NO_FULLSCREEN
        typed.view.setOnEditorActionListener { _, action, _ -> (action == EditorInfo.IME_ACTION_DONE).also { if (it) set() } }
    }

    private fun set() {
        val text = typed.text
        desk.act { it.placePatchAt(desk.patch, text) }
    }

    override fun save(into: Bundle) = into.putString(TYPED, typed.text)

    override fun show(page: PatchPage) {
        place.say(placeOf(desk, page))
        here.removeAllViews()
        val position = desk.house.position
        val best = position.best
        when {
            !position.isAllowed -> here.put(ink, ink.button(desk.words(R.string.now_ask_position)) { desk.house.askPosition() })
            best == null -> here.put(ink, ink.words(desk.words(R.string.now_no_fix), colour = ink.quiet))
            else -> {
                val within = best.accuracyM?.roundToInt() ?: 0
                here.put(ink, ink.button(desk.words(R.string.find_where_here, within)) { desk.act { it.placePatch(desk.patch, best.fix) } })
            }
        }
    }

    private companion object {
        const val TYPED = "typed"
    }
}
