package trug.phone.page.find

import android.view.View
import trug.core.FindPage
import trug.phone.R
import trug.phone.app.Page
import trug.phone.app.Place
import trug.phone.app.Stop
import trug.phone.camera.Purpose
import trug.phone.draw.Ink
import trug.phone.words.called

/** The one thing to do next. */
internal enum class Next {
    /** A photo that is missing while nobody has a name for it. */
    PHOTO,

    /** Its name. */
    WORK,

    /** Nothing. */
    DONE,
    ;

    companion object {
        fun of(page: FindPage): Next = when {
            page.name.name == null && page.photos.isNotEmpty() && page.missingRoles.isNotEmpty() -> PHOTO
            !page.name.settled -> WORK
            else -> DONE
        }
    }
}

/** What stands at the thumb: the last thing taken back, and the one thing to do next. */
internal fun thumb(desk: Desk, part: Part, page: FindPage): View {
    val ink = desk.ink
    val undo = ink.button(desk.words(R.string.app_undo)) { desk.once { it.undo(desk.find) } }.apply { minHeight = ink.dp(Ink.THUMB) }
    val next = if (part == Part.ALL) next(desk, page) else ink.thumb(desk.words(R.string.app_done)) { desk.turn(Part.ALL) }
    return ink.beside(undo.takeIf { page.canUndo }, next)
}

private fun next(desk: Desk, page: FindPage): View = when (Next.of(page)) {
    Next.PHOTO -> {
        val role = page.missingRoles.first()
        desk.ink.thumb(desk.words(R.string.find_photograph_role, desk.ink.context.resources.called("role", role))) {
            desk.house.photograph(Purpose(desk.find, role))
        }
    }
    Next.WORK -> desk.ink.thumb(desk.words(R.string.find_work_out)) { desk.house.go(Stop(Place.WORK, desk.find)) }
    Next.DONE -> desk.ink.thumb(desk.words(R.string.app_done)) { (desk as? Page)?.let(desk.house::leave) }
}
