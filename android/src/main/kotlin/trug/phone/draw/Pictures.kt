package trug.phone.draw

import android.graphics.Bitmap
import android.graphics.BitmapFactory
import android.graphics.Matrix
import android.media.ExifInterface
import android.os.Handler
import android.os.Looper
import android.widget.ImageView
import java.util.concurrent.Executors
import java.util.concurrent.atomic.AtomicInteger

/** Draws photos, read away from the thread that draws, no larger than they are shown. */
internal object Pictures {
    private val reader = Executors.newSingleThreadExecutor { Thread(it, "pictures").apply { isDaemon = true } }
    private val waiting = AtomicInteger()
    private val main = Handler(Looper.getMainLooper())

    /** Whether one is on its way. */
    val isBusy: Boolean get() = waiting.get() > 0

    /** Shows the file in [view], at least [pixels] wide where it is that large; nothing where it cannot be read. */
    fun show(ink: Ink, path: String?, view: ImageView, pixels: Int) {
        view.colorFilter = ink.glass
        view.tag = path
        if (path == null) return
        waiting.incrementAndGet()
        reader.execute {
            val drawn = runCatching { read(path, pixels) }.getOrNull()
            main.post {
                waiting.decrementAndGet()
                if (view.tag == path) view.setImageBitmap(drawn)
            }
        }
    }

    private fun read(path: String, pixels: Int): Bitmap? {
        val size = BitmapFactory.Options().apply { inJustDecodeBounds = true }
        BitmapFactory.decodeFile(path, size)
        var smaller = 1
        while (minOf(size.outWidth, size.outHeight) / (smaller * 2) >= pixels) smaller *= 2
        return BitmapFactory.decodeFile(path, BitmapFactory.Options().apply { inSampleSize = smaller })?.let { upright(it, path) }
    }

    /** Cameras write the picture as the phone was held, and beside it how to turn it. */
    private fun upright(drawn: Bitmap, path: String): Bitmap {
        val turn = Matrix()
        // As EXIF 2.32 numbers the ways in which a picture may lie.
        when (runCatching { ExifInterface(path).getAttributeInt(ExifInterface.TAG_ORIENTATION, 0) }.getOrDefault(0)) {
            ExifInterface.ORIENTATION_FLIP_HORIZONTAL -> turn.postScale(-1f, 1f)
            ExifInterface.ORIENTATION_ROTATE_180 -> turn.postRotate(HALF_TURN)
            ExifInterface.ORIENTATION_FLIP_VERTICAL -> turn.postScale(1f, -1f)
            ExifInterface.ORIENTATION_TRANSPOSE -> turn.apply { postRotate(QUARTER_TURN) }.postScale(-1f, 1f)
            ExifInterface.ORIENTATION_ROTATE_90 -> turn.postRotate(QUARTER_TURN)
            ExifInterface.ORIENTATION_TRANSVERSE -> turn.apply { postRotate(-QUARTER_TURN) }.postScale(-1f, 1f)
            ExifInterface.ORIENTATION_ROTATE_270 -> turn.postRotate(-QUARTER_TURN)
            else -> return drawn
        }
        return Bitmap.createBitmap(drawn, 0, 0, drawn.width, drawn.height, turn, true)
    }

    private const val QUARTER_TURN = 90f
    private const val HALF_TURN = 180f
}
