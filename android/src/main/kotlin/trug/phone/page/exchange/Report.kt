package trug.phone.page.exchange

import android.os.Bundle
import android.view.View
import trug.core.ExchangeReport
import trug.core.Said
import trug.core.UnreadFile
import trug.phone.R
import trug.phone.draw.Ink
import trug.phone.draw.put
import trug.phone.words.Ids

/** What came of an exchange: what came in, what went out, and what could not be read yet, and why. */
internal fun reportLeaf(circle: Circle, report: ExchangeReport): View = circle.ink.column(circle.ink.head(circle.words(R.string.exchange_done))).apply {
    val ink = circle.ink
    lines(circle, report).forEach { put(ink, ink.words(it).apply { fontFeatureSettings = "tnum" }) }
    if (report.leftOut > 0uL) put(ink, ink.words(circle.counted(R.plurals.exchange_left_out, report.leftOut.toInt())), Ink.MARGIN)
    if (report.unread.isEmpty()) return@apply
    put(ink, ink.rule(), Ink.MARGIN)
    put(ink, ink.part(circle.words(R.string.exchange_unread)))
    report.unread.groupBy { why(circle, it.why) }.forEach { (why, files) ->
        put(ink, ink.words(circle.counted(R.plurals.exchange_unread_files, files.size), bold = true), Ink.MARGIN)
        put(ink, ink.words(why))
    }
    put(ink, ink.words(circle.words(R.string.exchange_unread_again), colour = ink.quiet), Ink.MARGIN)
}

private fun lines(circle: Circle, report: ExchangeReport): List<String> {
    val came = listOf(R.plurals.exchange_finds to report.newFinds, R.plurals.exchange_photos to report.newPhotos)
        .filter { (_, count) -> count > 0uL }
        .map { (plural, count) -> circle.counted(plural, count.toInt()) }
    val inside = came.ifEmpty { listOf(circle.words(if (report.new > 0uL) R.string.exchange_changes else R.string.exchange_nothing_came)) }
    val out = if (report.written > 0uL) circle.counted(R.plurals.exchange_written, report.written.toInt()) else circle.words(R.string.exchange_nothing_left)
    return inside + out
}

/** Why a file was not read: it is not whole yet, unless it is one of the reasons that somebody can do something about. */
private fun why(circle: Circle, why: Said): String =
    circle.words(Ids.choices["unread"]?.get(why.code) ?: R.string.exchange_unread_torn)

// ---- What came of it is told again after the process died.

internal fun ExchangeReport.remembered() = Bundle().apply {
    putLongArray(COUNTS, listOf(read, new, newFinds, newPhotos, written, leftOut).map(ULong::toLong).toLongArray())
    putStringArray(UNREAD, unread.take(MOST).map { it.why.code }.toTypedArray())
}

internal fun exchangeReport(from: Bundle): ExchangeReport? {
    val (read, new, finds, photos, written) = from.getLongArray(COUNTS)?.map(Long::toULong) ?: return null
    val leftOut = from.getLongArray(COUNTS)?.last()?.toULong() ?: return null
    val unread = from.getStringArray(UNREAD).orEmpty().map { code -> UnreadFile("", Said(code, "")) }
    return ExchangeReport(read, new, finds, photos, written, leftOut, unread)
}

private const val COUNTS = "counts"
private const val UNREAD = "unread"

/** More than that are not remembered: what a page remembers is to stay small. */
private const val MOST = 200
