package trug.phone.job

import android.app.Activity
import android.content.Intent
import android.graphics.Color
import android.net.Uri
import android.provider.MediaStore
import android.widget.ImageView
import java.io.ByteArrayInputStream
import java.io.File
import java.io.FileNotFoundException
import java.io.IOException
import java.io.InputStream
import org.junit.Assert.assertEquals
import org.junit.Assert.assertTrue
import org.junit.Test
import org.junit.runner.RunWith
import org.robolectric.RobolectricTestRunner
import org.robolectric.Shadows.shadowOf
import org.robolectric.annotation.Config
import org.robolectric.annotation.GraphicsMode
import trug.phone.app.Phone
import trug.phone.app.Place
import trug.phone.app.Stop
import trug.phone.camera.CaptureProvider
import trug.phone.camera.Purpose
import trug.phone.draw.Pictures
import trug.phone.page.ill.Ill

/** Whatever the camera does, and whenever the process dies, no photo is lost, and none that is not there is kept. */
@RunWith(RobolectricTestRunner::class)
@GraphicsMode(GraphicsMode.Mode.NATIVE)
@Config(sdk = [34, 35], qualifiers = "w360dp-h740dp-xhdpi")
class CameraTest {
    @Test
    fun `the camera may write its photo, and only that`() = Phone().use { phone ->
        phone.tap("Photograph a find")
        val intent = checkNotNull(phone.asked()).intent
        assertEquals(MediaStore.ACTION_IMAGE_CAPTURE, intent.action)
        val wanted = Intent.FLAG_GRANT_WRITE_URI_PERMISSION or Intent.FLAG_GRANT_READ_URI_PERMISSION
        assertEquals(wanted, intent.flags and wanted)
        val other = checkNotNull(intent.clipData).getItemAt(0).uri.buildUpon().path("../notebook").build()
        assertTrue(runCatching { phone.app.contentResolver.openOutputStream(other) }.exceptionOrNull() is FileNotFoundException)
    }

    @Test
    fun `called off, nothing is kept`() = Phone().use { phone ->
        phone.tap("Photograph a find")
        phone.shoot(null, Activity.RESULT_CANCELED)
        phone.assertReads("No photo was taken.")
        assertNothing(phone)
    }

    @Test
    fun `called off, but a photo was written, it is kept`() = Phone().use { phone ->
        phone.tap("Photograph a find")
        phone.shoot(shot(), Activity.RESULT_CANCELED)
        assertEquals(1, finds(phone))
    }

    @Test
    fun `an empty photo is none`() = Phone().use { phone ->
        phone.tap("Photograph a find")
        phone.shoot(ByteArray(0))
        phone.assertReads("The photo came back empty. Take it again.")
        phone.draw("41-empty-photo")
        assertNothing(phone)
    }

    @Test
    fun `what is no photo is said to be none`() = Phone().use { phone ->
        phone.tap("Photograph a find")
        phone.shoot("no photo".toByteArray())
        phone.assertReads("That is not a picture that Trug can read.")
        assertEquals(0, finds(phone))
    }

    @Test
    fun `without a camera it says so, and another way is there`() = Phone().use { phone ->
        shadowOf(phone.app).checkActivities(true)
        phone.tap("Photograph a find")
        phone.assertReads("This phone has no camera app that Trug can ask.")
        assertNothing(phone)
    }

    @Test
    fun `a photo that is on the phone already can be chosen`() = Phone().use { phone ->
        phone.tap("Choose a photo")
        val chosen = Uri.parse("content://elsewhere/1")
        shadowOf(phone.app.contentResolver).registerInputStream(chosen, ByteArrayInputStream(shot(Color.RED)))
        phone.shoot(null, data = Intent().setData(chosen))
        assertEquals(1, finds(phone))
        assertTrue(captures(phone).isEmpty())
    }

    @Test
    fun `a photo that breaks off while it is fetched leaves nothing`() = Phone().use { phone ->
        phone.tap("Choose a photo")
        val chosen = Uri.parse("content://elsewhere/2")
        val broken = object : InputStream() {
            private var left = 2000

            override fun read(): Int = if (left-- > 0) 7 else throw IOException("gone")
        }
        shadowOf(phone.app.contentResolver).registerInputStream(chosen, broken)
        phone.shoot(null, data = Intent().setData(chosen))
        assertNothing(phone)
    }

    @Test
    fun `the battery dies after the notebook has the photo, and there is still one find`() = Phone().use { phone ->
        val capture = CaptureProvider.captures(phone.app).begin(Purpose(null, "whole"))
        capture.file.writeBytes(shot())
        phone.core { it.beginFind(capture.file.path, "whole", null) }
        phone.pullBattery()
        assertEquals(1, finds(phone))
        assertTrue("and nothing is left lying about", captures(phone).isEmpty())
    }

