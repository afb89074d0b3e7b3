package trug.phone.page.now

import trug.phone.R
import trug.phone.app.Place

/** A way from the first page to another, by its name. */
internal class Door(val words: Int, val place: Place)

/** What hangs off the first page. */
internal val doors: List<Door> = listOf(
    Door(R.string.search_title, Place.SEARCH),
    Door(R.string.patches_title, Place.PATCHES),
    Door(R.string.map_title, Place.MAP),
    Door(R.string.year_title, Place.YEAR),
    Door(R.string.share_title, Place.SHARE),
    Door(R.string.receive_door, Place.RECEIVE),
    Door(R.string.exchange_door, Place.EXCHANGE),
    Door(R.string.settings_title, Place.SETTINGS),
)
