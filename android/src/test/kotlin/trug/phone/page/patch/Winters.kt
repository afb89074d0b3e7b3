package trug.phone.page.patch

import android.Manifest.permission.ACCESS_FINE_LOCATION
import android.graphics.Color
import android.media.ExifInterface
import java.io.File
import java.time.LocalDate
import java.time.ZoneOffset
import java.util.Locale
import org.robolectric.Shadows.shadowOf
import trug.core.At
import trug.core.FieldValue
import trug.core.Fix
import trug.core.LookNoted
import trug.core.PatchNoted
import trug.phone.app.Phone
import trug.phone.job.shot

/** A patch of velvet shank in Harrow Shaw, which is invented, that was gone to for some winters. */
internal object Winters {
    const val LATITUDE = 51.5
    const val LONGITUDE = -1.0

    /** 18 October 2026, half past ten in the morning of a British autumn. */
    const val NOW = 1_792_315_800_000

    /** The year in which last season began. */
    private const val LAST = 2025

    /** Seasons by their age: 1 for last year's. */
    fun season(ago: Int): String = (LAST + 1 - ago).let { String.format(Locale.ROOT, "%d/%02d", it, (it + 1) % 100) }

    /** A day of a season by its age: the winter lies on both sides of New Year. */
    fun day(ago: Int, month: Int, day: Int): LocalDate = LocalDate.of(LAST + 1 - ago + if (month < JULY) 1 else 0, month, day)

    /** The phone may know where it is. */
    fun allow(phone: Phone) {
        shadowOf(phone.app).grantPermissions(ACCESS_FINE_LOCATION)
        phone.turn()
    }

    /**
     * Last winter some were taken on New Year's Eve and left on New Year's Day, and nothing was there in February; nobody looked the
     * winter before; and once nothing was there the winter before that. Answers the patch.
     */
    fun keep(phone: Phone): String {
        val fix = Fix(LATITUDE, LONGITUDE, 8.0)
        val patch = phone.core { it.addPatch(PatchNoted("Old elder", "velvet-shank", 12.0, fix, null)) }
        find(phone, day(1, 12, 31), Color.RED, seen = "9", taken = "4")
        find(phone, day(1, 1, 1), Color.BLUE, seen = "5", taken = "0")
        look(phone, patch, day(1, 2, 10), "nothing", note = null)
        look(phone, patch, day(3, 11, 20), "nothing", note = "dry for weeks")
        return patch
    }

    /** Another patch, which nobody has looked at yet, so many thousandths of a degree to the north. */
    fun another(phone: Phone, name: String, north: Double, kind: String? = null): String =
        phone.core { it.addPatch(PatchNoted(name, kind, null, Fix(LATITUDE + north / 1000, LONGITUDE, 8.0), null)) }

    /** A little later the phone stands elsewhere. */
    fun walk(phone: Phone, north: Double, accuracyM: Float) {
        phone.pass(seconds = 3)
        phone.stand(LATITUDE + north / 1000, LONGITUDE, accuracyM)
    }

    fun look(phone: Phone, patch: String, day: LocalDate, outcome: String, note: String?) {
        val at = At(day.atTime(NOON, 0).toInstant(ZoneOffset.UTC).toEpochMilli(), 0)
        phone.core { it.noteLook(patch, LookNoted(outcome, at, null, note)) }
    }

    private fun find(phone: Phone, day: LocalDate, colour: Int, seen: String, taken: String) {
        val photo = File(phone.app.cacheDir, "$day.jpg").apply { writeBytes(shot(colour)) }
        ExifInterface(photo.path).apply {
            setAttribute(ExifInterface.TAG_DATETIME_ORIGINAL, "${day.toString().replace('-', ':')} 11:00:00")
            setAttribute(ExifInterface.TAG_OFFSET_TIME_ORIGINAL, "+00:00")
            saveAttributes()
        }
        phone.core { book ->
            val find = book.beginFind(photo.path, "whole", Fix(LATITUDE, LONGITUDE, 6.0)).id
            book.nameFind(find, "velvet-shank", "sight", null, null)
            book.amendFind(find, listOf(FieldValue("seen", seen), FieldValue("taken", taken)))
        }
    }

    private const val JULY = 7
    private const val NOON = 12
}
