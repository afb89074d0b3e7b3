package trug.phone.page.share

import android.view.View
import android.widget.LinearLayout
import trug.core.LeavingShown
import trug.core.SquareShown
import trug.phone.R
import trug.phone.draw.Ink
import trug.phone.draw.part
import trug.phone.draw.put
import trug.phone.draw.row
import trug.phone.words.Ids
import trug.phone.words.called

/** Exactly what would leave: how much, what stays, in which squares, and every copy. */
internal fun previewLeaf(sharing: Sharing, leaving: LeavingShown, copies: View): View {
    val ink = sharing.ink
    val body = ink.column(ink.head(headline(sharing, leaving)))
    if (leaving.count == 0uL) return body.apply { put(ink, ink.words(sharing.words(R.string.share_empty), colour = ink.quiet)) }
    if (leaving.madeOf == CHANGES) {
        body.put(ink, ink.words(sharing.words(R.string.share_mine_help), bold = true))
        body.put(ink, ink.words(photos(sharing, leaving, asPictures = false)))
    } else {
        body.put(ink, ink.words(stays(sharing, leaving), bold = true))
        body.put(ink, ink.words(photos(sharing, leaving, asPictures = true)))
    }
    leftOut(sharing, leaving).forEach { body.put(ink, ink.words(it, colour = ink.quiet)) }
    body.put(ink, ink.words(sharing.words(lock(sharing.chosen.lock)), colour = ink.quiet))
    squares(sharing, leaving, body)
    if (leaving.madeOf != CHANGES) {
        body.part(ink, sharing.words(R.string.share_each))
        body.put(ink, copies)
    }
    return body
}

/** At the thumb: what was shown is made. */
internal fun previewThumb(sharing: Sharing, leaving: LeavingShown): View {
    val ink = sharing.ink
    val again = ink.button(sharing.words(R.string.share_change)) { sharing.turn(Leaf.WHAT) }.apply { minHeight = ink.dp(Ink.THUMB) }
    return ink.beside(again, ink.thumb(sharing.words(R.string.share_make)) { sharing.make() }.takeIf { leaving.count > 0uL })
}

private fun headline(sharing: Sharing, leaving: LeavingShown): String {
    val count = leaving.count.toInt()
    return when (leaving.madeOf) {
        CHANGES -> sharing.words(R.string.share_everything)
        PATCHES -> sharing.counted(R.plurals.share_patches, count)
        else -> sharing.counted(R.plurals.share_copies, count)
    }
}

/** What stays with its owner; said only of what does. */
private fun stays(sharing: Sharing, leaving: LeavingShown): String {
    val placeStays = leaving.exact == 0uL
    val notesStay = Chosen.NOTES !in sharing.chosen.ticked
    return sharing.words(
        when {
            placeStays && notesStay -> R.string.share_stays
            placeStays -> R.string.share_stays_place
            notesStay -> R.string.share_stays_notes
            else -> R.string.share_stays_little
        },
    )
}

private fun photos(sharing: Sharing, leaving: LeavingShown, asPictures: Boolean): String {
    val count = leaving.photos.toInt()
    return when {
        count == 0 -> sharing.words(R.string.share_photos_none)
        asPictures -> sharing.counted(R.plurals.share_photos_along, count)
        else -> sharing.counted(R.plurals.share_photos_whole, count)
    }
}

private fun leftOut(sharing: Sharing, leaving: LeavingShown): List<String> = leaving.leftOut.flatMap { one ->
    val why = Ids.errors[one.code]?.let { sharing.words(it.id) }
    listOfNotNull(sharing.counted(R.plurals.share_photos_stay, one.count.toInt()), why)
}

private fun lock(lock: Lock): Int = when (lock) {
    Lock.OPEN -> R.string.share_lock_open
    Lock.PASSPHRASE -> R.string.share_lock_passphrase
    Lock.KEY, Lock.DEVICE -> R.string.share_lock_key
}

/** Where the copies lie: the one square as a drawing, several as a list. */
private fun squares(sharing: Sharing, leaving: LeavingShown, body: LinearLayout) {
    val ink = sharing.ink
    val only = leaving.squares.singleOrNull()
    if (leaving.squares.isEmpty() && leaving.exact == 0uL && leaving.nowhere == 0uL) return
    body.part(ink, sharing.words(R.string.share_where))
    if (leaving.exact > 0uL) body.put(ink, ink.words(sharing.counted(R.plurals.share_exact, leaving.exact.toInt()), bold = true))
    if (leaving.nowhere > 0uL) body.put(ink, ink.words(sharing.counted(R.plurals.share_nowhere, leaving.nowhere.toInt())))
    if (only != null) return body.put(ink, drawn(sharing, only))
    leaving.squares.forEach { square ->
        val count = sharing.counted(R.plurals.share_in_square, square.count.toInt())
        body.put(ink, row(ink, named(sharing, square), count) { sharing.turn(Leaf.SQUARE, square.name) })
    }
}

private fun named(sharing: Sharing, square: SquareShown) = sharing.words(R.string.share_square, square.sideKm.toInt(), square.name)

/** A square with its neighbours, and how large it is on foot. */
internal fun drawn(sharing: Sharing, square: SquareShown): View {
    val ink = sharing.ink
    val large = if (square.sideKm > 1u) R.string.share_large_10km else R.string.share_large_1km
    return ink.column(ink.words(named(sharing, square), bold = true)).apply {
        put(ink, SquareView(ink, square, sharing.words(R.string.share_square_around, named(sharing, square))))
        put(ink, ink.words(sharing.words(large), colour = ink.quiet))
    }
}

/** One square of several. */
internal fun squareLeaf(sharing: Sharing, square: SquareShown?): View {
    val ink = sharing.ink
    if (square == null) return ink.words(sharing.words(R.string.share_empty))
    return ink.column(drawn(sharing, square)).apply {
        put(ink, ink.words(sharing.counted(R.plurals.share_in_square, square.count.toInt())))
    }
}

/** What is grave about it, said plainly, before it is made. */
internal fun sureLeaf(sharing: Sharing, leaving: LeavingShown): View {
    val ink = sharing.ink
    val band = ink.column(ink.head(sharing.words(R.string.share_sure)))
    leaving.agreeTo.forEach { band.put(ink, ink.words(ink.context.resources.called("agree", it), bold = true), Ink.MARGIN) }
    val pad = ink.dp(Ink.MARGIN)
    band.setPadding(pad, pad, pad, pad)
    band.background = ink.edge()
    return ink.column(band)
}

/** At the thumb the way back; what is grave is farther to reach. */
internal fun sureThumb(sharing: Sharing): View {
    val ink = sharing.ink
    return ink.column(ink.thumb(sharing.words(R.string.share_sure_no)) { sharing.turn(Leaf.WHAT) }).apply {
        put(ink, ink.button(sharing.words(R.string.share_sure_yes)) { sharing.make(agreed = true) })
    }
}

private const val CHANGES = "changes"
private const val PATCHES = "patches"
