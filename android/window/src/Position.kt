package trug.window

import android.Manifest.permission.ACCESS_FINE_LOCATION
import android.content.pm.PackageManager
import android.location.Location
import android.location.LocationManager
import android.os.SystemClock
import kotlin.math.roundToInt
import org.robolectric.RuntimeEnvironment
import org.robolectric.Shadows.shadowOf

/** The satellites' receiver: a fix a second while it knows where it is, in degrees of WGS 84 and metres (68 %). */
internal class Position {
    private class Spot(val latitude: Double, val longitude: Double, val accuracy: Float)

    private val app = RuntimeEnvironment.getApplication()
    private val manager = shadowOf(app.getSystemService(LocationManager::class.java))
    private var spot: Spot? = null
    private var told = 0L

    init {
        manager.setProviderEnabled(LocationManager.GPS_PROVIDER, true)
    }

    fun at(latitude: Double, longitude: Double, accuracy: Float) {
        spot = Spot(latitude, longitude, accuracy)
        told = 0
    }

    /** Under a rock: no fix comes any more. */
    fun lost() {
        spot = null
    }

    fun switch(on: Boolean) {
        manager.setLocationEnabled(on)
        manager.setProviderEnabled(LocationManager.GPS_PROVIDER, on)
    }

    /** To be called as time passes. */
    fun tick() {
        val here = spot ?: return
        val now = SystemClock.elapsedRealtime()
        if (now - told < EVERY) return
        told = now
        val isFine = app.checkSelfPermission(ACCESS_FINE_LOCATION) == PackageManager.PERMISSION_GRANTED
        manager.simulateLocation(LocationManager.GPS_PROVIDER, fix(if (isFine) here else roughly(here)))
    }

    private fun fix(here: Spot) = Location(LocationManager.GPS_PROVIDER).apply {
        latitude = here.latitude
        longitude = here.longitude
        accuracy = here.accuracy
        time = System.currentTimeMillis()
        elapsedRealtimeNanos = SystemClock.elapsedRealtimeNanos()
    }

    /** What an app learns that may know the position only roughly: a grid of some 2 km (from memory). */
    private fun roughly(here: Spot) =
        Spot((here.latitude / ROUGH).roundToInt() * ROUGH, (here.longitude / ROUGH).roundToInt() * ROUGH, ROUGHLY)

    private companion object {
        /** Milliseconds. */
        const val EVERY = 1000L
        const val ROUGH = 0.02
        const val ROUGHLY = 2000f
    }
}