    @Test
    fun `gloves touch twice, and the camera opens once`() = Phone().use { phone ->
        phone.tapTwice("Photograph a find")
        assertEquals(1, captures(phone).size)
        phone.shoot(shot())
        assertEquals(null, phone.asked())
        assertEquals(1, finds(phone))
    }

    @Test
    fun `a photo that comes late leaves whoever asks for help where they are`() = Phone().use { phone ->
        phone.tap("Photograph a find")
        phone.activity.go(Stop(Place.ILL))
        phone.shoot(shot())
        assertEquals(1, finds(phone))
        assertTrue(phone.activity.page is Ill)
    }

    @Test
    fun `a photo stands upright as it was held`() = Phone().use { phone ->
        // SOI, then APP1 with one entry: orientation (0x112) 6, a quarter turn.
        val exif = "ffe1 0022 457869660000 4d4d002a00000008 0001 0112 0003 00000001 00060000 00000000".replace(" ", "")
        val jpeg = shot()
        val file = File(phone.app.filesDir, "turned.jpg")
        file.writeBytes(jpeg.copyOf(2) + exif.chunked(2).map { it.toInt(16).toByte() } + jpeg.drop(2))
        val view = ImageView(phone.activity)
        Pictures.show(phone.activity.ink, file.path, view, 100)
        for (wait in 1..100) {
            if (view.drawable != null) break
            Thread.sleep(50)
            phone.settle()
        }
        assertTrue("${view.drawable?.intrinsicWidth} wide", view.drawable.intrinsicWidth < view.drawable.intrinsicHeight)
    }

    @Test
    fun `without room it says so`() = Phone().use { phone ->
        File(phone.app.filesDir, "captures").apply { deleteRecursively() }.writeText("in the way")
        phone.tap("Photograph a find")
        phone.assertReads("There is no room for a photo.")
    }

    @Test
    fun `the process dies while the camera is open`() = Phone().use { phone ->
        phone.tap("Photograph a find")
        val asked = checkNotNull(phone.asked())
        phone.die()
        // The system hands the result to the Activity that was made again.
        val target = checkNotNull(asked.intent.clipData).getItemAt(0).uri
        phone.app.contentResolver.openOutputStream(target)?.use { it.write(shot()) }
        phone.result(asked.requestCode)
        assertEquals(1, finds(phone))
        phone.assertReads("Photograph: underside")
    }

    @Test
    fun `the battery dies while the camera is open, and its photo finds its find`() = Phone().use { phone ->
        phone.tap("Without a photo")
        val find = phone.core { it.now(null).finds.single().id }
        val capture = CaptureProvider.captures(phone.app).begin(Purpose(find, "underside"))
        capture.file.writeBytes(shot())
        CaptureProvider.captures(phone.app).begin(Purpose(null, "whole"))
        phone.pullBattery()
        assertEquals(listOf("underside"), phone.core { it.findPage(find) }.photos.map { it.role })
        assertTrue("empty files are cleared away", captures(phone).isEmpty())
    }

    @Test
    fun `a photo for a find that is gone begins a find of its own`() = Phone().use { phone ->
        val capture = CaptureProvider.captures(phone.app).begin(Purpose("01999999-9999-7999-8999-999999999999", "cut"))
        capture.file.writeBytes(shot())
        phone.pullBattery()
        assertEquals(1, finds(phone))
    }

    @Test
    fun `photos are added by what they show`() = Phone().use { phone ->
        phone.tap("Photograph a find")
        phone.shoot(shot())
        phone.tap("Photograph: underside")
        phone.shoot(shot(Color.GREEN))
        phone.tap("Another photo")
        phone.draw("42-roles")
        phone.assertTouchable()
        phone.tap("spore print")
        phone.shoot(shot(Color.WHITE))
        val roles = phone.core { book -> book.findPage(book.now(null).finds.single().id) }.photos.map { it.role }
        assertEquals(listOf("whole", "underside", "spore-print"), roles)
        phone.back()
        phone.draw("43-find-with-photos")
        phone.tap("Photo: spore print. Show it.")
        phone.draw("44-photo")
        phone.tap("Take this photo off")
        phone.tap("Undo")
        assertEquals(3, phone.core { book -> book.findPage(book.now(null).finds.single().id) }.photos.size)
    }

    private fun assertNothing(phone: Phone) {
        assertEquals(0, finds(phone))
        assertTrue("nothing is left lying about", captures(phone).isEmpty())
    }

    private fun captures(phone: Phone) = CaptureProvider.captures(phone.app).all()

    private fun finds(phone: Phone) = phone.core { it.now(null).finds.size }
}
