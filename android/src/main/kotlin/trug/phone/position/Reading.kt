package trug.phone.position

import trug.core.Fix

/** Where the phone was, as its system said, and when. Times count from when the phone was started, so no clock moves them. */
internal data class Reading(val latitude: Double, val longitude: Double, val accuracyM: Double?, val atNanos: Long) {
    /** As the core takes it. */
    val fix: Fix get() = Fix(latitude, longitude, accuracyM)

    /** Whether it is too old to say where the phone is now. */
    fun isStale(nowNanos: Long): Boolean = nowNanos - atNanos > FRESH_NANOS

    companion object {
        /** Somebody who walks is 25 m further after this (at 1.4 m/s, common practice). */
        private const val FRESH_NANOS = 20_000_000_000L

        /**
         * The better of what is known and what is new: the new one where the known is stale, else the one with the smaller radius.
         * One that does not tell its accuracy is worse than any that does. Of equals the new one.
         */
        fun best(known: Reading?, new: Reading, nowNanos: Long): Reading? = when {
            new.isStale(nowNanos) -> known?.takeUnless { it.isStale(nowNanos) }
            known == null || known.isStale(nowNanos) -> new
            (new.accuracyM ?: Double.MAX_VALUE) <= (known.accuracyM ?: Double.MAX_VALUE) -> new
            else -> known
        }
    }
}
