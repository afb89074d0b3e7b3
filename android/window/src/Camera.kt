package trug.window

import android.media.ExifInterface
import java.io.File
import java.io.IOException
import java.time.OffsetDateTime
import java.time.format.DateTimeFormatter

/** A photograph of the desk as if it were taken now, and by a camera that tells no app where. What is no JPEG stays as it is. */
internal fun takenNow(photo: File): ByteArray {
    val copy = File.createTempFile("photo", ".jpg")
    try {
        photo.copyTo(copy, overwrite = true)
        val now = OffsetDateTime.now()
        ExifInterface(copy).apply {
            for (tag in listOf(ExifInterface.TAG_DATETIME, ExifInterface.TAG_DATETIME_ORIGINAL, ExifInterface.TAG_DATETIME_DIGITIZED)) {
                setAttribute(tag, now.format(DateTimeFormatter.ofPattern("yyyy:MM:dd HH:mm:ss")))
            }
            setAttribute(ExifInterface.TAG_OFFSET_TIME_ORIGINAL, now.format(DateTimeFormatter.ofPattern("xxx")))
            PLACE.forEach { setAttribute(it, null) }
            saveAttributes()
        }
        return copy.readBytes()
    } catch (_: IOException) {
        return photo.readBytes()
    } finally {
        copy.delete()
    }
}

private val PLACE = listOf(
    ExifInterface.TAG_GPS_LATITUDE,
    ExifInterface.TAG_GPS_LATITUDE_REF,
    ExifInterface.TAG_GPS_LONGITUDE,
    ExifInterface.TAG_GPS_LONGITUDE_REF,
    ExifInterface.TAG_GPS_TIMESTAMP,
    ExifInterface.TAG_GPS_DATESTAMP,
    "GPSHPositioningError",
)
