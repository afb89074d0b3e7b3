package trug.phone.app

import android.app.Activity
import android.content.Context
import android.content.Intent
import android.graphics.Bitmap
import android.graphics.Canvas
import android.location.Location
import android.location.LocationManager
import android.net.Uri
import android.os.Bundle
import android.os.Looper
import android.os.Parcel
import android.os.SystemClock
import android.provider.MediaStore
import android.view.View
import android.view.ViewGroup
import android.widget.EditText
import android.widget.TextView
import java.io.File
import java.util.TimeZone
import java.util.concurrent.TimeUnit
import org.junit.Assert.assertTrue
import org.robolectric.Robolectric
import org.robolectric.RuntimeEnvironment
import org.robolectric.Shadows.shadowOf
import org.robolectric.android.controller.ActivityController
import org.robolectric.shadows.ShadowActivity
import trug.core.Book
import trug.core.UniffiLib
import trug.core.uniffiCallbackInterfaceSharedFolder
import trug.phone.draw.Pictures

/**
 * The app in somebody's hand, over the real core: its eyes, its thumb, its camera, its place, and its bad days. [at] is the moment at which
 * its clock stands still, in milliseconds, if it does.
 */
internal open class Phone(look: Look = Look.LIGHT, settled: Boolean = true, at: Long? = null) : AutoCloseable {
    val app = RuntimeEnvironment.getApplication() as App
    private var controller: ActivityController<MainActivity>
    val activity: MainActivity get() = controller.get()

    /** How often something was touched. */
    var touches = 0
        private set

    init {
        // Each version of Android has its own copy of the generated code here, and the one library calls back into the last that registered.
        uniffiCallbackInterfaceSharedFolder.register(UniffiLib)
        Look.choose(app, look)
        if (at != null) standStill(at)
        controller = Robolectric.buildActivity(MainActivity::class.java).setup().visible()
        if (settled) settle()
    }

    private fun standStill(at: Long) {
        TimeZone.setDefault(TimeZone.getTimeZone("Europe/London"))
        app.core.close()
        app.opens = { folder, zone -> Book.openAt(folder, zone, at) }
        app.begin()
    }

    /** Waits until the core has answered everything, and what it answered is drawn; typed letters are kept meanwhile. */
    fun settle(milliseconds: Long = TYPED_MS) {
        val looper = shadowOf(Looper.getMainLooper())
        looper.idleFor(milliseconds, TimeUnit.MILLISECONDS)
        while (app.core.isBusy || app.aside.isBusy || Pictures.isBusy) {
            Thread.sleep(1)
            looper.idle()
        }
        looper.idle()
    }

    /** Waits until long work is over, and what came of it is drawn. */
    fun finish() {
        val looper = shadowOf(Looper.getMainLooper())
        while (app.errands.isGoing) {
            Thread.sleep(1)
            looper.idle()
        }
        settle()
    }

    /** Asks the core something itself. */
    fun <T> core(call: (Book) -> T): T {
        var answered: Result<T>? = null
        app.core.make(call) { answered = it }
        settle()
        return checkNotNull(answered).getOrThrow()
    }

    // ---- Eyes

    fun views(): List<View> = all(activity.window.decorView)

    /** What the page in front says; its frame not counted. */
    fun texts(): List<String> = activity.page?.let { texts(it.view) }.orEmpty()

    /** The same with its frame, and what is complained of. */
    fun said(): List<String> = texts(activity.window.decorView)

    fun reads(part: String) = texts(activity.window.decorView).any { it.contains(part) }

    private fun texts(root: View) =
        all(root).filterIsInstance<TextView>().filter { it.isShown && it.text.isNotEmpty() }.map { it.text.toString() }

    fun assertReads(part: String) = assertTrue("“$part” is not among ${texts(activity.window.decorView)}", reads(part))

    /** Everything that can be touched is large enough and has a name. */
    fun assertTouchable() {
        val least = (LEAST * activity.resources.displayMetrics.density).toInt()
        for (view in all(checkNotNull(activity.page).view).filter { it.isShown && it.isClickable }) {
            val name = view.contentDescription ?: (view as? TextView)?.let { it.text.ifEmpty { it.hint } }
            assertTrue("something to touch has no name", !name.isNullOrEmpty())
            assertTrue("“$name” is ${view.width} × ${view.height}", view.width >= least && view.height >= least)
        }
    }

