package trug.phone.draw

import android.graphics.Bitmap
import android.graphics.BitmapFactory
import android.os.Handler
import android.os.Looper
import android.widget.ImageView
import java.util.concurrent.Executors

/** Draws photos, read away from the thread that draws, no larger than they are shown. */
internal object Pictures {
    private val reader = Executors.newSingleThreadExecutor { Thread(it, "pictures").apply { isDaemon = true } }
    private val main = Handler(Looper.getMainLooper())

    /** Shows the file in [view], at least [pixels] wide where it is that large; nothing where it cannot be read. */
    fun show(ink: Ink, path: String?, view: ImageView, pixels: Int) {
        view.colorFilter = ink.glass
        view.tag = path
        if (path == null) return
        reader.execute {
            val drawn = runCatching { read(path, pixels) }.getOrNull()
            main.post { if (view.tag == path) view.setImageBitmap(drawn) }
        }
    }

    private fun read(path: String, pixels: Int): Bitmap? {
        val size = BitmapFactory.Options().apply { inJustDecodeBounds = true }
        BitmapFactory.decodeFile(path, size)
        var smaller = 1
        while (size.outWidth / (smaller * 2) >= pixels) smaller *= 2
        return BitmapFactory.decodeFile(path, BitmapFactory.Options().apply { inSampleSize = smaller })
    }
}
