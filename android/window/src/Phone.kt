package trug.window

import android.os.Looper
import android.os.SystemClock
import java.time.Duration
import java.util.concurrent.TimeUnit.MILLISECONDS
import java.util.concurrent.TimeUnit.NANOSECONDS
import org.robolectric.RuntimeEnvironment
import org.robolectric.Shadows.shadowOf
import org.robolectric.android.controller.ActivityController
import org.robolectric.shadows.ShadowChoreographer
import org.robolectric.shadows.ShadowView
import org.robolectric.util.ReflectionHelpers
import trug.phone.files.Drive

/** A phone with the app on it, and the time that passes for both. Lives on the framework's main thread. */
internal class Phone(options: Options) {
    private val looper = shadowOf(Looper.getMainLooper())
    private var real = System.nanoTime()

    init {
        ShadowView.setUseRealViewAnimations(true)
        ShadowChoreographer.setPaused(true)
        ShadowChoreographer.setFrameDelay(Duration.ofMillis(FRAME / 2))
        RuntimeEnvironment.setQualifiers(options.phone)
        RuntimeEnvironment.setFontScale(options.font)
        SystemClock.setCurrentTimeMillis(System.currentTimeMillis())
        bars()
        Others.install()
        Documents.install()
        Drive.install(options.documents.resolve(FOLDER))
    }

    val stage = Stage(options.activity)
    private val keyboard = Keyboard()
    val screen = Screen(stage::top, keyboard)
    val hands = Hands(screen, keyboard, ::pass)
    val answers = Answers(stage, options.photos, options.documents)
    val position = Position()

    init {
        val app = RuntimeEnvironment.getApplication()
        options.notebook?.copyRecursively(app.filesDir.resolve(NOTEBOOK), overwrite = true)
        stage.open()
    }

    /** Lets as much time pass in the app as has really passed since the last call. */
    fun pass() {
        val now = System.nanoTime()
        val milliseconds = NANOSECONDS.toMillis(now - real)
        if (milliseconds == 0L) return
        real = now
        pass(milliseconds.coerceAtMost(LONGEST))
    }

    /** Lets so many milliseconds pass in the app, a frame at a time, however long that really takes. */
    fun pass(milliseconds: Long) {
        for (begun in 0 until milliseconds step FRAME) {
            run(minOf(FRAME, milliseconds - begun))
            answers.serve()
            position.tick()
            keyboard.serve(screen.panes().map { it.view })
            screen.draw()
        }
    }

    /**
     * An Activity that the app has made anew is given the focus before its first frame, which fails while frames are ours to
     * give: the stage gives it the focus afterwards.
     */
    private fun run(milliseconds: Long) = try {
        looper.idleFor(Duration.ofMillis(milliseconds))
    } catch (early: NullPointerException) {
        val isAnew = early.stackTrace.any { it.className == ActivityController::class.java.name && it.methodName == "recreate" }
        if (!isAnew) throw early else Unit
    }

    /** Lets time pass until the screen has been still for a moment; whether it came to that. */
    fun settle(): Boolean {
        var sum = screen.sum()
        val begun = System.nanoTime()
        var still = begun
        while (System.nanoTime() - still < MILLISECONDS.toNanos(STILL)) {
            if (System.nanoTime() - begun > MILLISECONDS.toNanos(PATIENCE)) return false
            Thread.sleep(FRAME / 2)
            pass()
            val next = screen.sum()
            if (next != sum) still = System.nanoTime()
            sum = next
        }
        return true
    }

    /** Lets time pass until [come] is so, [most] milliseconds of it; whether it became so. */
    fun await(most: Long = PATIENCE, come: () -> Boolean): Boolean {
        val until = System.nanoTime() + MILLISECONDS.toNanos(most)
        while (!come()) {
            if (System.nanoTime() > until) return false
            Thread.sleep(FRAME / 2)
            pass()
        }
        return true
    }

    /** Lets so many milliseconds pass as they really do. */
    fun idle(milliseconds: Long) {
        await(milliseconds) { false }
    }

    fun die() = stage.die(covered = answers.request?.want?.whole == true)

    fun turn() = stage.turn {
        RuntimeEnvironment.setQualifiers(if (screen.size.let { it.x < it.y }) "+land" else "+port")
    }

    fun night(isNight: Boolean) = stage.turn { RuntimeEnvironment.setQualifiers(if (isNight) "+night" else "+notnight") }

    fun font(scale: Float) = stage.turn { RuntimeEnvironment.setFontScale(scale) }

    /** Bars above and below, so that the app has insets to respect. The class that has them is not public. */
    private fun bars() {
        val ui = Class.forName("org.robolectric.shadows.SystemUi")
        val ours = ReflectionHelpers.callStaticMethod<Any>(ui, "systemUiForDefaultDisplay")
        for ((set, kind, type) in BARS) {
            val bar = ui.getField(kind).apply { isAccessible = true }.get(null)
            val parameter = ReflectionHelpers.ClassParameter.from(Class.forName("${ui.name}\$$type"), bar)
            ReflectionHelpers.callInstanceMethod<Any>(ui, ours, set, parameter)
        }
    }

    companion object {
        /** Where the app keeps its notebook, among its files. */
        private const val NOTEBOOK = "notebook"

        /** The one folder that can be kept, among the desk's documents. */
        private const val FOLDER = "folder"

        /** Milliseconds. */
        const val FRAME = 32L
        private const val LONGEST = 5000L
        private const val STILL = 200L
        private const val PATIENCE = 5000L

        private val BARS = listOf(
            Triple("setStatusBarBehavior", "STANDARD_STATUS_BAR", "StatusBarBehavior"),
            Triple("setNavigationBarBehavior", "GESTURAL_NAVIGATION", "NavigationBarBehavior"),
        )
    }
}
