package trug.phone.page.find

import java.util.concurrent.TimeUnit
import trug.core.FindPage
import trug.phone.position.Reading

/**
 * Where the phone is, while a find is in front. While the find is new and its finder stands by it, a better fix takes the place of
 * a worse one. [standing] says that they do: the find was begun here, and its photo taken now.
 */
internal class Better(private val desk: Desk, private val standing: Boolean, private val told: () -> Unit) {
    private var listens = false
    private var improves = false
    private var sent: Reading? = null

    /** Listens as long as there is something to better, or, with [always], to show. */
    fun watch(page: FindPage, always: Boolean) {
        improves = isImproving(page)
        if (!improves && !always) return stop()
        if (listens) return
        listens = true
        desk.house.position.listen(::read)
        desk.house.position.best?.let(::read)
    }

    fun stop() {
        if (!listens) return
        listens = false
        desk.house.position.stop()
    }

    private fun read(reading: Reading) {
        if (improves) better(reading)
        told()
    }

    private fun better(reading: Reading) {
        val accuracy = reading.accuracyM ?: return
        if (accuracy >= (sent?.accuracyM ?: Double.MAX_VALUE)) return
        sent = reading
        desk.quietly { it.improvePlace(desk.find, reading.fix) }
    }

    /** Whether a better fix is still looked for. */
    fun isImproving(page: FindPage): Boolean {
        val at = page.at ?: return false
        val place = page.place
        val isFix = place == null || place.got == "fix"
        val isNew = System.currentTimeMillis() - at.millis in 0..MILLIS
        return standing && isFix && isNew && (place?.accuracyM ?: Double.MAX_VALUE) > GOOD_M
    }

    private companion object {
        /** As long as somebody stands by a find that they photograph and count (common practice, no source). */
        val MILLIS = TimeUnit.MINUTES.toMillis(3)

        /** Good enough to come back to; phones under trees seldom do better (common practice, no source). */
        const val GOOD_M = 5.0
    }
}