    /** Draws the screen into `name.png` of the folder that the system property `screens` names, if it names one. */
    fun draw(name: String) {
        val folder = System.getProperty("screens") ?: return
        settle()
        val root = activity.window.decorView
        val drawn = Bitmap.createBitmap(root.width, root.height, Bitmap.Config.ARGB_8888)
        root.draw(Canvas(drawn))
        File(folder).mkdirs()
        File(folder, "$name.png").outputStream().use { drawn.compress(Bitmap.CompressFormat.PNG, 100, it) }
    }

    // ---- Thumb

    fun canTap(words: String) = touchable(words) != null

    fun tap(words: String) {
        val found = touchable(words)
        assertTrue("“$words” is not to be tapped among ${texts(activity.window.decorView)}", found != null)
        touches++
        found?.performClick()
        settle()
    }

    /** Touches something, and does not wait for what comes of it. */
    fun tapAtOnce(words: String) {
        val found = checkNotNull(touchable(words)) { "“$words” is not to be tapped among ${texts(activity.window.decorView)}" }
        touches++
        found.performClick()
    }

    /** Touches the first thing whose description holds this. */
    fun tapWhat(part: String) {
        val described = views().firstOrNull { it.isShown && it.isClickable && it.contentDescription?.contains(part) == true }
        assertTrue("nothing with “$part” is to be tapped among ${texts(activity.window.decorView)}", described != null)
        tap(described?.contentDescription.toString())
    }

    private fun touchable(words: String) =
        views().firstOrNull { it.isShown && it.isClickable && it !is EditText && (named(it) == words || it.contentDescription == words) }

    /** Types into the field with this label, or the one with this number. */
    fun type(words: String, field: Int = 0) = type(words, views().filterIsInstance<EditText>().filter { it.isShown }[field])

    fun type(words: String, label: String) = type(words, field(label))

    private fun type(words: String, field: EditText) {
        touches++
        field.requestFocus()
        field.setText(words)
        settle()
    }

    /** Touches the same thing twice before anything is answered, as gloves do. */
    fun tapTwice(words: String) {
        val found = checkNotNull(touchable(words)) { "“$words” is not to be tapped among ${texts(activity.window.decorView)}" }
        touches += 2
        repeat(2) { found.performClick() }
        settle()
    }

    /** The field with this label. */
    fun field(label: String): EditText =
        views().filterIsInstance<EditText>().first { it.isShown && (it.contentDescription == label || it.hint == label) }

    fun back() {
        backAtOnce()
        settle()
    }

    /** Back, before what was touched last is answered. From Android 13 on it is the system's, where Trug does not ask for it. */
    fun backAtOnce() {
        @Suppress("DEPRECATION")
        if (activity.takesBack) activity.onBackPressed() else activity.finish()
    }

    // ---- Camera and place

    /** What the page has asked the system for; none if nothing. */
    fun asked(): ShadowActivity.IntentForResult? = shadowOf(activity).peekNextStartedActivityForResult()

    /** The camera writes this photo, if any, and comes back. */
    fun shoot(photo: ByteArray?, result: Int = Activity.RESULT_OK, data: Intent? = null) {
        val intent = checkNotNull(shadowOf(activity).nextStartedActivityForResult).intent
        photo?.let { bytes -> activity.contentResolver.openOutputStream(target(intent))?.use { it.write(bytes) } }
        shadowOf(activity).receiveResult(intent, result, data)
        settle()
    }

    /** What was asked for comes back, to whichever Activity is there now. */
    fun result(request: Int, result: Int = Activity.RESULT_OK, data: Intent? = null) {
        shadowOf(activity).callOnActivityResult(request, result, data)
        settle()
    }

    /** In the system's picker this document is chosen. */
    fun pick(document: Uri) {
        val intent = checkNotNull(shadowOf(activity).nextStartedActivityForResult).intent
        shadowOf(activity).receiveResult(intent, Activity.RESULT_OK, Intent().setData(document))
        settle()
    }

