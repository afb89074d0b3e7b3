package trug.phone.page.way

import android.hardware.Sensor
import android.hardware.SensorManager
import android.view.View
import kotlin.math.cos
import kotlin.math.sin
import org.junit.Assert.assertEquals
import org.junit.Assert.assertFalse
import org.junit.Assert.assertTrue
import org.junit.Test
import org.junit.runner.RunWith
import org.robolectric.RobolectricTestRunner
import org.robolectric.Shadows.shadowOf
import org.robolectric.annotation.Config
import org.robolectric.annotation.GraphicsMode
import org.robolectric.shadows.SensorEventBuilder
import org.robolectric.shadows.ShadowSensor
import trug.phone.app.Phone
import trug.phone.app.Place
import trug.phone.app.Stop
import trug.phone.page.patch.Winters
import trug.phone.position.Compass
import trug.phone.position.Reading

/** The way back, with the phone held and the wood walked through. */
@RunWith(RobolectricTestRunner::class)
@GraphicsMode(GraphicsMode.Mode.NATIVE)
@Config(sdk = [34, 35], qualifiers = "w360dp-h740dp-xhdpi")
class WayTest {
    @Test
    fun `the arrow turns with the phone, by true north`() = walk(Sensor.TYPE_ROTATION_VECTOR) { phone, sensor ->
        assertFalse("no arrow before the compass has told anything", arrow(phone).isShown)
        // The patch is to the south.
        face(phone, sensor, 0.0)
        assertEquals(180.0, arrowNow(phone), 0.5)
        phone.assertReads("behind you")
        face(phone, sensor, 90.0)
        assertEquals(90.0, arrowNow(phone), 0.5)
        phone.assertReads("to the right")
        phone.draw("p41-to-the-right")
        phone.assertTouchable()
        face(phone, sensor, 180.0)
        assertEquals(0.0, arrowNow(phone), 0.5)
        phone.assertReads("ahead")
        phone.draw("p42-ahead")
    }

    @Test
    fun `the other sensor serves where that one is not there`() = walk(Sensor.TYPE_GEOMAGNETIC_ROTATION_VECTOR) { phone, sensor ->
        face(phone, sensor, 90.0)
        assertEquals(90.0, arrowNow(phone), 0.5)
    }

    @Test
    fun `the game's sensor knows no north and does not serve`() = walk(Sensor.TYPE_GAME_ROTATION_VECTOR) { phone, _ ->
        phone.assertReads("This phone has no compass: the arrow is as on a map with north at the top.")
        assertEquals(180.0, arrowNow(phone), 0.5)
        phone.draw("p43-no-compass")
    }

    @Test
    fun `a compass that does not trust itself says so`() = walk(Sensor.TYPE_ROTATION_VECTOR) { phone, sensor ->
        face(phone, sensor, 0.0)
        assertFalse(phone.reads("The compass is not sure."))
        for (listener in sensors(phone).listeners) listener.onAccuracyChanged(sensor, SensorManager.SENSOR_STATUS_ACCURACY_LOW)
        face(phone, sensor, 0.0)
        phone.assertReads("The compass is not sure.")
    }

    @Test
    fun `it stops sensing when it is left`() = walk(Sensor.TYPE_ROTATION_VECTOR) { phone, _ ->
        assertEquals(1, sensors(phone).listeners.size)
        assertTrue("the screen stays on while one walks", checkNotNull(phone.activity.page).view.keepScreenOn)
        phone.back()
        assertEquals(0, sensors(phone).listeners.size)
        phone.tap("The way back")
        phone.die()
        assertEquals("in a new process once more", 1, sensors(phone).listeners.size)
        phone.tap("Someone is ill")
        assertEquals(0, sensors(phone).listeners.size)
    }

    @Test
    fun `it follows whoever walks, and a fix that is a little worse too`() = walk(null) { phone, _ ->
        phone.assertReads("110 m")
        phone.assertReads("Your position: ± 8 m")
        Winters.walk(phone, north = 0.6, accuracyM = 9f)
        phone.assertReads("67 m")
        Winters.walk(phone, north = 0.1, accuracyM = 7f)
        phone.assertReads("You are in it.")
        phone.assertReads("Its middle: 11 m, 180° S")
    }

    @Test
    fun `an old position is said to be old, and a rough one rough`() = walk(null) { phone, _ ->
        phone.pass(seconds = 60)
        assertTrue(phone.texts().toString(), phone.texts().any { it.startsWith("Your position is ") && it.contains("seconds old") })
        phone.assertReads("110 m")
        phone.draw("p44-old")
        Winters.walk(phone, north = 0.6, accuracyM = 90f)
        phone.assertReads("You may be in it: the position is too rough to tell.")
        phone.assertReads("± 90 m")
        assertFalse(phone.reads("seconds old"))
        assertFalse(phone.reads("You are in it."))
    }

