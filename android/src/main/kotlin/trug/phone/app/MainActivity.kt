package trug.phone.app

import android.app.Activity
import android.content.ActivityNotFoundException
import android.content.ContentResolver
import android.content.Context
import android.content.Intent
import android.content.res.Configuration
import android.net.Uri
import android.os.Build
import android.os.Bundle
import android.view.MotionEvent
import android.window.OnBackInvokedCallback
import android.window.OnBackInvokedDispatcher
import trug.core.FindPage
import trug.phone.R
import trug.phone.camera.Camera
import trug.phone.camera.Purpose
import trug.phone.draw.Ink
import trug.phone.draw.hideKeyboard
import trug.phone.position.Position

/** The one window of the app: holds the page in front, and is the house around it. */
internal class MainActivity : Activity(), House {
    override val calls: Calls get() = core
    override val jobs: Jobs get() = core.jobs
    override val aside: Aside get() = (application as App).aside
    override val errands: Errands get() = (application as App).errands
    override lateinit var ink: Ink
        private set
    override lateinit var position: Position
        private set
    private lateinit var core: Core
    private lateinit var camera: Camera
    private lateinit var frame: Frame
    private lateinit var stack: Stack
    var page: Page? = null
        private set
    private var inFront = false

    /** The name under which a picker was asked that has not answered yet. */
    private var asked: String? = null
    private var goesBack: OnBackInvokedCallback? = null

    override fun attachBaseContext(base: Context) {
        super.attachBaseContext(base)
        Fit(base).scale()?.let { applyOverrideConfiguration(Configuration().apply { fontScale = it }) }
    }

    override fun onCreate(saved: Bundle?) {
        setTheme(Look.of(this).theme)
        super.onCreate(saved)
        core = (application as App).core
        ink = Ink(this, Fit(this).leftHanded)
        position = Position(this)
        camera = Camera(this, core, position, saved, ::taken, ::complain)
        frame = Frame(ink, ::back) { go(Stop(Place.ILL)) }
        if (Build.VERSION.SDK_INT >= Build.VERSION_CODES.R) window.setDecorFitsSystemWindows(false)
        setContentView(frame.view)
        stack = Stack.of(saved)
        asked = saved?.getString(ASKED)
        if (saved == null) handed(intent)?.let(stack::push)
        open()
        // In the task of an app that let Trug open a file, photos of Trug's own task may still be on their way.
        if (isTaskRoot) camera.handLeftovers()
    }

    /** Another app let Trug open a file while it was open. */
    override fun onNewIntent(intent: Intent) {
        super.onNewIntent(intent)
        val to = handed(intent) ?: return
        if (stack.top.place == to.place) turnInto(to) else go(to)
    }

    /** What another app handed over to be opened. */
    private fun handed(intent: Intent): Stop? {
        @Suppress("DEPRECATION") // The typed form needs API 33.
        val file = when (intent.action) {
            Intent.ACTION_VIEW -> intent.data
            Intent.ACTION_SEND -> intent.getParcelableExtra(Intent.EXTRA_STREAM)
            else -> null
        }
        // Nothing but documents: a path could name a file of Trug's own.
        return file?.takeIf { it.scheme == ContentResolver.SCHEME_CONTENT }?.let { Stop(Place.RECEIVE, about = it.toString()) }
    }

    override fun onStart() {
        super.onStart()
        inFront = true
        camera.awake()
        page?.shown()
    }

    override fun dispatchTouchEvent(event: MotionEvent): Boolean {
        if (event.actionMasked == MotionEvent.ACTION_DOWN) core.isTouched = true
        val taken = super.dispatchTouchEvent(event)
        if (event.actionMasked == MotionEvent.ACTION_UP || event.actionMasked == MotionEvent.ACTION_CANCEL) core.isTouched = false
        return taken
    }

    override fun onStop() {
        core.isTouched = false
        inFront = false
        page?.left()
        position.stop()
        core.rest()
        super.onStop()
    }

    override fun onSaveInstanceState(into: Bundle) {
        super.onSaveInstanceState(into)
        remember()
        stack.save(into)
        into.putString(ASKED, asked)
        camera.save(into)
    }

    // ---- Pages

    override fun go(to: Stop) = change {
        remember()
        stack.push(to)
    }

    override fun turnInto(other: Stop) = change { stack.replace(other) }

