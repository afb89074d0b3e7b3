package trug.phone.page.patch

import trug.core.PatchLine
import trug.core.PatchPage
import trug.phone.R
import trug.phone.draw.Ink
import trug.phone.draw.put
import trug.phone.page.patches.patchRow
import trug.phone.words.joined
import trug.phone.words.lastLook
import trug.phone.words.patch
import trug.phone.words.sentence
import trug.phone.words.wayTo

/** Another patch that turned out to be this one, chosen among those near enough. */
internal class Merging(private val desk: Desk) : Section {
    private val ink = desk.ink
    private val context = ink.context
    private val list = ink.column(ink.words(desk.words(R.string.app_busy), colour = ink.quiet))
    override val view = ink.column(ink.head(desk.words(R.string.patch_merge))).apply {
        put(ink, ink.words(desk.words(R.string.patch_merge_help), colour = ink.quiet))
        put(ink, list, Ink.MARGIN)
    }
    private var isAsked = false

    override fun show(page: PatchPage) {
        if (isAsked) return
        isAsked = true
        val id = desk.patch
        desk.house.calls.make({ it.mergeChoices(id) }) { answered ->
            answered.onSuccess { list(it, page) }.onFailure { desk.house.complain(context.resources.sentence(it)) }
        }
    }

    private fun list(choices: List<PatchLine>, page: PatchPage) {
        list.removeAllViews()
        if (choices.isEmpty()) list.put(ink, ink.words(desk.words(R.string.patch_merge_none)), 0)
        choices.forEach { choice ->
            val called = context.patch(choice.name, choice.kind)
            val look = context.lastLook(choice.lastLook, choice.lastOutcome, page.now)
            val about = context.resources.joined(listOfNotNull(choice.kind?.english?.takeIf { choice.name != null }, look))
            val row = patchRow(ink, called, context.wayTo(choice), about, null) {
                desk.once({ desk.turn(Leaf.ALL) }) { it.mergePatches(choice.id, desk.patch) }
            }
            row.contentDescription = desk.words(R.string.patch_merge_this, row.contentDescription)
            list.put(ink, row, 0)
        }
    }
}
