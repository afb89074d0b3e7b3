package trug.phone.page.receive

import android.view.View
import android.widget.LinearLayout
import trug.core.CopiedPlace
import trug.core.CopyShown
import trug.phone.R
import trug.phone.draw.Ink
import trug.phone.draw.part
import trug.phone.draw.pictured
import trug.phone.draw.put
import trug.phone.words.called
import trug.phone.words.day
import trug.phone.words.hour
import trug.phone.words.joined
import trug.phone.words.listed
import trug.phone.words.rounded
import trug.phone.words.written

/** The copies of other people's finds, each in a line. */
internal fun copiesList(desk: Desk, copies: List<CopyShown>): View = desk.ink.column().apply {
    val ink = desk.ink
    part(ink, desk.words(R.string.copy_head))
    if (copies.isEmpty()) put(ink, ink.words(desk.words(R.string.copy_none), colour = ink.quiet))
    copies.forEach { copy ->
        val about = desk.joined(desk.whenOf(copy), copy.recorder.orEmpty(), copy.place?.name.orEmpty())
        put(ink, pictured(ink, copy.photos.firstNotNullOfOrNull { it.thumbnail }, desk.called(copy), about) { desk.turn(Leaf.COPY, copy.id) })
    }
}

/** One copy, with all that its owner let out. */
internal fun copyLeaf(desk: Desk, copy: CopyShown): View = desk.ink.column().apply {
    val ink = desk.ink
    put(ink, ink.head(desk.called(copy)), 0)
    if (copy.name.latin.isNotEmpty() && copy.name.latin != copy.name.english) put(ink, ink.latin(copy.name.latin), 0)
    put(ink, ink.words(copy.recorder?.let { desk.words(R.string.copy_of, it) } ?: desk.words(R.string.copy_of_nobody), colour = ink.quiet))
    copy.how?.let { put(ink, ink.words(desk.resources.called("how", it), colour = ink.quiet)) }
    photos(desk, copy)
    put(ink, ink.rule(), Ink.MARGIN)
    desk.fields(copy).forEach { (label, value) -> put(ink, desk.field(label, value)) }
    put(ink, ink.words(desk.words(R.string.copy_apart), colour = ink.quiet), Ink.MARGIN)
}

private fun LinearLayout.photos(desk: Desk, copy: CopyShown) = copy.photos.filter { it.path != null }.forEach { photo ->
    put(desk.ink, desk.photo(photo, desk.words(R.string.copy_photo, desk.resources.called("role", photo.role))), Ink.MARGIN)
}

private fun Desk.called(copy: CopyShown): String {
    val name = copy.name.english
    return copy.qualifier?.let { words(R.string.copy_qualified, name, it) } ?: name
}

private fun Desk.whenOf(copy: CopyShown): String = joined(copy.day?.let(ink.context::day).orEmpty(), copy.at?.let(ink.context::hour).orEmpty())

/** Everything that it says, under what it is called. */
private fun Desk.fields(copy: CopyShown): List<Pair<Int, String>> {
    val fields = copy.fields
    val of = { field: String, word: String? -> word?.let { resources.called(field, it) }.orEmpty() }
    val stages = fields.stages.map { words(R.string.find_age_count, resources.called("stages", it.stage), it.count.toInt()) }
    return listOf(
        R.string.copy_when to whenOf(copy),
        R.string.find_where to copy.place?.let(::told).orEmpty(),
        R.string.find_grows to of("on", fields.on),
        R.string.find_host to joined(fields.host.orEmpty(), of("host-sure", fields.hostSure)),
        R.string.find_habitat to fields.habitat.orEmpty(),
        R.string.find_ground to of("ground", fields.ground),
        R.string.find_growth to of("growth", fields.growth),
        R.string.find_seen to span(fields.seenLeast?.toDouble(), fields.seenMost?.toDouble(), R.string.copy_one, R.string.copy_span),
        R.string.find_ages to resources.listed(stages),
        R.string.find_width to span(fields.widthLeastMm, fields.widthMostMm, R.string.copy_mm, R.string.copy_mm_span),
        R.string.find_taken to number(fields.taken),
        R.string.find_grams to fields.grams?.let(resources::written).orEmpty(),
        R.string.find_specimens to number(fields.specimens),
        R.string.find_note to fields.note.orEmpty(),
    ).filter { (_, value) -> value.isNotEmpty() }
}

private fun Desk.told(place: CopiedPlace): String {
    val around = place.uncertaintyM?.let { rounded(it) } ?: return place.name
    return words(if (place.exact) R.string.copy_within else R.string.copy_square, place.name, around)
}

private fun Desk.number(count: UInt?): String = count?.let { resources.written(it.toDouble()) }.orEmpty()

private fun Desk.span(least: Double?, most: Double?, one: Int, span: Int): String = when {
    least == null -> ""
    most == null || most == least -> words(one, resources.written(least))
    else -> words(span, resources.written(least), resources.written(most))
}

/** A label and what stands under it. */
private fun Desk.field(label: Int, value: String): View = ink.column(
    ink.words(words(label), colour = ink.quiet),
    ink.words(value).apply { fontFeatureSettings = "tnum" },
)

private fun Desk.joined(vararg parts: String): String = resources.joined(parts.toList())
