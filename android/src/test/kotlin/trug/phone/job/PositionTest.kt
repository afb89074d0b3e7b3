package trug.phone.job

import android.Manifest.permission.ACCESS_FINE_LOCATION
import android.content.Intent
import android.content.pm.PackageManager
import android.net.Uri
import android.widget.TextView
import java.io.ByteArrayInputStream
import java.time.Duration
import org.junit.Assert.assertEquals
import org.junit.Assert.assertNotSame
import org.junit.Assert.assertSame
import org.junit.Assert.assertTrue
import org.junit.Test
import org.junit.runner.RunWith
import org.robolectric.RobolectricTestRunner
import org.robolectric.Shadows.shadowOf
import org.robolectric.annotation.Config
import org.robolectric.annotation.GraphicsMode
import trug.core.Light
import trug.core.When
import trug.phone.app.Phone
import trug.phone.page.now.Lines
import trug.phone.position.Reading

/** Where the phone is: the best that is known, never an old one in silence, and Trug of use without any. */
@RunWith(RobolectricTestRunner::class)
@GraphicsMode(GraphicsMode.Mode.NATIVE)
@Config(sdk = [34, 35], qualifiers = "w360dp-h740dp-xhdpi")
class PositionTest {
    @Test
    fun `refused, everything else goes on`() = Phone().use { phone ->
        phone.assertReads("Trug does not know where you are")
        phone.tap("Use this phone’s position")
        val asked = shadowOf(phone.activity).lastRequestedPermission
        assertEquals(setOf(ACCESS_FINE_LOCATION, "android.permission.ACCESS_COARSE_LOCATION"), asked.requestedPermissions.toSet())
        phone.activity.onRequestPermissionsResult(asked.requestCode, asked.requestedPermissions, IntArray(2) { PackageManager.PERMISSION_DENIED })
        phone.settle()
        phone.tap("Without a photo")
        phone.assertReads("No place yet")
        phone.tap("Where, No place yet")
        phone.type("SU 387 147", "Grid reference or degrees")
        phone.tap("Set")
        phone.draw("51-where")
        phone.assertTouchable()
        phone.assertReads("SU 387 147")
        phone.type("nowhere", "Grid reference or degrees")
        phone.tap("Set")
        phone.assertReads("That is no place.")
    }

    @Test
    fun `a find takes the best fix there is, and a better one while its finder stands by it`() = Phone().use { phone ->
        allow(phone)
        phone.stand(51.5, -1.0, 30f)
        phone.tap("Without a photo")
        phone.assertReads("± 30 m, still improving")
        phone.stand(51.50005, -1.0, 12f)
        phone.assertReads("± 12 m, still improving")
        phone.draw("52-improving")
        phone.stand(51.50005, -1.0, 25f)
        phone.assertReads("± 12 m")
        phone.stand(51.6, -1.0, 3f)
        phone.assertReads("± 12 m")
        phone.stand(51.50004, -1.0, 4f)
        phone.assertReads("± 4 m")
        assertTrue("good enough", !phone.reads("still improving"))
    }

    @Test
    fun `a find is put where the phone is, whenever that is asked`() = Phone().use { phone ->
        allow(phone)
        phone.stand(51.5, -1.0, 4f)
        phone.tap("Without a photo")
        phone.tapWhat("Where, ")
        assertTrue(phone.canTap("Put it here, ± 4 m"))
        phone.pass(seconds = 30)
        phone.die()
        assertTrue("an old fix is not offered", !phone.canTap("Put it here, ± 4 m"))
        phone.assertReads("Waiting for a position")
        phone.stand(51.6, -1.0, 9f)
        phone.tap("Put it here, ± 9 m")
        assertEquals(51.6, phone.core { book -> book.findPage(book.now(null).finds.single().id) }.place?.latitude)
    }

    @Test
    fun `a photo that is chosen does not take the place of the phone`() = Phone().use { phone ->
        allow(phone)
        phone.stand(51.5, -1.0, 4f)
        phone.tap("Choose a photo")
        val chosen = Uri.parse("content://elsewhere/1")
        shadowOf(phone.app.contentResolver).registerInputStream(chosen, ByteArrayInputStream(shot()))
        phone.shoot(null, data = Intent().setData(chosen))
        phone.stand(51.5, -1.0, 3f)
        phone.assertReads("No place yet")
        phone.die()
        phone.stand(51.5, -1.0, 2f)
        phone.assertReads("No place yet")
    }

    @Test
    fun `whoever said no is not asked at every outing`() = Phone().use { phone ->
        val asked = listOf({ outing(phone) }, { outing(phone) }, { phone.tap("Use this phone’s position") }).map { step ->
            step()
            shadowOf(phone.activity).lastRequestedPermission
        }
        assertSame("asked with the first outing, and not with the next", asked[0], asked[1])
        assertNotSame("asked again where it is wanted", asked[1], asked[2])
    }

    private fun outing(phone: Phone) {
        phone.tap("Start an outing")
        phone.tap("My own land")
        phone.tap("End the outing")
    }

    @Test
    fun `an old fix is not used`() = Phone().use { phone ->
        allow(phone)
        phone.stand(51.5, -1.0, 5f, secondsAgo = 600)
        phone.assertReads("Waiting for a position")
        phone.tap("Without a photo")
        phone.assertReads("No place yet")
    }

    @Test
    fun `the light that is left`() = Phone().use { phone ->
        allow(phone)
        phone.stand(51.5, -1.0, 5f)
        assertTrue("whatever the hour, the day’s end is told", phone.reads("Sunset") || phone.reads("sunset"))
        phone.draw("53-today-light")
        val (rise, set) = at(7, 40) to at(16, 2)
        val cases = listOf(
            at(0, 30) to "Sunrise 7:40 AM, sunset 4:02 PM",
            at(12, 0) to "Sunset 4:02 PM: 4 h 2 min left",
            at(15, 20) to "Sunset 4:02 PM: 42 min left",
            at(18, 0) to "Sunset was at 4:02 PM",
        )
        for ((now, words) in cases) {
            val left = (set.millis - now.millis) / 60_000
            val page = phone.core { it.now(null) }.copy(now = now, light = Light(rise, set, left, staysUp = false))
            assertEquals(words, (Lines(phone.activity.ink, page).light(null) as TextView).text.toString().replace('\u202F', ' '))
        }
    }

    private fun at(hour: Int, minute: Int) = When(Duration.ofDays(20_000).plusHours(hour.toLong()).plusMinutes(minute.toLong()).toMillis(), 0, "2024-10-04")

    @Test
    fun `the best of two readings`() {
        val seconds = 1_000_000_000L
        fun reading(accuracy: Double?, second: Long) = Reading(51.5, -1.0, accuracy, second * seconds)
        val known = reading(10.0, 100)
        val cases = listOf(
            Triple(reading(8.0, 101), 101L, 8.0),
            Triple(reading(12.0, 101), 101L, 10.0),
            Triple(reading(null, 101), 101L, 10.0),
            // The known one is stale by now.
            Triple(reading(50.0, 130), 130L, 50.0),
            // The new one came late and is stale itself.
            Triple(reading(1.0, 60), 101L, 10.0),
        )
        for ((new, now, best) in cases) assertEquals("$new", best, Reading.best(known, new, now * seconds)?.accuracyM)
        assertEquals("both are stale", null, Reading.best(known, reading(1.0, 60), 200 * seconds))
    }

    private fun allow(phone: Phone) {
        shadowOf(phone.app).grantPermissions(ACCESS_FINE_LOCATION)
        phone.turn()
    }
}
