package trug.phone.page.find

import java.util.concurrent.TimeUnit
import trug.core.FindPage
import trug.phone.position.Reading

/** While a find is new, and its finder still stands by it, a better fix takes the place of a worse one. */
internal class Better(private val desk: Desk) {
    private var listens = false
    private var sent: Reading? = null

    /** Listens, or stops listening, as the find is now. */
    fun watch(page: FindPage) {
        if (!isImproving(page)) return stop()
        if (listens) return
        listens = true
        desk.house.position.listen(::better)
        desk.house.position.best?.let(::better)
    }

    fun stop() {
        if (!listens) return
        listens = false
        desk.house.position.stop()
    }

    private fun better(reading: Reading) {
        val accuracy = reading.accuracyM ?: return
        if (accuracy >= (sent?.accuracyM ?: Double.MAX_VALUE)) return
        sent = reading
        desk.quietly { it.improvePlace(desk.find, reading.fix) }
    }

    companion object {
        /** As long as somebody stands by a find that they photograph and count (common practice). */
        private val MILLIS = TimeUnit.MINUTES.toMillis(3)

        /** Good enough to come back to; phones under trees seldom do better (common practice). */
        private const val GOOD_M = 5.0

        /** Whether a better fix is still looked for. */
        fun isImproving(page: FindPage): Boolean {
            val at = page.at ?: return false
            val place = page.place
            val isFix = place == null || place.got == "fix"
            val isNew = System.currentTimeMillis() - at.millis in 0..MILLIS
            return isFix && isNew && (place?.accuracyM ?: Double.MAX_VALUE) > GOOD_M
        }
    }
}
