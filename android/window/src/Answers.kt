package trug.window

import android.app.Activity
import android.content.Intent
import android.content.pm.PackageManager.PERMISSION_DENIED
import android.content.pm.PackageManager.PERMISSION_GRANTED
import android.net.Uri
import android.provider.MediaStore
import java.io.File
import org.robolectric.RuntimeEnvironment
import org.robolectric.Shadows.shadowOf
import org.robolectric.shadows.ShadowActivity.IntentForResult
import trug.phone.files.Drive

/** What the app can want of others. */
internal enum class Want(val words: String, val whole: Boolean = true) {
    PHOTO("a photograph"),
    OPEN("a document to read"),
    CREATE("a document to write"),
    FOLDER("a folder to keep"),
    PERMISSION("leave", whole = false),
    OTHER("another app"),
}

internal class Request(val intent: Intent, val code: Int) {
    val want = when (intent.action) {
        MediaStore.ACTION_IMAGE_CAPTURE -> Want.PHOTO
        Intent.ACTION_OPEN_DOCUMENT, Intent.ACTION_GET_CONTENT -> Want.OPEN
        Intent.ACTION_CREATE_DOCUMENT -> Want.CREATE
        Intent.ACTION_OPEN_DOCUMENT_TREE -> Want.FOLDER
        Others.ASK_LEAVE -> Want.PERMISSION
        else -> Want.OTHER
    }

    /** What exactly, in a few words. */
    val detail: String
        get() = when (want) {
            Want.PERMISSION -> permissions.joinToString { it.substringAfterLast('.') }
            Want.CREATE -> intent.getStringExtra(Intent.EXTRA_TITLE).orEmpty()
            Want.OTHER -> listOfNotNull(intent.action?.substringAfterLast('.'), intent.dataString).joinToString(" ")
            else -> ""
        }

    val words get() = "${want.words} $detail".trim()

    val permissions: List<String> get() = intent.getStringArrayExtra(Others.LEAVE_NAMES).orEmpty().toList()
}

/** Stands for the camera, the documents and all other apps, and holds what was asked of them until it is answered. */
internal class Answers(private val stage: Stage, private val photos: File, private val documents: File) {
    var request: Request? = null
        private set

    /** To be called whenever the app may have started something or come to an end. */
    fun serve() {
        stage.clear()
        if (request != null) return
        request = stage.started()?.let { started: IntentForResult -> Request(started.intent, started.requestCode) }
            ?.also { stage.cover(it.want.whole) }
    }

    fun photoNames(): List<String> = photos.names("jpg", "jpeg")

    /** What can be chosen: any file, and the camera's pictures where a picture is wanted. */
    fun documentNames(): List<String> = if (request?.intent?.type?.startsWith("image/") == true) photoNames() else documents.names()

    /** The camera takes the photograph of that name. */
    fun photo(name: String) {
        val asked = asked(Want.PHOTO)
        val into = asked.intent.getParcelableExtra(MediaStore.EXTRA_OUTPUT, Uri::class.java)
            ?: throw StepFailed("the app gave the camera nothing to write into")
        val file = photos.resolve(name).takeIf { it.isFile }
            ?: throw StepFailed("no photograph is called $name: ${photoNames()}")
        val out = RuntimeEnvironment.getApplication().contentResolver.openOutputStream(into)
        checkNotNull(out).use { it.write(takenNow(file)) }
        give(asked, Activity.RESULT_OK, null)
    }

    /** The camera comes back without one, and [saysSo], or claims that it has one. */
    fun noPhoto(saysSo: Boolean) =
        give(asked(Want.PHOTO), if (saysSo) Activity.RESULT_CANCELED else Activity.RESULT_OK, null)

    /** The document of that name is chosen, or made. */
    fun document(name: String?) {
        val asked = request?.takeIf { it.want == Want.CREATE } ?: asked(Want.OPEN)
        if (name == null) return give(asked, Activity.RESULT_CANCELED, null)
        val file = (if (name in photoNames()) photos else documents).resolve(name)
        if (asked.want == Want.CREATE) file.createNewFile()
        if (!file.isFile) throw StepFailed("no document is called $name: ${documentNames()}")
        give(asked, Activity.RESULT_OK, Intent().setData(Documents.uri(file)))
    }

    /** The one folder there is to keep is chosen, or none. */
    fun folder(isGiven: Boolean) {
        val asked = asked(Want.FOLDER)
        if (isGiven) give(asked, Activity.RESULT_OK, Intent().setData(Drive.tree)) else give(asked, Activity.RESULT_CANCELED, null)
    }

    /** Another app hands a document over, to be opened. */
    fun open(name: String) {
        val file = documents.resolve(name).takeIf { it.isFile } ?: throw StepFailed("no document is called $name: ${documentNames()}")
        stage.hand(Intent(Intent.ACTION_VIEW).setData(Documents.uri(file)))
    }

    /** Whoever holds the phone lets the app have what it asks for: all, only the rough position, or nothing. */
    fun leave(granted: (String) -> Boolean) {
        val asked = asked(Want.PERMISSION)
        val app = RuntimeEnvironment.getApplication()
        val (given, refused) = asked.permissions.partition(granted)
        shadowOf(app).grantPermissions(*given.toTypedArray())
        shadowOf(app).denyPermissions(*refused.toTypedArray())
        refused.forEach { shadowOf(app.packageManager).setShouldShowRequestPermissionRationale(it, true) }
        val results = asked.permissions.map { if (it in given) PERMISSION_GRANTED else PERMISSION_DENIED }
        val answer = Intent().putExtra(Others.LEAVE_NAMES, asked.permissions.toTypedArray())
            .putExtra(Others.LEAVE_RESULTS, results.toIntArray())
        request = null
        stage.uncover(asked.want.whole) {
            shadowOf(it).internalCallDispatchActivityResult(Others.LEAVE_WHO, asked.code, Activity.RESULT_OK, answer)
        }
    }

    /** Whoever was asked has done it, or has not. */
    fun other(done: Boolean) = give(asked(Want.OTHER), if (done) Activity.RESULT_OK else Activity.RESULT_CANCELED, null)

    private fun give(asked: Request, result: Int, data: Intent?) {
        request = null
        stage.uncover(asked.want.whole) { if (asked.code >= 0) shadowOf(it).callOnActivityResult(asked.code, result, data) }
    }

    private fun asked(want: Want): Request {
        val request = request ?: throw StepFailed("the app asks for nothing")
        if (request.want != want) throw StepFailed("the app asks for ${request.words}")
        return request
    }

    private fun File.names(vararg endings: String) = listFiles().orEmpty()
        .filter { it.isFile && (endings.isEmpty() || it.extension.lowercase() in endings) }.map { it.name }.sorted()
}
