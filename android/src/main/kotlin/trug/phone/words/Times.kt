package trug.phone.words

import android.content.Context
import android.content.res.Resources
import android.icu.text.DateFormat
import android.icu.util.TimeZone
import android.icu.util.ULocale
import java.time.LocalDate
import java.time.ZoneOffset
import java.util.Date
import java.util.concurrent.TimeUnit
import trug.core.When
import trug.phone.R

/** The hour that the clock showed, on 12 or 24 hours as the phone is set. */
fun Context.hour(at: When): String {
    val skeleton = if (android.text.format.DateFormat.is24HourFormat(this)) "Hm" else "hm"
    return written(skeleton, at.millis, TimeUnit.SECONDS.toMillis(at.offsetSeconds.toLong()))
}

/** A day like 2026-10-18, as people write it here; the year only if it is another than [now]'s. */
fun Context.day(day: String, now: When? = null): String =
    day(day, if (now?.day?.take(YEAR) == day.take(YEAR)) "MMMd" else "yMMMd")

/** The month of a day, with its year. */
fun Context.month(day: String): String = day(day, "yMMMM")

/** The months of a year that begins in July, in short. */
fun Context.monthsFromJuly(): List<String> = (0 until MONTHS).map { day(JULY.plusMonths(it.toLong()).toString(), "LLL") }

private fun Context.day(day: String, skeleton: String): String {
    val date = runCatching { LocalDate.parse(day) }.getOrNull() ?: return day
    return written(skeleton, date.atStartOfDay(ZoneOffset.UTC).toInstant().toEpochMilli(), 0)
}

private fun Context.written(skeleton: String, millis: Long, offsetMillis: Long): String {
    val format = DateFormat.getInstanceForSkeleton(skeleton, ULocale.forLocale(resources.configuration.locales[0]))
    format.timeZone = TimeZone.GMT_ZONE
    return format.format(Date(millis + offsetMillis))
}

/** So many minutes, as hours and minutes. */
fun Resources.span(minutes: Long): String =
    if (minutes < HOUR) getString(R.string.now_minutes, minutes.toInt()) else getString(R.string.now_hours, (minutes / HOUR).toInt(), (minutes % HOUR).toInt())

private const val HOUR = 60
private const val YEAR = 4
private const val MONTHS = 12
private val JULY: LocalDate = LocalDate.of(2026, 7, 1)
