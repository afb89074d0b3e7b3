package trug.phone.words

import android.content.res.Resources
import android.icu.text.NumberFormat
import kotlin.math.roundToInt
import trug.phone.R

/** How far, and which way: "140 m, 320° NW", on whole 10 m beyond 100, in kilometres beyond 2000 m; in words where it is here. */
fun Resources.way(metres: Double, bearing: Double?): String {
    val degrees = bearing?.roundToInt()?.mod(CIRCLE) ?: return getString(R.string.now_patch_here)
    return if (metres < FAR) {
        getString(R.string.now_patch_at, rounded(metres), degrees, wind(degrees))
    } else {
        getString(R.string.now_patch_at_km, kilometres(metres), degrees, wind(degrees))
    }
}

/** How far: "140 m", "2.3 km". */
fun Resources.far(metres: Double): String =
    if (metres < FAR) getString(R.string.way_metres, rounded(metres)) else getString(R.string.way_kilometres, kilometres(metres))

/** Which way: "320° NW". */
fun Resources.bearing(bearing: Double): String = bearing.roundToInt().mod(CIRCLE).let { getString(R.string.way_bearing, it, wind(it)) }

private fun Resources.wind(degrees: Int): String = called("compass", WINDS[(degrees * WINDS.size / CIRCLE.toDouble()).roundToInt() % WINDS.size])

private fun Resources.kilometres(metres: Double): String =
    NumberFormat.getInstance(configuration.locales[0]).apply { maximumFractionDigits = 1 }.format(metres / KILOMETRE)

/** Metres, no finer than feet can tell. */
fun rounded(metres: Double): Int = if (metres < FINE) metres.roundToInt() else (metres / TEN).roundToInt() * TEN.toInt()

private val WINDS = listOf("n", "ne", "e", "se", "s", "sw", "w", "nw")
private const val CIRCLE = 360
private const val FAR = 2000.0
private const val KILOMETRE = 1000.0
private const val FINE = 100.0
private const val TEN = 10.0