    override fun leave(from: Page) {
        if (from === page) change { stack.pop() }
    }

    override fun startAgain() = change { stack.clear() }

    private fun back() {
        complain(null)
        if (page?.back() == true) return
        if (stack.depth > 1) change { stack.pop() } else finish()
    }

    private fun change(step: () -> Unit) {
        frame.view.hideKeyboard()
        complain(null)
        page?.left()
        step()
        open()
    }

    private fun open() {
        val opened = stack.top.run { place.make(this@MainActivity, this, stack.remembered) }
        page = opened
        frame.show(opened, stack.depth > 1)
        takeBack()
        if (inFront) opened.shown()
    }

    private fun remember() = stack.remember(Bundle().also { page?.save(it) })

    // ---- Back: by the system's new way where there is one, so that it can show where a swipe leads. On the first page the
    // system has Back for itself.

    private fun takeBack() {
        if (Build.VERSION.SDK_INT < Build.VERSION_CODES.TIRAMISU) return
        val wanted = stack.depth > 1 || page?.hasStep == true
        val known = goesBack
        if (wanted && known == null) {
            val callback = OnBackInvokedCallback(::back)
            onBackInvokedDispatcher.registerOnBackInvokedCallback(OnBackInvokedDispatcher.PRIORITY_DEFAULT, callback)
            goesBack = callback
        } else if (!wanted && known != null) {
            onBackInvokedDispatcher.unregisterOnBackInvokedCallback(known)
            goesBack = null
        }
    }

    /** Whether Back comes to Trug; else the system goes to where the phone was before. */
    val takesBack: Boolean get() = Build.VERSION.SDK_INT < Build.VERSION_CODES.TIRAMISU || goesBack != null

    override fun stepped() = takeBack()

    @Deprecated("What is called before Android 13")
    override fun onBackPressed() = back()

    // ---- Camera, position, look

    override fun photograph(purpose: Purpose, choose: Boolean) {
        complain(null)
        if (choose) camera.choose(purpose) else camera.photograph(purpose)
    }

    override fun onActivityResult(request: Int, result: Int, data: Intent?) {
        when {
            request == PICKED -> picked(data?.data.takeIf { result == RESULT_OK })
            !camera.answered(request, result, data) -> super.onActivityResult(request, result, data)
        }
    }

    override fun ask(picker: Intent, name: String) {
        complain(null)
        asked = name
        try {
            @Suppress("DEPRECATION") // The newer way belongs to a library.
            startActivityForResult(picker, PICKED)
        } catch (_: ActivityNotFoundException) {
            asked = null
            complain(getString(R.string.app_no_picker))
        }
    }

    private fun picked(uri: Uri?) {
        val name = asked ?: return
        asked = null
        if (uri != null) page?.answered(name, uri)
    }

    /** A photo is with its find. Its page opens where the photo was asked for; whoever has gone elsewhere meanwhile is left alone. */
    private fun taken(purpose: Purpose, find: FindPage, isNow: Boolean) {
        if (isDestroyed) return
        val from = if (purpose.find == null) Place.NOW else Place.FIND
        val isNew = stack.top.place == from && stack.top.find == purpose.find && purpose.find != find.id
        if (isNew) go(Stop(Place.FIND, find.id, standing = isNow)) else if (inFront) page?.shown()
    }

    override fun askPosition() {
        position.wasAsked = true
        requestPermissions(Position.PERMISSIONS, POSITION)
    }

    override fun onRequestPermissionsResult(request: Int, permissions: Array<String>, results: IntArray) {
        if (request != POSITION) return
        page?.shown()
        // Refused for good, the system asks no more, and a touch that does nothing says nothing.
        val isFinal = results.isNotEmpty() && !position.isAllowed && permissions.none(::shouldShowRequestPermissionRationale)
        if (isFinal) complain(getString(R.string.app_position_refused))
    }

    override var look: Look
        get() = Look.of(this)
        set(chosen) {
            Look.choose(this, chosen)
            recreate()
        }

    override fun fit(set: Fit.() -> Unit) {
        Fit(this).set()
        recreate()
    }

    override fun complain(words: String?) = frame.complain(words)

    private companion object {
        const val POSITION = 1
        const val PICKED = 31
        const val ASKED = "asked"
    }
}