    /** Another app starts Trug with this while it is open. */
    fun newIntent(intent: Intent) = newIntentAtOnce(intent).also { settle() }

    /** The same, before anything comes of it. */
    fun newIntentAtOnce(intent: Intent) {
        controller.newIntent(intent)
    }

    @Suppress("DEPRECATION")
    private fun target(intent: Intent): Uri = checkNotNull(intent.getParcelableExtra(MediaStore.EXTRA_OUTPUT))

    /** The phone learns where it is; so many seconds ago. */
    fun stand(latitude: Double, longitude: Double, accuracyM: Float?, secondsAgo: Long = 0) {
        val manager = shadowOf(app.getSystemService(LocationManager::class.java))
        manager.simulateLocation(
            Location(LocationManager.GPS_PROVIDER).apply {
                this.latitude = latitude
                this.longitude = longitude
                accuracyM?.let { accuracy = it }
                time = System.currentTimeMillis()
                elapsedRealtimeNanos = SystemClock.elapsedRealtimeNanos() - TimeUnit.SECONDS.toNanos(secondsAgo)
            },
        )
        settle()
    }

    /** So much time goes by. */
    fun pass(seconds: Long) {
        shadowOf(Looper.getMainLooper()).idleFor(seconds, TimeUnit.SECONDS)
        settle()
    }

    // ---- Bad days

    /** The Activity is made again, as when the phone is turned. */
    fun turn(milliseconds: Long = TYPED_MS) {
        controller.recreate()
        settle(milliseconds)
    }

    /** The process dies while the app is behind another, and is begun again: nothing is left but what was saved. */
    fun die(meanwhile: () -> Unit = {}) {
        val saved = parcelled(leave())
        kill()
        meanwhile()
        app.begin()
        begin(saved)
    }

    /** What the system would keep of the app if the process died now, as it writes it down. */
    fun remembered(): String {
        val saved = Bundle().also { controller.saveInstanceState(it) }
        val parcel = Parcel.obtain()
        parcel.writeBundle(saved)
        return String(parcel.marshall(), Charsets.UTF_16LE).also { parcel.recycle() } + saved
    }

    /** The battery is pulled: not even that is left. */
    fun pullBattery() {
        leave()
        kill()
        app.begin()
        begin(null)
    }

    /** The app's data are wiped, as from the phone's settings, or as on a new phone. */
    fun wipe() {
        leave()
        kill()
        app.filesDir.listFiles().orEmpty().forEach { it.deleteRecursively() }
        for (name in PREFERENCES) app.getSharedPreferences(name, Context.MODE_PRIVATE).edit().clear().commit()
        app.begin()
        begin(null)
    }

    private fun leave() = Bundle().also { controller.pause().stop().saveInstanceState(it) }

    private fun kill() {
        settle()
        controller.destroy()
        app.errands.close()
        app.core.close()
    }

    private fun begin(saved: Bundle?) {
        controller = Robolectric.buildActivity(MainActivity::class.java).create(saved).start()
        saved?.let(controller::restoreInstanceState)
        controller.resume().visible()
        settle()
    }

    private fun parcelled(bundle: Bundle): Bundle {
        val parcel = Parcel.obtain()
        parcel.writeBundle(bundle)
        parcel.setDataPosition(0)
        return checkNotNull(parcel.readBundle(javaClass.classLoader)).also { parcel.recycle() }
    }

    override fun close() {
        app.errands.stop()
        controller.pause().stop().destroy()
    }

    private fun named(view: View): String? = (view as? TextView)?.text?.toString() ?: (view as? ViewGroup)?.let { group ->
        all(group).filterIsInstance<TextView>().firstOrNull()?.text?.toString()
    }

    private fun all(view: View): List<View> =
        listOf(view) + if (view is ViewGroup) (0 until view.childCount).flatMap { all(view.getChildAt(it)) } else emptyList()

    private companion object {
        const val LEAST = 48
        const val TYPED_MS = 700L
        val PREFERENCES = listOf("look", "fit", "backups")
    }
}
