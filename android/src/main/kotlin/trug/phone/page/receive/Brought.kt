package trug.phone.page.receive

import android.os.Bundle
import android.view.View
import trug.core.BundleRead
import trug.phone.R
import trug.phone.draw.Ink
import trug.phone.draw.put

/** What a bundle would bring, or has brought: from whom, what, and what of it stays out. */
internal fun brought(desk: Desk, bundle: BundleRead, taken: Boolean): View = desk.ink.column().apply {
    val ink = desk.ink
    put(ink, ink.head(desk.from(bundle)), 0)
    desk.places(bundle)?.let { put(ink, ink.words(it, colour = ink.quiet)) }
    put(ink, ink.rule(), Ink.MARGIN)
    val lines = desk.lines(bundle, taken)
    if (lines.isEmpty()) put(ink, ink.words(desk.words(if (taken) R.string.receive_taken_nothing else R.string.receive_all_here)))
    lines.forEach { put(ink, ink.words(it).apply { fontFeatureSettings = "tnum" }) }
    desk.bearInMind(bundle, taken).forEach { put(ink, ink.words(it, colour = ink.quiet), Ink.MARGIN) }
}

private fun Desk.from(bundle: BundleRead): String = when {
    !bundle.forOwn -> bundle.owner?.let { words(R.string.receive_copies_of, it) } ?: words(R.string.receive_copies_nameless)
    !bundle.paired -> words(R.string.receive_own_unpaired)
    else -> bundle.from?.let { words(R.string.receive_own_of, it) } ?: words(R.string.receive_own_self)
}

private fun Desk.places(bundle: BundleRead): String? = when (bundle.place) {
    "10km" -> words(R.string.receive_place_10km)
    "1km" -> words(R.string.receive_place_1km)
    "exact" -> words(R.string.receive_place_exact)
    else -> null
}

/** How many there are of what is new; nothing for what is not. */
private fun Desk.lines(bundle: BundleRead, taken: Boolean): List<String> {
    val counts = listOf(
        bundle.newFinds to if (taken) R.plurals.receive_finds_taken else R.plurals.receive_finds_new,
        bundle.newCopies to if (taken) R.plurals.receive_copies_taken else R.plurals.receive_copies_new,
        bundle.newPhotos to if (taken) R.plurals.receive_photos_taken else R.plurals.receive_photos_new,
    )
    val told = counts.filter { (count, _) -> count > 0uL }.map { (count, plural) -> counted(plural, count.toInt()) }
    // What changes finds that are here, and everything that is no find.
    val isMore = bundle.new > 0uL && (told.isEmpty() || bundle.paired)
    return told + listOfNotNull(words(if (taken) R.string.receive_changes_taken else R.string.receive_changes_new).takeIf { isMore })
}

private fun Desk.bearInMind(bundle: BundleRead, taken: Boolean): List<String> = listOfNotNull(
    words(R.string.receive_apart).takeIf { !bundle.forOwn },
    words(R.string.receive_only_adds).takeIf { bundle.forOwn && !bundle.paired && !taken },
    counted(R.plurals.receive_left_out, bundle.leftOut.toInt()).takeIf { bundle.leftOut > 0uL },
    words(R.string.receive_later).takeIf { bundle.later },
    words(R.string.receive_missing).takeIf { bundle.missing > 0uL },
)

/** Whether nothing in it is new here. */
internal val BundleRead.isAllHere: Boolean get() = new == 0uL && newPhotos == 0uL

// ---- What was taken is told again after the process died: nothing tells it a second time.

internal fun BundleRead.remembered() = Bundle().apply {
    putBooleanArray(FLAGS, booleanArrayOf(forOwn, paired, later))
    putStringArray(TEXTS, arrayOf(from, owner, place))
    putLongArray(COUNTS, listOf(changes, new, leftOut, newFinds, newCopies, photos, newPhotos, missing).map(ULong::toLong).toLongArray())
}

internal fun bundleRead(from: Bundle): BundleRead? {
    val (forOwn, paired, later) = from.getBooleanArray(FLAGS)?.toList() ?: return null
    val (device, owner, place) = from.getStringArray(TEXTS)?.toList() ?: return null
    val counts = from.getLongArray(COUNTS)?.map(Long::toULong)?.takeIf { it.size == ALL_COUNTS } ?: return null
    val (changes, new, leftOut, newFinds, newCopies) = counts
    val (photos, newPhotos, missing) = counts.drop(FIVE)
    return BundleRead(forOwn, paired, device, owner, place, later, changes, new, leftOut, newFinds, newCopies, photos, newPhotos, missing)
}

private const val FLAGS = "flags"
private const val TEXTS = "texts"
private const val COUNTS = "counts"
private const val FIVE = 5
private const val ALL_COUNTS = 8
