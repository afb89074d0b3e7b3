package trug.phone.words

import android.content.res.Resources
import android.icu.text.NumberFormat

/** A number as people write it here, with nothing between thousands: in a field "1,250" would be read as one and a quarter. */
fun Resources.written(number: Double): String =
    NumberFormat.getInstance(configuration.locales[0]).apply { isGroupingUsed = false }.format(number)

/** A number that was typed, in whatever digits and with whichever decimal sign, as the core reads it. */
fun plainNumber(typed: String): String = typed.trim().map { sign ->
    when {
        sign in DECIMAL_SIGNS -> '.'
        sign.isDigit() -> '0' + Character.digit(sign, TEN)
        else -> sign
    }
}.joinToString("")

private const val DECIMAL_SIGNS = ",\u066B"
private const val TEN = 10
