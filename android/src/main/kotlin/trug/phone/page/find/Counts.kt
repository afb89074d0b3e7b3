package trug.phone.page.find

import android.view.Gravity
import android.view.View
import android.widget.LinearLayout
import trug.core.FindPage
import trug.core.SignOffered
import trug.phone.R
import trug.phone.draw.Choice
import trug.phone.draw.Field
import trug.phone.draw.Ink
import trug.phone.draw.part
import trug.phone.draw.put
import trug.phone.words.choices
import trug.phone.words.plainNumber
import trug.phone.words.written

/** A whole number: typed, or one more and one fewer. */
internal class Counter(private val desk: Desk, label: String, keep: Field.(String) -> Unit) {
    private val ink = desk.ink
    val field = Field(ink, "0", Field.Kind.WHOLE, keep)
    val view: View = ink.atThumb(
        ink.words(label),
        1f,
        step("−", desk.words(R.string.find_fewer_of, label), -1),
        field.view.apply {
            gravity = Gravity.CENTER
            contentDescription = label
            layoutParams = LinearLayout.LayoutParams(ink.dp(WIDE), LinearLayout.LayoutParams.WRAP_CONTENT)
        },
        step("+", desk.words(R.string.find_more_of, label), 1),
    )

    private fun step(sign: String, described: String, by: Int) = ink.button(sign) {
        val now = field.text.substringAfterLast('-').toIntOrNull() ?: 0
        field.view.setText("${(now + by).coerceIn(0, MOST)}")
    }.apply {
        contentDescription = described
        minWidth = ink.dp(Ink.TARGET)
    }

    private companion object {
        const val WIDE = 88
        const val MOST = 9999
    }
}

/** How many there were, and how large. */
internal class Counts(private val desk: Desk) : Section {
    private val ink = desk.ink
    private val seen = Counter(desk, desk.words(R.string.find_seen)) { desk.amend("seen" to it, refused = this::refused) }
    private val label = ink.words("")
    private var measure = "width"
    private val from = Field(ink, desk.words(R.string.find_from_mm), Field.Kind.DECIMAL) { size() }
    private val to = Field(ink, desk.words(R.string.find_to_mm), Field.Kind.DECIMAL) { size() }
    override val view = ink.column().apply {
        part(ink, desk.words(R.string.find_how_many))
        put(ink, seen.view)
        put(ink, label, Ink.MARGIN)
        put(ink, ink.beside(from.view, to.view), 0)
    }

    override fun show(page: FindPage) {
        val fields = page.fields
        measure = page.condition?.measure ?: "width"
        label.text = desk.words(if (measure == "height") R.string.find_height else R.string.find_width)
        val most = fields.seenMost?.takeIf { it != fields.seenLeast }
        seen.field.show(listOfNotNull(fields.seenLeast, most).joinToString("-"))
        val (least, greatest) = if (measure == "height") fields.heightLeastMm to fields.heightMostMm else fields.widthLeastMm to fields.widthMostMm
        // One number stays where it was typed.
        if (least == greatest && from.text.isEmpty() && to.text.isNotEmpty()) return to.show(written(greatest))
        from.show(written(least))
        to.show(written(greatest.takeIf { it != least }))
    }

    override fun flush() = listOf(seen.field, from, to).forEach(Field::flush)

    private fun written(number: Double?): String = number?.let(ink.context.resources::written).orEmpty()

    private fun size() {
        val typed = listOf(from, to).map { plainNumber(it.text) }.filter { it.isNotEmpty() }
        desk.amend(measure to typed.joinToString("-")) { listOf(from, to).forEach(Field::refused) }
    }
}

/** What shows how old they are: the signs that this fungus has. */
internal class Signs(private val desk: Desk) : Section {
    private val ink = desk.ink
    private val room = ink.column()
    private var offered: List<Pair<String, String>> = emptyList()
    private var choice: Choice? = null
    private var chosen: List<String> = emptyList()
    override val view = ink.column().apply {
        part(ink, desk.words(R.string.find_signs))
        put(ink, room)
    }

    override fun show(page: FindPage) {
        val signs = page.signs.map { it.id to it.words }
        chosen = page.signs.filter(SignOffered::chosen).map { it.id }
        if (signs != offered) {
            offered = signs
            room.removeAllViews()
            choice = Choice(ink, signs, touched = ::touch).also { drawn -> room.put(ink, drawn.view, 0) }
        }
        choice?.show(chosen.toSet())
        view.visibility = if (signs.isEmpty()) View.GONE else View.VISIBLE
    }

    private fun touch(sign: String, on: Boolean) {
        chosen = if (on) chosen + sign else chosen - sign
        choice?.show(chosen.toSet())
        desk.amend("signs" to chosen.joinToString(",").ifEmpty { null })
    }
}

/** What was taken, and what stays. */
internal class Taking(private val desk: Desk) : Section {
    private val ink = desk.ink
    private val taken = Counter(desk, desk.words(R.string.find_taken)) { desk.amend("taken" to it, refused = this::refused) }
    private val stay = ink.words("")
    private val grams = Field(ink, desk.words(R.string.find_grams), Field.Kind.DECIMAL) {
        desk.amend("grams" to plainNumber(it), refused = this::refused)
    }
    private val study = Counter(desk, desk.words(R.string.find_specimens)) { desk.amend("specimens" to it, refused = this::refused) }
    override val view = ink.column().apply {
        part(ink, desk.words(R.string.find_taken))
        put(ink, taken.view)
        put(ink, stay, 0)
        put(ink, grams.view)
        put(ink, study.view)
    }

    override fun show(page: FindPage) {
        val fields = page.fields
        taken.field.show(fields.taken?.toString().orEmpty())
        study.field.show(fields.specimens?.toString().orEmpty())
        grams.show(fields.grams?.let(ink.context.resources::written).orEmpty())
        val staying = fields.seenLeast?.let { it.toInt() - (fields.taken?.toInt() ?: 0) - (fields.specimens?.toInt() ?: 0) }
        stay.text = staying?.let { desk.words(R.string.find_left, it.coerceAtLeast(0)) }
        stay.visibility = if (staying == null) View.GONE else View.VISIBLE
    }

    override fun flush() = listOf(taken.field, grams, study.field).forEach(Field::flush)
}

/** How many of each age, where they are mixed. */
internal class Ages(private val desk: Desk) : Section {
    private val ink = desk.ink
    private val counters = ink.context.resources.choices("stages").associate { (stage, label) -> stage to Counter(desk, label) { keep() } }
    override val view = ink.column(ink.head(desk.words(R.string.find_ages))).apply { counters.values.forEach { put(ink, it.view) } }

    override fun show(page: FindPage) = counters.forEach { (stage, counter) ->
        counter.field.show(page.fields.stages.find { it.stage == stage }?.count?.toString().orEmpty())
    }

    override fun flush() = counters.values.forEach { it.field.flush() }

    private fun keep() {
        val counted = counters.mapNotNull { (stage, counter) -> counter.field.text.toIntOrNull()?.takeIf { it > 0 }?.let { "$stage=$it" } }
        desk.amend("stages" to counted.joinToString(", ").ifEmpty { null }) { counters.values.forEach { it.field.refused() } }
    }
}
