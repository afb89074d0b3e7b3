package trug.phone.page.ill

import android.app.DatePickerDialog
import android.app.TimePickerDialog
import android.content.Context
import android.text.format.DateFormat
import java.time.Instant
import java.time.ZoneOffset
import java.util.Calendar
import java.util.concurrent.TimeUnit
import trug.core.At
import trug.core.EaterNoted
import trug.core.EaterShown
import trug.core.MealNoted
import trug.core.MealShown
import trug.core.When

/** A meal on record, as it would be noted again. */
internal fun MealShown.noted() = MealNoted(
    at = at?.given(),
    what = what,
    finds = finds.map { it.id },
    takenFor = takenFor.map { it.english },
    amount = amount,
    prepared = prepared,
    alcohol = alcohol,
    eaters = eaters.map(EaterShown::noted),
    others = others,
    left = left,
    note = note,
)

private fun EaterShown.noted() = EaterNoted(name, child, feels, firstSign?.given(), signs)

/** Nothing yet. */
internal fun nothing() = MealNoted(
    at = null,
    what = null,
    finds = emptyList(),
    takenFor = emptyList(),
    amount = null,
    prepared = null,
    alcohol = null,
    eaters = emptyList(),
    others = null,
    left = null,
    note = null,
)

/** Whether it says what was eaten, without which a meal is none. */
internal fun MealNoted.saysWhat() = !what.isNullOrBlank() || finds.isNotEmpty() || takenFor.isNotEmpty()

private fun When.given() = At(millis, offsetSeconds)

/** This moment, as the phone's clock shows it. */
internal fun now(): At = at(Calendar.getInstance())

private fun at(clock: Calendar): At {
    val offset = TimeUnit.MILLISECONDS.toSeconds(clock.timeZone.getOffset(clock.timeInMillis).toLong())
    return At(clock.timeInMillis, offset.toInt())
}

/** Asks for a day and then for an hour, beginning at [from]. */
internal fun askTime(context: Context, from: At?, told: (At) -> Unit) {
    val clock = Calendar.getInstance().apply { from?.let { timeInMillis = it.millis } }
    val hour = {
        TimePickerDialog(
            context,
            { _, hours, minutes ->
                clock.set(Calendar.HOUR_OF_DAY, hours)
                clock.set(Calendar.MINUTE, minutes)
                clock.set(Calendar.SECOND, 0)
                told(at(clock))
            },
            clock.get(Calendar.HOUR_OF_DAY),
            clock.get(Calendar.MINUTE),
            DateFormat.is24HourFormat(context),
        ).show()
    }
    DatePickerDialog(
        context,
        { _, year, month, day ->
            clock.set(year, month, day)
            hour()
        },
        clock.get(Calendar.YEAR),
        clock.get(Calendar.MONTH),
        clock.get(Calendar.DAY_OF_MONTH),
    ).show()
}

/** A time that was given, as it is shown. */
internal fun At.shown(): When {
    val day = Instant.ofEpochMilli(millis).atOffset(ZoneOffset.ofTotalSeconds(offsetSeconds)).toLocalDate()
    return When(millis, offsetSeconds, day.toString())
}