    @Test
    fun `turned, or begun again, it goes on by the position that it had`() = walk(null) { phone, _ ->
        phone.pass(seconds = 60)
        for (harm in listOf({ phone.turn() }, { phone.die() })) {
            harm()
            phone.assertReads("110 m")
            assertTrue(phone.texts().toString(), phone.texts().any { it.contains("seconds old") })
        }
    }

    @Test
    fun `what is read aloud is what is news`() = walk(null) { phone, _ ->
        val region = phone.views().first { it.accessibilityLiveRegion == View.ACCESSIBILITY_LIVE_REGION_POLITE && it.contentDescription != null }
        assertEquals("110 m, 180° S", region.contentDescription)
        Winters.walk(phone, north = 0.95, accuracyM = 8f)
        phone.assertReads("110 m")
        Winters.walk(phone, north = 0.92, accuracyM = 8f)
        assertEquals("nine metres are no news", "110 m, 180° S", region.contentDescription)
        Winters.walk(phone, north = 0.8, accuracyM = 8f)
        assertEquals("89 m, 180° S", region.contentDescription)
        Winters.walk(phone, north = 0.1, accuracyM = 8f)
        assertTrue(region.contentDescription.toString(), region.contentDescription.startsWith("You are in it."))
    }

    @Test
    fun `without a position, and without a place, it says what to do`() = Phone(at = Winters.NOW).use { phone ->
        val patch = Winters.keep(phone)
        phone.activity.go(Stop(Place.WAY, about = patch))
        phone.settle()
        phone.assertReads("Trug does not know where you are")
        phone.assertReads("It lies at SU 6950 7836")
        phone.assertTouchable()
        phone.draw("p45-no-position")
        Winters.allow(phone)
        phone.assertReads("Waiting for a position")
        val nowhere = phone.core { it.addPatch(trug.core.PatchNoted("Nowhere", null, null, null, null)) }
        phone.activity.go(Stop(Place.WAY, about = nowhere))
        phone.settle()
        phone.assertReads("Nobody has noted where this patch is.")
    }

    @Test
    @Config(sdk = [35], qualifiers = "w740dp-h360dp-land-xhdpi")
    fun `on a phone on its side`() = walk(null) { phone, _ ->
        phone.draw("p46-on-its-side")
        phone.assertTouchable()
        phone.assertReads("110 m")
    }

    /** Magnetic north lay about 1 degree west to 1 degree east of true north at Oxford in the 2020s (from memory). */
    @Test
    fun `declination is told`() {
        val declination = Compass.declination(Reading(51.75, -1.25, 5.0, 0), 1_735_689_600_000)
        assertTrue("$declination", declination in -1.5..1.5)
        // In western Canada it is far to the east, in New Zealand too (some 14 and 20 to 26 degrees, from memory).
        assertTrue(Compass.declination(Reading(49.3, -123.1, 5.0, 0), 1_735_689_600_000) in 13.0..18.0)
        assertTrue(Compass.declination(Reading(-41.3, 174.8, 5.0, 0), 1_735_689_600_000) in 20.0..26.0)
    }

    /** The way to a patch 111 m to the south, on a phone with this sensor or none. */
    private fun walk(type: Int?, test: (Phone, Sensor) -> Unit) = Phone(at = Winters.NOW).use { phone ->
        val sensor = ShadowSensor.newInstance(type ?: Sensor.TYPE_LIGHT)
        sensors(phone).addSensor(sensor)
        val patch = Winters.keep(phone)
        Winters.allow(phone)
        phone.activity.go(Stop(Place.PATCH, about = patch))
        phone.settle()
        Winters.walk(phone, north = 1.0, accuracyM = 8f)
        phone.tap("The way back")
        test(phone, sensor)
    }

    private fun sensors(phone: Phone) = shadowOf(phone.app.getSystemService(SensorManager::class.java))

    private fun arrow(phone: Phone): ArrowView = phone.views().filterIsInstance<ArrowView>().first()

    private fun arrowNow(phone: Phone): Double = arrow(phone).also { assertTrue(it.isShown) }.points.toDouble().mod(360.0)

    /** The phone is held flat, its top to this bearing of true north. */
    private fun face(phone: Phone, sensor: Sensor, bearing: Double) {
        val declination = Compass.declination(Reading(Winters.LATITUDE, Winters.LONGITUDE, 8.0, 0), System.currentTimeMillis())
        val half = Math.toRadians(-(bearing - declination) / 2)
        val turned = floatArrayOf(0f, 0f, sin(half).toFloat(), cos(half).toFloat(), -1f)
        sensors(phone).sendSensorEventToListeners(SensorEventBuilder.newBuilder(sensor, turned).build(), sensor)
        phone.settle()
    }
}
