package trug.phone.app

import android.os.Bundle

/** The pages that Back leads through, the one in front last, each with what it remembered when it was left. */
internal class Stack private constructor(private val stops: MutableList<Left>) {
    /** A page that was left. */
    private class Left(val stop: Stop, var saved: Bundle?)

    val top: Stop get() = stops.last().stop

    /** What the page in front remembered when it was last in front. */
    val remembered: Bundle? get() = stops.last().saved
    val depth: Int get() = stops.size

    fun push(stop: Stop) {
        stops += Left(stop, null)
    }

    /** Takes the page in front away; false for the last. */
    fun pop(): Boolean {
        if (stops.size < 2) return false
        stops.removeAt(stops.lastIndex)
        return true
    }

    /** Nothing but the first page. */
    fun clear() {
        stops.clear()
        stops += Left(Stop(Place.NOW), null)
    }

    /** Another page in place of the one in front. */
    fun replace(stop: Stop) {
        stops[stops.lastIndex] = Left(stop, null)
    }

    /** What the page in front is to remember. */
    fun remember(saved: Bundle) {
        stops.last().saved = saved
    }

    fun save(into: Bundle) = into.putParcelableArrayList(
        STOPS,
        stops.mapTo(ArrayList()) { left ->
            Bundle().apply {
                putString(PLACE, left.stop.place.name)
                putString(FIND, left.stop.find)
                putString(SUSPECT, left.stop.suspect)
                putString(ABOUT, left.stop.about)
                putBoolean(STANDING, left.stop.standing)
                putBundle(SAVED, left.saved)
            }
        },
    )

    companion object {
        private const val STOPS = "stops"
        private const val PLACE = "place"
        private const val FIND = "find"
        private const val SUSPECT = "suspect"
        private const val ABOUT = "about"
        private const val STANDING = "standing"
        private const val SAVED = "saved"

        fun of(saved: Bundle?): Stack {
            @Suppress("DEPRECATION") // The typed form needs API 33.
            val stops = saved?.getParcelableArrayList<Bundle>(STOPS).orEmpty().mapNotNull(::read)
            return Stack(stops.toMutableList().ifEmpty { mutableListOf(Left(Stop(Place.NOW), null)) })
        }

        /** A page that a newer or older Trug had and this one has not is left out. */
        private fun read(from: Bundle): Left? {
            val place = Place.entries.find { it.name == from.getString(PLACE) } ?: return null
            val stop = Stop(place, from.getString(FIND), from.getString(SUSPECT), from.getString(ABOUT), from.getBoolean(STANDING))
            return Left(stop, from.getBundle(SAVED))
        }
    }
}
