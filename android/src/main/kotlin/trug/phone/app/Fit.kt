package trug.phone.app

import android.content.Context
import android.content.SharedPreferences

/** How pages fit whoever holds the phone: the size of their type, and the hand. It is this phone's, and goes with no notebook. */
internal class Fit(private val context: Context) {
    private val kept: SharedPreferences = context.getSharedPreferences(FILE, Context.MODE_PRIVATE)

    /** The size of type, in per cent of what the phone is set to. */
    var percent: Int
        get() = kept.getInt(PERCENT, PERCENTS.first()).coerceIn(PERCENTS.first(), PERCENTS.last())
        set(to) = kept.edit().putInt(PERCENT, to).apply()

    /** Whether it is held in the left hand. */
    var leftHanded: Boolean
        get() = kept.getBoolean(LEFT, false)
        set(to) = kept.edit().putBoolean(LEFT, to).apply()

    /** What the phone's own scale of type becomes; null where it stays as it is. Together no more than pages have room for. */
    fun scale(): Float? {
        val own = context.resources.configuration.fontScale
        val wanted = (own * percent / PERCENTS.first()).coerceAtMost(maxOf(own, MOST))
        return wanted.takeIf { percent != PERCENTS.first() }
    }

    companion object {
        private const val FILE = "fit"
        private const val PERCENT = "percent"
        private const val LEFT = "left"
        private const val MOST = 2f

        /** What can be chosen. */
        val PERCENTS = listOf(100, 125, 150, 175, 200)
    }
}
