package trug.phone.page.year

import kotlin.math.roundToInt
import trug.core.HowMany
import trug.core.YearCame
import trug.core.YearMonth
import trug.core.YearOf
import trug.core.YearRun
import trug.core.YearSum
import trug.phone.R
import trug.phone.draw.Ink
import trug.phone.draw.Speaks
import trug.phone.words.day
import trug.phone.words.joined
import trug.phone.words.listed
import trug.phone.words.month
import trug.phone.words.written

/** What the year is told in. */
internal class Said(override val ink: Ink) : Speaks {
    private val resources = ink.context.resources

    fun called(of: YearOf): String = when (of) {
        is YearOf.All -> words(R.string.year_everything)
        is YearOf.Fungus -> of.name.english
        is YearOf.Unnamed -> words(R.string.now_no_name)
        is YearOf.Patch -> of.name ?: resources.listed(listOf(of.kind?.english ?: words(R.string.now_patch_unnamed), of.place.orEmpty()))
        is YearOf.Outing -> of.place
        is YearOf.Elsewhere -> words(R.string.year_elsewhere)
    }

    /** What a name alone does not say: of a fungus the Latin name, of a patch what grows there. */
    fun about(of: YearOf): String = when (of) {
        is YearOf.Fungus -> of.name.latin
        is YearOf.Patch -> if (of.name == null) "" else of.kind?.english.orEmpty()
        else -> ""
    }

    /** A row in a few words. */
    fun brief(sum: YearSum): String {
        val unsettled = sum.unsettled.toInt()
        val finds = sum.finds.toInt()
        return resources.joined(
            listOfNotNull(
                if (finds > 0) counted(R.plurals.year_finds, finds) else words(R.string.year_not_found),
                if (unsettled > 0) counted(R.plurals.year_unsettled, unsettled) else null,
            ),
        )
    }

    /** A row in full: every month that there is something to say of. */
    fun row(of: YearOf, sum: YearSum, months: List<YearMonth>): String {
        val told = months.filter { it.came != YearCame.NOT_LOOKED && it.came != YearCame.AHEAD }.map { words(R.string.year_month_said, name(it), came(it)) }
        val head = words(R.string.year_row_said, resources.listed(listOf(called(of), about(of))), brief(sum))
        return (listOf(head) + told).reduce { before, next -> words(R.string.year_said, before, next) }
    }

    /** A month in full. */
    fun month(month: YearMonth): String = words(R.string.year_month_said, name(month), came(month))

    private fun name(month: YearMonth): String = resources.month(month.month.toInt(), month.year?.toInt())

    private fun came(month: YearMonth): String {
        val seen = month.seen.toInt()
        val vain = month.nothing.toInt()
        val inVain = if (vain > 0) counted(R.plurals.year_in_vain, vain) else ""
        return when (month.came) {
            YearCame.FOUND -> resources.listed(
                listOf(
                    if (month.year == null) found(month) else "",
                    counted(R.plurals.year_finds, month.finds.toInt()),
                    if (month.orMore) words(R.string.year_seen_more, seen) else counted(R.plurals.now_find_seen, seen),
                    inVain,
                ),
            )
            YearCame.NOTED -> resources.listed(listOf(words(R.string.year_noted), inVain))
            YearCame.NOTHING -> resources.listed(listOf(words(R.string.year_nothing), inVain))
            YearCame.NOT_LOOKED -> words(R.string.year_not_looked)
            YearCame.AHEAD -> words(R.string.year_ahead)
        }
    }

    private fun found(month: YearMonth): String =
        resources.getQuantityString(R.plurals.year_found_in, month.lookedIn.toInt(), month.lookedIn.toInt(), month.foundIn.toInt())

    /** What a sum comes to: what is counted, and how many. */
    fun sums(sum: YearSum): List<Pair<String, String>> = listOfNotNull(
        words(R.string.year_sum_finds) to sum.finds.toString(),
        (words(R.string.year_sum_unsettled) to sum.unsettled.toString()).takeIf { sum.unsettled > 0u },
        words(R.string.year_sum_seen) to many(sum.seen),
        words(R.string.year_sum_taken) to many(sum.taken),
        (words(R.string.year_sum_specimens) to sum.specimens.toString()).takeIf { sum.specimens > 0u },
        words(R.string.year_sum_left) to many(sum.left),
        words(R.string.year_sum_grams) to grams(sum.grams),
        (words(R.string.year_sum_unweighed) to sum.unweighed.toString()).takeIf { sum.unweighed > 0u },
        sum.leftGrams?.let { words(R.string.year_sum_left_grams) to leftGrams(sum, it) },
        (words(R.string.year_sum_others) to many(sum.others)).takeIf { sum.others.least > 0u },
        (words(R.string.year_sum_others_grams) to grams(sum.othersGrams)).takeIf { sum.othersGrams > 0 },
    )

    private fun many(many: HowMany): String = when (many.most) {
        many.least -> many.least.toString()
        null -> words(R.string.year_or_more, many.least.toString())
        else -> words(R.string.year_between, many.least.toString(), many.most.toString())
    }

    fun grams(grams: Double): String = words(R.string.year_grams, whole(grams))

    private fun leftGrams(sum: YearSum, grams: Double): String =
        if (sum.leftOrMore) words(R.string.year_or_more, grams(grams)) else grams(grams)

    /** A number of grams without its unit; people’s scales tell no less than one. */
    fun whole(grams: Double): String = resources.written(grams.roundToInt().toDouble())

    fun dates(run: YearRun): String =
        words(if (run.isOn) R.string.year_run_on else R.string.year_run, ink.context.day(run.first), ink.context.day(run.last))
}
