package trug.phone.page.find

import trug.core.FindPage
import trug.phone.R
import trug.phone.draw.Choice
import trug.phone.draw.Field
import trug.phone.draw.Ink
import trug.phone.draw.part
import trug.phone.draw.put
import trug.phone.words.choices

/** What it grows on, by which tree, in what ground, and how. */
internal class Grows(private val desk: Desk) : Section {
    private val ink = desk.ink
    private val on = choice("on")
    private val ground = choice("ground")
    private val growth = choice("growth")
    private var unfit: Set<String> = emptySet()
    private val hazards = Choice(ink, ink.context.resources.choices("hazards")) { hazard, chosen ->
        // Two touches may be quicker than one answer.
        unfit = if (chosen) unfit + hazard else unfit - hazard
        desk.amend("hazards" to unfit.joinToString(",").ifEmpty { null })
    }
    private var sureness: String? = null
    private val host = Field(ink, desk.words(R.string.find_host)) { tree(it, sureness, this::refused) }
    private val sure = Choice(ink, ink.context.resources.choices("host-sure")) { how, chosen ->
        sureness = how.takeIf { chosen }
        tree(host.text, sureness)
    }
    private val habitat = Field(ink, desk.words(R.string.find_habitat)) {
        desk.amend("habitat" to it.ifEmpty { null }, refused = this::refused)
    }
    override val view = ink.column(ink.head(desk.words(R.string.find_grows)), on.view).apply {
        part(ink, desk.words(R.string.find_host))
        put(ink, host.view, 0)
        put(ink, ink.words(desk.words(R.string.find_host_sure), colour = ink.quiet))
        put(ink, sure.view)
        part(ink, desk.words(R.string.find_growth))
        put(ink, growth.view)
        part(ink, desk.words(R.string.find_ground))
        put(ink, ground.view)
        part(ink, desk.words(R.string.find_hazards))
        put(ink, hazards.view)
        put(ink, habitat.view, Ink.MARGIN)
    }

    private fun choice(field: String) =
        Choice(ink, ink.context.resources.choices(field)) { word, chosen -> desk.amend(field to word.takeIf { chosen }) }

    private fun tree(tree: String, how: String?, refused: () -> Unit = {}) =
        desk.amend("host" to tree.ifEmpty { null }?.let { it + MARKS[how].orEmpty() }, refused = refused)

    override fun show(page: FindPage) {
        val fields = page.fields
        on.show(setOfNotNull(fields.on))
        ground.show(setOfNotNull(fields.ground))
        growth.show(setOfNotNull(fields.growth))
        unfit = fields.hazards.toSet()
        hazards.show(unfit)
        sureness = fields.hostSure
        host.show(fields.host.orEmpty())
        sure.show(if (fields.host == null) emptySet() else setOfNotNull(sureness))
        habitat.show(fields.habitat.orEmpty())
    }

    override fun flush() = listOf(host, habitat).forEach(Field::flush)

    private companion object {
        /** How the core reads how sure somebody is of a tree. */
        val MARKS = mapOf("guess" to "?", "sure" to "!")
    }
}
