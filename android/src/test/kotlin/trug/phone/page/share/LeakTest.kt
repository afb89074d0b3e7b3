package trug.phone.page.share

import android.Manifest.permission.ACCESS_FINE_LOCATION
import android.media.ExifInterface
import java.time.Instant
import java.time.LocalDateTime
import java.time.ZoneOffset
import java.time.format.DateTimeFormatter
import org.junit.Assert.assertEquals
import org.junit.Assert.assertTrue
import org.junit.Test
import org.junit.runner.RunWith
import org.robolectric.RobolectricTestRunner
import org.robolectric.Shadows.shadowOf
import org.robolectric.annotation.Config
import org.robolectric.annotation.GraphicsMode
import trug.phone.app.Phone
import trug.phone.job.shot

/**
 * What leaves, taken apart byte by byte: a find that was photographed and recorded on the phone tells nothing finer than 10 km, and
 * nothing that was not ticked, in any form. People and places are invented; the place is that of a test point of the Ordnance Survey's.
 */
@RunWith(RobolectricTestRunner::class)
@GraphicsMode(GraphicsMode.Mode.NATIVE)
@Config(sdk = [34, 35], qualifiers = "en-rGB-w360dp-h740dp-xhdpi")
class LeakTest {
    private val forms = mapOf(
        "For another Trug" to 1,
        "For recorders (Darwin Core)" to 1,
        "Patches for a map (GPX)" to 0,
        "For a map (GeoJSON)" to 0,
        "A table (CSV)" to 0,
    )

    @Test
    fun `shared at 10 km, no file of any form tells more`() = Phone().use { phone ->
        val secrets = secretive(phone)
        phone.tap("Share")
        phone.type("Recipienta", "Their name (it does not leave)")
        // A name that was typed, and is not ticked after all.
        phone.tap("My name")
        phone.type("Ownerine", "Your name, for the file")
        phone.tap("My name")
        phone.tap("Photos, as pictures alone")
        for ((form, pictures) in forms) {
            phone.tap(form)
            phone.preview()
            phone.assertReads("Exact place, notes and photo position stay with you.")
            phone.assertReads("The 10 km square SU31")
            val apart = Apart(phone.makeAndSave())
            assertEquals(form, emptySet<String>(), apart.leaks(secrets))
            assertEquals(form, pictures, apart.pictures)
            phone.back()
        }
    }

    /** The check can fail: told exactly and with everything ticked, it finds each kind of secret. */
    @Test
    fun `shared exactly, the same check finds the place and all that was ticked`() = Phone().use { phone ->
        val secrets = secretive(phone)
        phone.tap("Share")
        phone.tap("My name")
        phone.type("Ownerine", "Your name, for the file")
        for (tick in listOf("Notes and surroundings", "The time of day", "The exact place")) phone.tap(tick)
        for (form in forms.keys) {
            phone.tap(form)
            phone.preview()
            val leaks = Apart(phone.makeAndSave()).leaks(secrets)
            assertTrue("$form: the place is not among $leaks", leaks.containsAll(listOf("50.931", "1.4505")))
            assertTrue("$form: the owner is not among $leaks", "Ownerine" in leaks)
            val further = if ("GPX" in form) listOf("Secret Log") else listOf("findnote", "habitatwords", clock(phone))
            assertTrue("$form: $further is not among $leaks", leaks.containsAll(further))
            phone.back()
        }
    }

    @Test
    fun `in what is for one's own phones the check finds everything, and in an unwritten photo its place`() = Phone().use { phone ->
        val secrets = secretive(phone)
        phone.tap("Share")
        phone.tap("My other phones")
        phone.tap("See what would leave")
        phone.await("Everything")
        val leaks = Apart(phone.makeAndSave()).leaks(secrets)
        for (secret in listOf("findnote", "Secret Log", "Quillwood", "Namegiver", "50.931")) assertTrue("$secret is not among $leaks", secret in leaks)
        assertTrue("$leaks", leaks.any { it.startsWith("GPSLatitude of a picture") } && leaks.any { it.startsWith("DateTimeOriginal") })
        assertTrue("$leaks", leaks.any { it.endsWith("tells a time") })
    }

