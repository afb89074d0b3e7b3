package trug.phone.words

import android.content.res.Resources
import android.icu.text.DateFormat
import android.icu.util.TimeZone
import android.icu.util.ULocale
import java.time.LocalDate
import java.time.ZoneOffset
import java.util.Date

/** A month by its name, [month] from 1 to 12; with its year, if one is meant. */
fun Resources.month(month: Int, year: Int? = null): String = written(if (year == null) "LLLL" else "yLLLL", month, year)

/** The same, as short as it can be understood. */
fun Resources.monthBrief(month: Int): String = written("LLL", month)

/** Its letter: it says which month only among the others. */
fun Resources.monthLetter(month: Int): String = written("LLLLL", month)

private fun Resources.written(skeleton: String, month: Int, year: Int? = null): String {
    val format = DateFormat.getInstanceForSkeleton(skeleton, ULocale.forLocale(configuration.locales[0]))
    format.timeZone = TimeZone.GMT_ZONE
    val first = LocalDate.of(year ?: ANY_YEAR, month, 1).atStartOfDay(ZoneOffset.UTC).toInstant()
    return format.format(Date(first.toEpochMilli()))
}

private const val ANY_YEAR = 2000
