package trug.phone.position

import trug.core.Fix

/** Where the phone was, as its system said, and when. Times count from when the phone was started, so no clock moves them. */
internal data class Reading(val latitude: Double, val longitude: Double, val accuracyM: Double?, val atNanos: Long) {
    /** As the core takes it. */
    val fix: Fix get() = Fix(latitude, longitude, accuracyM)

    /** Whether it is too old to say where the phone is now. */
    fun isStale(nowNanos: Long): Boolean = nowNanos - atNanos > FRESH_NANOS

    companion object {
        /** Somebody who walks is 25 m further after this. */
        private const val FRESH_NANOS = 20_000_000_000L

        /** How far somebody walks in a second, in metres (common practice, no source). */
        private const val WALKED = 1.4
        private const val SECOND = 1e9

        /**
         * The better of what is known and what is new: the new one where the known is stale, else the one with the smaller radius, to
         * which counts what may have been walked since: whoever walks is told of it. One that does not tell its accuracy is worse than
         * any that does. Of equals the new one.
         */
        fun best(known: Reading?, new: Reading, nowNanos: Long): Reading? = when {
            new.isStale(nowNanos) -> known?.takeUnless { it.isStale(nowNanos) }
            known == null || known.isStale(nowNanos) -> new
            (new.accuracyM ?: Double.MAX_VALUE) <= (known.accuracyM ?: Double.MAX_VALUE) + known.walkedUntil(new) -> new
            else -> known
        }

        private fun Reading.walkedUntil(later: Reading): Double = WALKED * maxOf(0.0, (later.atNanos - atNanos) / SECOND)
    }
}
