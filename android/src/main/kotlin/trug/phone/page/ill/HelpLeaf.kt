package trug.phone.page.ill

import android.view.View
import android.widget.LinearLayout
import trug.core.HelpPage
import trug.core.HelpSource
import trug.core.IllPage
import trug.core.MealShown
import trug.core.NumberToRing
import trug.core.When
import trug.phone.R
import trug.phone.draw.Ink
import trug.phone.draw.part
import trug.phone.draw.put
import trug.phone.draw.row
import trug.phone.words.Help
import trug.phone.words.day
import trug.phone.words.hour
import trug.phone.words.listed
import trug.phone.words.sentence

/** What to do: the first words, whom to ring, what to do and not to do; then what the notebook knows of meals. */
internal fun helpLeaf(bedside: Bedside, help: HelpPage, read: Result<IllPage>?): View {
    val ink = bedside.ink
    val body = ink.column(edged(ink, ink.head(help.head), ink.words(help.lead, bold = true)))
    body.put(ink, numbers(bedside, help), Ink.MARGIN)
    help.unreviewed?.let { body.put(ink, ink.words(it, colour = ink.quiet), Ink.MARGIN) }
    help.sections.forEach { section ->
        body.part(ink, section.title)
        section.lines.forEach { body.put(ink, ink.words(it.words)) }
    }
    body.part(ink, bedside.words(R.string.ill_meals))
    meals(bedside, read).forEach { body.put(ink, it) }
    help.here?.let { here ->
        body.part(ink, bedside.words(R.string.ill_numbers_from))
        here.numbers.forEach { body.put(ink, ink.words(from(bedside, it), colour = ink.quiet)) }
    }
    return body.apply { put(ink, ink.button(bedside.words(R.string.ill_sources)) { bedside.turn(Leaf.SOURCES) }, Ink.MARGIN) }
}

/** At the thumb: the emergency number, the doctor's sheet, a meal to note. */
internal fun helpThumb(bedside: Bedside, help: HelpPage): View {
    val ink = bedside.ink
    val emergency = help.here?.numbers?.firstOrNull()
    val first = if (emergency != null) {
        ink.thumb(bedside.words(R.string.ill_ring, emergency.number)) { bedside.ring(emergency.number) }
    } else {
        ink.thumb(bedside.words(R.string.ill_choose_country)) { bedside.turn(Leaf.COUNTRY) }
    }
    return ink.column(first).apply {
        put(
            ink,
            ink.beside(
                ink.button(bedside.words(R.string.ill_sheet)) { bedside.turn(Leaf.SHEET) },
                ink.button(bedside.words(R.string.ill_note_meal)) { bedside.turn(Leaf.MEAL) },
            ),
        )
    }
}

private fun numbers(bedside: Bedside, help: HelpPage): View {
    val ink = bedside.ink
    val here = help.here
    val column = ink.column(ink.part(here?.name ?: help.noCountry))
    here?.numbers?.forEach { column.put(ink, number(bedside, it)) }
    return column.apply { put(ink, ink.button(Help.OTHER_COUNTRY) { bedside.turn(Leaf.COUNTRY) }) }
}

/** A number, touched to ring it, with who answers. Where it comes from stands at the end: it must not push down what to do. */
private fun number(bedside: Bedside, line: NumberToRing): View {
    val ink = bedside.ink
    val ring = bedside.words(R.string.ill_ring, line.number)
    return row(ink, ring, line.words) { bedside.ring(line.number) }.apply {
        line.unchecked?.let { put(ink, ink.words(it, bold = true), 0) }
        contentDescription = resources.listed(listOfNotNull(ring, line.words, line.unchecked))
    }
}

/** A number, and where it comes from. */
private fun from(bedside: Bedside, line: NumberToRing): String =
    bedside.words(R.string.ill_number_from, line.number, line.sources.joinToString(" ") { source(bedside, it) })

private fun source(bedside: Bedside, source: HelpSource): String {
    val seen = source.seen ?: return source.citation
    return bedside.words(R.string.ill_source, source.citation, bedside.ink.context.day(seen))
}

private fun meals(bedside: Bedside, read: Result<IllPage>?): List<View> {
    val ink = bedside.ink
    if (read == null) return listOf(ink.words(bedside.words(R.string.app_busy), colour = ink.quiet))
    val page = read.getOrElse { error ->
        return listOf(
            ink.words(bedside.words(R.string.ill_meals_cannot)),
            ink.words(ink.context.resources.sentence(error), colour = ink.quiet),
        )
    }
    if (page.meals.isEmpty()) return listOf(ink.words(bedside.words(R.string.ill_meals_none), colour = ink.quiet))
    return page.meals.map { meal -> row(ink, called(bedside, meal), eaten(bedside, page, meal)) { bedside.turn(Leaf.MEAL, meal.id) } }
}

/** What a meal goes by in a list. */
internal fun called(bedside: Bedside, meal: MealShown): String = meal.what
    ?: bedside.ink.context.resources.listed((meal.finds.mapNotNull { it.name } + meal.takenFor).map { it.english }).ifEmpty { bedside.words(R.string.ill_meal) }

private fun eaten(bedside: Bedside, page: IllPage, meal: MealShown): String =
    meal.at?.let { bedside.told(it, page.now) } ?: bedside.words(R.string.ill_no_time)

/** A day and an hour. */
internal fun Bedside.told(at: When, now: When?): String = words(R.string.ill_time, ink.context.day(at.day, now), ink.context.hour(at))

/** Every country that is here. */
internal fun countryLeaf(bedside: Bedside, help: HelpPage): View {
    val ink = bedside.ink
    return ink.column(ink.head(bedside.words(R.string.ill_choose_country)), ink.words(help.noCountry)).apply {
        help.countries.forEach { country ->
            put(ink, row(ink, country.name, country.numbers.firstOrNull()?.number.orEmpty()) { bedside.live(country.code) }, 0)
        }
    }
}

/** Where each line of the page comes from. */
internal fun sourcesLeaf(bedside: Bedside, help: HelpPage): View {
    val ink = bedside.ink
    val body = ink.column(ink.head(bedside.words(R.string.ill_sources)))
    help.unreviewed?.let { body.put(ink, ink.words(it)) }
    help.sections.flatMap { it.lines }.forEach { line ->
        body.put(ink, ink.words(line.words), Ink.MARGIN)
        line.sources.forEach { body.put(ink, ink.words(source(bedside, it), colour = ink.quiet), 0) }
    }
    return body
}

/** A black-edged band. */
internal fun edged(ink: Ink, vararg children: View): LinearLayout = ink.column(*children).apply {
    background = ink.edge()
    val pad = ink.dp(Ink.MARGIN)
    setPadding(pad, pad, pad, pad)
}
