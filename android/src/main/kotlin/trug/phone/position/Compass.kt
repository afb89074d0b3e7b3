package trug.phone.position

import android.content.Context
import android.hardware.GeomagneticField
import android.hardware.Sensor
import android.hardware.SensorEvent
import android.hardware.SensorEventListener
import android.hardware.SensorManager

/** How the phone is held against the north: told while somebody asks. A phone without a magnetometer has none of it. */
internal class Compass(context: Context) {
    /** The matrix of SensorManager.getRotationMatrix, and whether the sensor trusts itself. */
    class Sensed(val matrix: FloatArray, val isSure: Boolean)

    private val manager: SensorManager? = context.getSystemService(SensorManager::class.java)

    /** The one that leans on the gyroscope is calmer; both know the north. (The game's one does not.) */
    private val sensor: Sensor? = listOf(Sensor.TYPE_ROTATION_VECTOR, Sensor.TYPE_GEOMAGNETIC_ROTATION_VECTOR)
        .firstNotNullOfOrNull { manager?.getDefaultSensor(it) }
    private var told: ((Sensed) -> Unit)? = null
    private var isSure = true

    /** Whether the phone has one. */
    val isThere: Boolean get() = sensor != null

    private val listener = object : SensorEventListener {
        override fun onSensorChanged(event: SensorEvent) {
            val matrix = FloatArray(MATRIX)
            // What comes after the four parts of the turn is how sure it is, which some phones' frameworks cannot read.
            SensorManager.getRotationMatrixFromVector(matrix, event.values.copyOf(minOf(event.values.size, PARTS)))
            told?.invoke(Sensed(matrix, isSure))
        }

        override fun onAccuracyChanged(sensor: Sensor, accuracy: Int) {
            isSure = accuracy != SensorManager.SENSOR_STATUS_UNRELIABLE && accuracy != SensorManager.SENSOR_STATUS_ACCURACY_LOW
        }
    }

    fun listen(tell: (Sensed) -> Unit) {
        told = tell
        manager?.unregisterListener(listener)
        sensor?.let { manager?.registerListener(listener, it, SensorManager.SENSOR_DELAY_UI) }
    }

    fun stop() {
        told = null
        manager?.unregisterListener(listener)
    }

    companion object {
        private const val MATRIX = 9
        private const val PARTS = 4

        /** How far magnetic north lies east of true north, in degrees, by the model of the Earth's field that Android carries. */
        fun declination(at: Reading, nowMillis: Long): Double =
            GeomagneticField(at.latitude.toFloat(), at.longitude.toFloat(), 0f, nowMillis).declination.toDouble()
    }
}
