package trug.phone.page.now

import android.view.View
import android.widget.LinearLayout
import trug.core.Carried
import trug.core.FindLine
import trug.core.NowPage
import trug.core.WaitingFind
import trug.core.WaitsFor
import trug.phone.R
import trug.phone.draw.Ink
import trug.phone.draw.pictured
import trug.phone.page.patches.northUp
import trug.phone.page.patches.patchRow
import trug.phone.words.called
import trug.phone.words.day
import trug.phone.words.hour
import trug.phone.words.joined
import trug.phone.words.lastLook
import trug.phone.words.patch
import trug.phone.words.rest
import trug.phone.words.span
import trug.phone.words.way

/** The lines of the first page. */
internal class Lines(private val ink: Ink, private val now: NowPage) {
    private val context = ink.context
    private val resources = context.resources

    fun outing(): View {
        val outing = now.outing ?: return ink.head(context.getString(R.string.now_no_outing))
        val since = outing.began?.let { context.getString(R.string.now_since, context.hour(it)) }
        return ink.column(
            ink.head(outing.place ?: context.getString(R.string.now_outing)),
            ink.words(resources.joined(listOfNotNull(since, resources.called("may-pick", outing.mayPick))), colour = ink.quiet),
        )
    }

    fun basket(): List<View> {
        val basket = now.basket
        val carried = basket.carried.map { beside(name(it.name?.english), amount(it), it.limits.map { limit -> limit.words }) }
        val empty = if (carried.isEmpty()) listOf(ink.words(context.getString(R.string.now_basket_empty))) else emptyList()
        return empty + carried + basket.limits.map { ink.words(it.words, colour = ink.quiet) }
    }

    private fun amount(carried: Carried): String {
        val least = carried.count.toString()
        val number = if (carried.orMore) context.getString(R.string.now_carried_more, least) else least
        val weighed = if (carried.grams > 0) context.getString(R.string.now_carried_grams, number, Math.rint(carried.grams).toInt()) else number
        val study = carried.specimens.toInt()
        return if (study == 0) weighed else resources.joined(listOf(weighed, resources.getQuantityString(R.plurals.now_carried_specimens, study, study)))
    }

    fun light(whereabouts: View?): View {
        val light = now.light ?: return whereabouts ?: ink.words(context.getString(R.string.now_no_fix), colour = ink.quiet)
        val (rise, sunset) = light.sunrise to light.sunset
        val left = light.minutesLeft
        return ink.words(
            when {
                rise != null && sunset != null && now.now.millis < rise.millis ->
                    context.getString(R.string.now_light_later, context.hour(rise), context.hour(sunset))
                sunset == null -> context.getString(if (light.staysUp) R.string.now_light_stays else R.string.now_light_none)
                left == null || left < 0 -> context.getString(R.string.now_light_gone, context.hour(sunset))
                else -> context.getString(R.string.now_light_left, context.hour(sunset), resources.span(left))
            },
            bold = left != null && left in 0..SOON,
        )
    }

    fun patches(none: Int, open: (String) -> Unit): List<View> {
        if (now.patches.isEmpty()) return listOf(ink.words(context.getString(none), colour = ink.quiet))
        return now.patches.map { patch ->
            val look = context.lastLook(patch.lastLook, patch.lastOutcome, now.now)
            val about = resources.joined(listOfNotNull(look, context.rest(patch.restsUntil, now.now)))
            val way = resources.way(patch.metres, patch.bearing)
            patchRow(ink, context.patch(patch.name, patch.kind), way, about, patch.bearing?.let { northUp(ink, it) }) { open(patch.id) }
        }
    }

    fun waiting(waiting: WaitingFind, open: (String) -> Unit): View {
        val nights = waiting.nights.toInt()
        val what = when (waiting.waitsFor) {
            WaitsFor.SPORE_PRINT ->
                if (nights == 0) context.getString(R.string.now_print_tonight) else resources.getQuantityString(R.plurals.now_print_nights, nights, nights)
            WaitsFor.SETTLING -> context.getString(R.string.now_waits_settling)
            // Its row is headed by that already.
            WaitsFor.NAME -> null
        }
        return pictured(waiting.find, resources.joined(listOfNotNull(what, waiting.find.at?.let { context.day(it.day, now.now) })), open)
    }

    fun find(find: FindLine, open: (String) -> Unit): View {
        val seen = find.seenLeast?.toInt()?.let { resources.getQuantityString(R.plurals.now_find_seen, it, it) }
        val taken = find.taken?.toInt()?.let { resources.getQuantityString(R.plurals.now_find_taken, it, it) }
        return pictured(find, resources.joined(listOfNotNull(find.at?.let(context::hour), seen, taken)), open)
    }

    private fun pictured(find: FindLine, about: String, open: (String) -> Unit): View =
        pictured(ink, find.thumbnail, name(find.name?.english), about) { open(find.id) }

    private fun name(name: String?) = name ?: context.getString(R.string.now_no_name)

    /** A name and, lined up at the other edge, how much of it; below it what limits it. */
    private fun beside(name: String, amount: String, limits: List<String>): View {
        val line = LinearLayout(context).apply {
            addView(ink.words(name), LinearLayout.LayoutParams(0, LinearLayout.LayoutParams.WRAP_CONTENT, 1f))
            addView(ink.words(amount, bold = true).apply { fontFeatureSettings = LINED_UP })
        }
        return ink.column(line, *limits.map { ink.words(it, colour = ink.quiet) }.toTypedArray())
    }

    private companion object {
        const val SOON = 60L
        const val LINED_UP = "tnum"
    }
}
