package trug.phone.page.map

import android.content.Context
import kotlin.math.abs
import kotlin.math.roundToInt
import trug.core.MapSheet
import trug.phone.R
import trug.phone.words.called
import trug.phone.words.listed
import trug.phone.words.rounded
import trug.phone.words.way
import trug.phone.words.written

/** A length of the map: in metres below a kilometre, in kilometres from there. */
internal fun Context.length(metres: Double): String = if (metres < KILOMETRE) {
    getString(R.string.map_metres, rounded(metres))
} else {
    getString(R.string.map_kilometres, resources.written((metres / KILOMETRE * TEN).roundToInt() / TEN))
}

/** Where whoever holds the phone is, as far as it knows. */
internal fun Context.whereHere(sheet: MapSheet): String? {
    val here = sheet.here ?: return null
    val within = here.accuracyM?.roundToInt() ?: return getString(R.string.map_here_at, here.name)
    return getString(R.string.map_here_within, here.name, within)
}

/** Where the middle of the map is, and the way there. */
internal fun Context.whereMiddle(sheet: MapSheet): String {
    val here = sheet.here
    if (here == null || here.metres < NOWHERE_ELSE) return getString(R.string.map_middle, sheet.middleName)
    return getString(R.string.map_middle_way, sheet.middleName, resources.way(here.metres, here.bearing))
}

/** How far the north of the grid is from true north; none where that is not known. */
internal fun Context.gridNorth(sheet: MapSheet): String? {
    val degrees = sheet.gridNorth ?: return null
    val tenths = (abs(degrees) * TEN).roundToInt() / TEN
    if (tenths == 0.0) return getString(R.string.map_grid_north_same)
    return getString(R.string.map_grid_north, resources.written(tenths), resources.called("compass", if (degrees > 0) "e" else "w"))
}

/** What is in view, for whoever does not see it. */
internal fun Context.describe(sight: Sight, sheet: MapSheet?, visible: List<Thing>): String {
    fun count(plural: Int, of: Int) = if (of == 0) null else resources.getQuantityString(plural, of, of)
    val patches = visible.count { it is Thing.Patch }
    return resources.listed(
        listOfNotNull(
            getString(R.string.map_wide, length(sight.across)),
            if (patches == 0) getString(R.string.map_no_patches) else count(R.plurals.map_patches, patches),
            count(R.plurals.map_areas, visible.count { it is Thing.Area }),
            count(R.plurals.map_finds, visible.count { it is Thing.Find }),
            sheet?.let { whereMiddle(it) },
        ),
    )
}

private const val KILOMETRE = 1000.0
private const val TEN = 10.0
private const val NOWHERE_ELSE = 1.0