    /** An outing, a photo that tells everything, and a find with notes, names and a patch, recorded through the screens. */
    private fun secretive(phone: Phone): Secrets {
        shadowOf(phone.app).grantPermissions(ACCESS_FINE_LOCATION)
        phone.turn()
        phone.stand(HARROW_SHAW.latitude, HARROW_SHAW.longitude, 6f)
        phone.tap("Start an outing")
        phone.type("Quillwood")
        phone.tap("The owner said yes")
        phone.tap("Photograph a find")
        phone.shoot(told(phone))
        phone.tap("I know it")
        phone.tap("told")
        phone.type("Namegiver", "Who told you?")
        phone.type("Velvet sh", "Name, English or Latin")
        phone.tap("Velvet shank")
        phone.type("7", "Seen")
        phone.tap("Note, Write a note")
        phone.type("findnote by the gate", "Write a note")
        phone.back()
        phone.tapWhat("Growing on")
        phone.type("habitatwords", "Surroundings")
        phone.back()
        val find = phone.core { it.now(null).finds.single().id }
        val page = phone.core { it.foundPatch(find, "Secret Log") }
        val outing = phone.core { checkNotNull(it.now(null).outing).id }
        assertEquals("the photo and the find lie there", "SU 3871 1479", page.place?.name)
        phone.back()
        val device = Regex("\"device\"\\s*:\\s*\"([^\"]+)\"").find(phone.app.filesDir.resolve("notebook/notebook.json").readText())
        val ids = listOf(find, outing, checkNotNull(page.patch).id, checkNotNull(device).groupValues[1]) + page.photos.map { it.id } + page.names.map { it.id }
        val words = listOf("Quillwood", "findnote", "habitatwords", "Secret Log", "Namegiver", "Ownerine", "Recipienta", "photosecret", clock(phone))
        return Secrets(
            words = words + ids + ids.map { it.replace("-", "") } + utc(phone),
            digits = PLACE,
            latitude = HARROW_SHAW.latitude,
            longitude = HARROW_SHAW.longitude,
        )
    }

    private fun at(phone: Phone) = checkNotNull(phone.core { it.now(null).finds.single().at })

    /** The hour and minute of the find, as its clock showed it. */
    private fun clock(phone: Phone): String =
        at(phone).let { Instant.ofEpochMilli(it.millis).atOffset(ZoneOffset.ofTotalSeconds(it.offsetSeconds)) }.run { "%02d:%02d".format(hour, minute) }

    private fun utc(phone: Phone): List<String> {
        val millis = at(phone).millis
        val hour = Instant.ofEpochMilli(millis).atOffset(ZoneOffset.UTC).run { "%02d:%02d".format(hour, minute) }
        return listOf(hour, millis.toString(), (millis / 1000).toString(), "%x".format(millis))
    }

    /** A photo as a camera writes it that tells where and when, and whose it is. */
    private fun told(phone: Phone): ByteArray {
        val file = phone.app.filesDir.resolve("told.jpg").apply { writeBytes(shot()) }
        ExifInterface(file.path).apply {
            setAttribute(ExifInterface.TAG_GPS_LATITUDE, "50/1,55/1,52605/1000")
            setAttribute(ExifInterface.TAG_GPS_LATITUDE_REF, "N")
            setAttribute(ExifInterface.TAG_GPS_LONGITUDE, "1/1,27/1,1852/1000")
            setAttribute(ExifInterface.TAG_GPS_LONGITUDE_REF, "W")
            // Cameras tell whole seconds: the last one may lie before the outing.
            val taken = LocalDateTime.now().plusSeconds(1)
            setAttribute(ExifInterface.TAG_DATETIME_ORIGINAL, taken.format(DateTimeFormatter.ofPattern("yyyy:MM:dd HH:mm:ss")))
            setAttribute(ExifInterface.TAG_ARTIST, "photosecretowner")
            setAttribute(ExifInterface.TAG_IMAGE_DESCRIPTION, "photosecretwords SU 38710 14792")
            saveAttributes()
        }
        val bytes = file.readBytes().also { file.delete() }
        assertTrue("the photo tells its place", "photosecretowner" in String(bytes, Charsets.ISO_8859_1))
        return bytes
    }

    private companion object {
        /**
         * SU 38710 14792 (50.9312794, -1.4505143) in every form finer than 10 km: degrees from three decimals on, degrees and minutes,
         * grid references from 5 km down, eastings and northings.
         */
        val PLACE = listOf(
            "50.931", "50.9312", "1.450", "1.4505", "50,931", "1,450", "50°55", "1°27", "50 55", "50/1", "55/1", "55.87", "27.03", "SU3814", "SU 38 14",
            "SU 3814", "SU387147", "SU 387 147", "SU38711479", "SU 3871 1479", "SU3871014792", "SU 38710 14792", "SU31X", "SU31S", "SU31NE", "SU31SE",
            "SU31NW", "SU31SW", "438710", "114792", "43871", "11479", "4387", "1147",
        )
    }
}
