package trug.phone.page.find

import android.view.View
import trug.core.FindPage
import trug.phone.R
import trug.phone.app.Page
import trug.phone.app.Place
import trug.phone.app.Stop
import trug.phone.camera.Purpose
import trug.phone.draw.Ink
import trug.phone.draw.put
import trug.phone.words.called

/** What stands at the thumb: the last thing taken back, and the one thing to do next. */
internal class Next(private val desk: Desk, part: Part, private val page: FindPage) {
    private val ink = desk.ink
    val view: View = ink.column().apply {
        put(ink, ink.beside(undo(), if (part == Part.ALL) next() else done()), 0)
    }

    private fun undo(): View? =
        if (page.canUndo) ink.button(desk.words(R.string.app_undo)) { desk.act { it.undo(desk.find) } }.apply { minHeight = ink.dp(Ink.THUMB) } else null

    private fun done() = ink.thumb(desk.words(R.string.app_done)) { desk.turn(Part.ALL) }

    /** A photo that is missing while nobody has named it; then the name; then it is done. */
    private fun next(): View {
        val named = page.name.name != null
        val missing = page.missingRoles.firstOrNull().takeIf { page.photos.isNotEmpty() && !named }
        return when {
            missing != null -> ink.thumb(desk.words(R.string.find_photograph_role, ink.context.resources.called("role", missing))) {
                desk.house.photograph(Purpose(desk.find, missing))
            }
            !page.name.settled -> ink.thumb(desk.words(R.string.find_work_out)) { desk.house.go(Stop(Place.WORK, desk.find)) }
            else -> ink.thumb(desk.words(R.string.app_done)) { (desk as? Page)?.let(desk.house::leave) }
        }
    }
}
