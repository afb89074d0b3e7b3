package trug.phone.job

import android.graphics.Bitmap
import android.graphics.Color
import java.io.ByteArrayOutputStream

/** A photo of nothing, as a camera writes it; each colour is another photo. */
internal fun shot(colour: Int = Color.rgb(150, 90, 40)): ByteArray {
    val drawn = Bitmap.createBitmap(640, 480, Bitmap.Config.ARGB_8888).apply { eraseColor(colour) }
    return ByteArrayOutputStream().also { drawn.compress(Bitmap.CompressFormat.JPEG, 80, it) }.toByteArray()
}
