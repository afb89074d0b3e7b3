package trug.phone.position

import android.Manifest.permission.ACCESS_COARSE_LOCATION
import android.Manifest.permission.ACCESS_FINE_LOCATION
import android.content.Context
import android.content.pm.PackageManager.PERMISSION_GRANTED
import android.location.Location
import android.location.LocationListener
import android.location.LocationManager
import android.os.Build
import android.os.Bundle
import android.os.Looper
import android.os.SystemClock

/** Where the phone is: the best that its system has said lately, and never an old one. Listens only while somebody asks. */
internal class Position(private val context: Context) {
    private val manager: LocationManager? = context.getSystemService(LocationManager::class.java)
    private val memory = context.getSharedPreferences("position", Context.MODE_PRIVATE)
    private var known: Reading? = null
    private var told: ((Reading) -> Unit)? = null

    private val listener = object : LocationListener {
        override fun onLocationChanged(location: Location) = read(location)

        // Without these a phone before Android 11 falls over.
        override fun onProviderEnabled(provider: String) = Unit

        override fun onProviderDisabled(provider: String) = Unit

        @Deprecated("Called before Android 10 only")
        override fun onStatusChanged(provider: String?, status: Int, extras: Bundle?) = Unit
    }

    /** Whether its owner lets Trug know, exactly or roughly. */
    val isAllowed: Boolean get() = PERMISSIONS.any { context.checkSelfPermission(it) == PERMISSION_GRANTED }

    /** Whether its owner was ever asked: Trug asks once by itself, and then only where it is told to. */
    var wasAsked: Boolean
        get() = memory.getBoolean(ASKED, false)
        set(asked) = memory.edit().putBoolean(ASKED, asked).apply()

    /** The best reading; none where none is fresh. */
    val best: Reading? get() = known?.takeUnless { it.isStale(SystemClock.elapsedRealtimeNanos()) }

    /** Listens, and tells every better reading, until [stop]. Does nothing where it may not. */
    fun listen(tell: (Reading) -> Unit) {
        told = tell
        val manager = manager ?: return
        if (!isAllowed) return
        manager.removeUpdates(listener)
        for (provider in providers(manager)) {
            try {
                manager.requestLocationUpdates(provider, EVERY_MS, 0f, listener, Looper.getMainLooper())
                manager.getLastKnownLocation(provider)?.let(::read)
            } catch (_: SecurityException) {
                // This one wants the exact position, and its owner gives the rough one only: the others do.
            }
        }
    }

    fun stop() {
        told = null
        manager?.removeUpdates(listener)
    }

    private fun providers(manager: LocationManager): List<String> {
        val fused = if (Build.VERSION.SDK_INT >= Build.VERSION_CODES.S) listOf(LocationManager.FUSED_PROVIDER) else emptyList()
        val wanted = listOf(LocationManager.GPS_PROVIDER) + fused + LocationManager.NETWORK_PROVIDER
        return wanted.filter { it in manager.allProviders }
    }

    private fun read(location: Location) {
        val reading = Reading(
            location.latitude,
            location.longitude,
            if (location.hasAccuracy()) location.accuracy.toDouble() else null,
            location.elapsedRealtimeNanos,
        )
        val best = Reading.best(known, reading, SystemClock.elapsedRealtimeNanos())
        if (best === known) return
        known = best
        best?.let { told?.invoke(it) }
    }

    companion object {
        /** Both have to be asked for together; the owner may give the rough one only. */
        val PERMISSIONS = arrayOf(ACCESS_FINE_LOCATION, ACCESS_COARSE_LOCATION)
        private const val ASKED = "asked"
        private const val EVERY_MS = 1000L
    }
}
