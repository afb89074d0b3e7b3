package trug.phone.camera

import android.app.Activity
import android.content.ActivityNotFoundException
import android.content.ClipData
import android.content.ContentResolver
import android.content.Intent
import android.net.Uri
import android.os.Bundle
import android.provider.MediaStore
import java.io.FileNotFoundException
import java.io.FileOutputStream
import java.io.IOException
import trug.core.Book
import trug.core.FindPage
import trug.core.Fix
import trug.core.TrugException
import trug.phone.R
import trug.phone.app.Calls
import trug.phone.position.Position
import trug.phone.words.sentence

/**
 * Asks the system's camera for a photo, and hands it to the notebook before anything else. Trug has no camera of its own and
 * wants no permission for one. A photo stays in [Captures] until the notebook has it, whatever dies meanwhile.
 */
internal class Camera(
    private val activity: Activity,
    private val calls: Calls,
    private val position: Position,
    saved: Bundle?,
    /** Told of every photo that the notebook has, its find, and whether it was taken here and now. */
    private val taken: (Purpose, FindPage, Boolean) -> Unit,
    private val complain: (String) -> Unit,
) {
    private val captures = CaptureProvider.captures(activity)
    private var awaited: Captures.Capture? = saved?.getString(AWAITED)?.let(captures::named)

    /** Whether the camera was asked for and has not come to the front yet. */
    private var isLeaving = false

    /** Trug is in front again. */
    fun awake() {
        isLeaving = false
    }

    fun save(into: Bundle) = into.putString(AWAITED, awaited?.file?.name)

    fun photograph(purpose: Purpose) = ask(purpose, PHOTOGRAPH) { capture ->
        val target = CaptureProvider.uri(capture)
        Intent(MediaStore.ACTION_IMAGE_CAPTURE).apply {
            putExtra(MediaStore.EXTRA_OUTPUT, target)
            clipData = ClipData.newRawUri(null, target)
            addFlags(Intent.FLAG_GRANT_WRITE_URI_PERMISSION or Intent.FLAG_GRANT_READ_URI_PERMISSION)
        }
    }

    /** Lets a photo be chosen that is on the phone already. */
    fun choose(purpose: Purpose) = ask(purpose, CHOOSE) {
        Intent(Intent.ACTION_GET_CONTENT).setType("image/*").addCategory(Intent.CATEGORY_OPENABLE)
    }

    private fun ask(purpose: Purpose, request: Int, intent: (Captures.Capture) -> Intent) {
        // A glove that touches twice wants one photo.
        if (isLeaving) return
        val capture = try {
            captures.begin(purpose)
        } catch (_: IOException) {
            return complain(activity.getString(R.string.camera_no_room))
        }
        try {
            @Suppress("DEPRECATION") // What replaces it is no part of the system.
            activity.startActivityForResult(intent(capture), request)
            awaited = capture
            isLeaving = true
        } catch (_: ActivityNotFoundException) {
            capture.file.delete()
            complain(activity.getString(R.string.camera_none))
        }
    }

    /** Something came back; false where it is not from here. */
    fun answered(request: Int, result: Int, data: Intent?): Boolean {
        if (request != PHOTOGRAPH && request != CHOOSE) return false
        isLeaving = false
        val capture = awaited ?: return true
        awaited = null
        val isNow = request == PHOTOGRAPH
        when {
            // What the camera wrote is a photo, even where it says that it was called off.
            !capture.isEmpty -> hand(capture, isNow)
            result != Activity.RESULT_OK -> {
                capture.file.delete()
                complain(activity.getString(R.string.camera_cancelled))
            }
            // Chosen, or from a camera that keeps its photos where it likes.
            else -> hand(capture, isNow, data?.data)
        }
        return true
    }

    /** Photos that were on their way when the process died: each goes where it was meant for. */
    fun handLeftovers() = captures.all().filter { it.file != awaited?.file }.forEach { capture ->
        calls.make({ book -> handLeftover(book, capture) }) { handed ->
            handed.onSuccess { page -> page?.let { taken(capture.purpose, it, false) } }
        }
    }

    private fun handLeftover(book: Book, capture: Captures.Capture): FindPage? {
        if (capture.isEmpty) return null.also { capture.file.delete() }
        // The notebook may have it: the process can die after that and before ours is let go of.
        val owner = book.findWithPhoto(capture.file.path)
        if (owner != null && (capture.purpose.find ?: owner) == owner) return book.findPage(owner).also { capture.file.delete() }
        // Where the phone is now says nothing of where it was then.
        return hand(book, capture, null)
    }

    private fun hand(capture: Captures.Capture, isNow: Boolean, from: Uri? = null) {
        val here = if (isNow) position.best?.fix else null
        val resolver = activity.applicationContext.contentResolver
        val call = { book: Book ->
            from?.let { copy(resolver, it, capture) }
            hand(book, capture, here)
        }
        calls.make(call) { handed ->
            handed.onSuccess { taken(capture.purpose, it, isNow) }.onFailure { error ->
                if (capture.isEmpty) capture.file.delete()
                complain(sentence(error))
            }
        }
    }

    private fun sentence(error: Throwable): String = when (error) {
        is FileNotFoundException, is SecurityException -> activity.getString(R.string.error_photo_not_allowed)
        is IOException -> activity.getString(R.string.camera_no_room)
        else -> activity.resources.sentence(error)
    }

    /** Half a photo is none: what is chosen stands here whole, or not at all. The one that was chosen stays where it is. */
    private fun copy(resolver: ContentResolver, from: Uri, capture: Captures.Capture) {
        val source = resolver.openInputStream(from) ?: return
        val part = captures.part(capture)
        try {
            source.use { read -> FileOutputStream(part).use { read.copyTo(it) } }
            part.renameTo(capture.file)
        } finally {
            part.delete()
        }
    }

    /** The notebook has the photo when this returns, and only then is ours let go of. A find that is gone makes room for a new one. */
    private fun hand(book: Book, capture: Captures.Capture, here: Fix?): FindPage {
        val (find, role) = capture.purpose
        val page = find?.let { addTo(book, it, capture) } ?: book.beginFind(capture.file.path, role, here)
        capture.file.delete()
        return page
    }

    private fun addTo(book: Book, find: String, capture: Captures.Capture): FindPage? = try {
        book.addPhoto(find, capture.file.path, capture.purpose.role)
    } catch (error: TrugException.Said) {
        if (error.code == GONE) null else throw error
    }

    private companion object {
        const val PHOTOGRAPH = 1
        const val CHOOSE = 2
        const val AWAITED = "awaited"
        const val GONE = "not-found"
    }
}
