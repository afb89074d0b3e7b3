package trug.phone.job

import android.net.Uri
import android.system.ErrnoException
import android.system.OsConstants
import java.io.ByteArrayInputStream
import java.io.ByteArrayOutputStream
import java.io.IOException
import java.io.InputStream
import java.io.OutputStream
import org.robolectric.Shadows.shadowOf
import trug.phone.app.Phone

/** A document that somebody else keeps, on a card or far away; it can be full, or tear what is written to it. */
internal class Elsewhere(phone: Phone, name: String = "a", var bytes: ByteArray? = null) {
    val uri: Uri = Uri.parse("content://elsewhere/$name")

    /** It takes no more than so many bytes, and then says that there is no room. */
    var room = Int.MAX_VALUE

    /** What is written loses its last byte on the way. */
    var tears = false

    init {
        val others = shadowOf(phone.app.contentResolver)
        others.registerInputStreamSupplier(uri) { bytes?.let(::ByteArrayInputStream) ?: Gone() }
        others.registerOutputStreamSupplier(uri) { Taking() }
    }

    private inner class Taking : OutputStream() {
        private val taken = ByteArrayOutputStream()

        override fun write(byte: Int) = write(byteArrayOf(byte.toByte()), 0, 1)

        override fun write(from: ByteArray, at: Int, length: Int) {
            if (taken.size() + length > room) throw noRoom()
            taken.write(from, at, length)
        }

        override fun close() {
            bytes = taken.toByteArray().let { if (tears) it.copyOf(it.size - 1) else it }
        }
    }

    private class Gone : InputStream() {
        override fun read(): Int = throw IOException("nothing to be read here")
    }

    companion object {
        /** What Android throws where a disk is full. */
        fun noRoom() = IOException("write failed", ErrnoException("write", OsConstants.ENOSPC))
    }
}
