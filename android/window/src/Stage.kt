package trug.window

import android.app.Activity
import android.content.Intent
import android.os.Bundle
import android.os.Looper
import android.os.Parcel
import java.time.Duration
import org.robolectric.Robolectric
import org.robolectric.RuntimeEnvironment
import org.robolectric.Shadows.shadowOf
import org.robolectric.android.controller.ActivityController
import org.robolectric.shadows.ShadowActivity.IntentForResult

/** The app's Activities one on the other, each led through the life that a device would lead it through. */
internal class Stage(private val first: String?) {
    private class Place(var control: ActivityController<out Activity>, val code: Int) {
        val activity: Activity get() = control.get()

        /** Which Activity has a window: another than [activity] once it was made anew. */
        var seen: Activity? = null
        val isUnseen: Boolean get() = seen !== activity
    }

    private val places = ArrayDeque<Place>()

    /** Whether another app is in front. */
    private var isCovered = false
    val top: Activity? get() = places.lastOrNull()?.activity

    fun open() {
        val app = RuntimeEnvironment.getApplication()
        val intent = Intent(Intent.ACTION_MAIN).addCategory(Intent.CATEGORY_LAUNCHER)
        val named = first ?: app.packageManager.queryIntentActivities(intent, 0).firstOrNull()?.activityInfo?.name
        launch(intent.setClassName(app, checkNotNull(named) { "the app has no first page" }), NO_ANSWER_WANTED)
    }

    /** What the app has started since it was last asked, and is not its own. Its own are put on the stage. */
    fun started(): IntentForResult? {
        while (true) {
            val top = top ?: return null
            val wanted = shadowOf(top).nextStartedActivityForResult ?: return null
            val own = wanted.intent.resolveActivityInfo(top.packageManager, 0)?.packageName == top.packageName
            if (!own) return wanted
            launch(wanted.intent, wanted.requestCode)
        }
    }

    private fun launch(intent: Intent, code: Int) {
        val below = places.lastOrNull()
        below?.control?.windowFocusChanged(false)?.pause()
        val name = checkNotNull(intent.component) { "which Activity is meant?" }.className
        val control = Robolectric.buildActivity(Class.forName(name).asSubclass(Activity::class.java), intent)
        val place = Place(control, code)
        places += place
        control.create()
        if (!control.get().isFinishing) {
            control.start().postCreate(null).resume()
            show(place)
        }
        below?.let(::hide)
    }

    /** Takes down what has finished, with its result to what stood below; opens the app again when nothing is left. */
    fun clear() {
        while (places.lastOrNull()?.activity?.isFinishing == true) {
            val gone = places.removeLast()
            val result = shadowOf(gone.activity)
            unfocus(gone)
            gone.control.pause()
            places.lastOrNull()?.let { below ->
                bringBack(below) {
                    if (gone.code < 0) return@bringBack
                    shadowOf(below.activity).callOnActivityResult(gone.code, result.resultCode, result.resultIntent)
                }
            }
            gone.control.stop().destroy()
        }
        if (places.isEmpty()) open()
        // An Activity may have itself made anew.
        places.last().takeIf { it.isUnseen && !isCovered }?.let(::show)
    }

    /** Another app asks ours to open something. */
    fun hand(intent: Intent) {
        places.lastOrNull()?.control?.newIntent(intent)
    }

    /** Another app comes to the front: over the whole screen, or as a window that leaves ours in sight. */
    fun cover(whole: Boolean) {
        val top = places.lastOrNull() ?: return
        isCovered = true
        unfocus(top)
        top.control.pause()
        if (whole) hide(top)
    }

    /** The other app goes; [answer] reaches ours before it is resumed, as on a device. */
    fun uncover(whole: Boolean, answer: (Activity) -> Unit) {
        val top = places.lastOrNull() ?: return
        isCovered = false
        if (whole) {
            bringBack(top) { answer(top.activity) }
        } else {
            answer(top.activity)
            top.control.resume().windowFocusChanged(true)
        }
    }

    private fun hide(place: Place) {
        place.control.stop().saveInstanceState(Bundle())
    }

    private fun bringBack(place: Place, answer: () -> Unit) {
        if (!place.isUnseen) place.control.restart().start()
        answer()
        place.control.resume()
        if (place.isUnseen) show(place) else place.control.windowFocusChanged(true)
    }

    /** The configuration becomes another, as when the phone is turned: Activities that do not see to it are made anew. */
    fun turn(change: () -> Unit) {
        change()
        val resources = RuntimeEnvironment.getApplication().resources
        for (place in places) place.control.configurationChange(resources.configuration, resources.displayMetrics)
        clear()
    }

    /**
     * The system takes the process away while another app is in front, and starts it again for whoever comes back: nothing of
     * the Activity is left but what it saved, through the bytes of a parcel, and the Application begins anew. What is static stays.
     */
    fun die(covered: Boolean) {
        val top = places.lastOrNull() ?: return
        if (!covered) cover(whole = true)
        val saved = Bundle().also(top.control::saveInstanceState)
        top.control.destroy()
        val parcel = Parcel.obtain()
        parcel.writeBundle(saved)
        parcel.setDataPosition(0)
        val kept = parcel.readBundle(top.activity.javaClass.classLoader)
        parcel.recycle()
        RuntimeEnvironment.getApplication().run {
            onTerminate()
            onCreate()
        }
        val control = Robolectric.buildActivity(top.activity.javaClass, top.activity.intent)
        top.control = control
        control.create(kept).start().restoreInstanceState(checkNotNull(kept)).postCreate(kept)
        if (!covered) uncover(whole = true) {}
    }

    fun close() {
        while (places.isNotEmpty()) places.removeLast().also(::unfocus).control.pause().stop().destroy()
    }

    /** The window is there once the first frame is drawn, and takes the focus only then. */
    private fun show(place: Place) {
        place.seen = place.activity
        place.control.visible()
        shadowOf(Looper.getMainLooper()).idleFor(FIRST_FRAME)
        place.control.windowFocusChanged(true).topActivityResumed(true)
    }

    private fun unfocus(place: Place) {
        if (!place.isUnseen) place.control.windowFocusChanged(false)
    }

    private companion object {
        const val NO_ANSWER_WANTED = -1
        val FIRST_FRAME: Duration = Duration.ofMillis(40)
    }
}
