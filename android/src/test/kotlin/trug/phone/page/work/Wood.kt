package trug.phone.page.work

import android.app.Activity
import android.graphics.Bitmap
import android.graphics.Canvas
import android.os.Bundle
import android.os.Handler
import android.os.Looper
import android.view.View
import android.view.ViewGroup
import android.widget.EditText
import android.widget.TextView
import java.io.File
import java.nio.file.Files
import java.util.concurrent.Executors
import java.util.concurrent.atomic.AtomicInteger
import org.junit.Assert.assertTrue
import org.robolectric.Robolectric
import org.robolectric.Shadows.shadowOf
import trug.core.Book
import trug.core.FindPage
import trug.core.KeyPage
import trug.core.Zone

/** A notebook of its own, the page before the real core, and the eyes and thumb of whoever holds the phone. */
internal class Wood(theme: Int = android.R.style.Theme_DeviceDefault_Light_NoActionBar, find: String? = null) : AutoCloseable {
    private val folder = Files.createTempDirectory("wood").toFile()
    val book = Book.open(folder.path, Zone("Europe/London", 0))
    val find: String = find ?: book.beginFind(null, "whole", null).id
    var kept: FindPage? = null
    val activity: Activity = Robolectric.buildActivity(Activity::class.java).also { it.get().setTheme(theme) }.setup().visible().get()
    private val worker = Executors.newSingleThreadExecutor()
    private val pending = AtomicInteger()
    private val main = Handler(Looper.getMainLooper())
    lateinit var work: Work

    private val calls = object : Calls {
        override fun <T> make(call: (Book) -> T, then: (Result<T>) -> Unit) {
            pending.incrementAndGet()
            worker.execute {
                val answered = runCatching { call(book) }
                main.post {
                    then(answered)
                    pending.decrementAndGet()
                }
            }
        }
    }

    fun open(saved: Bundle? = null, suspect: String? = null) {
        work = Work(activity, calls, find, suspect, saved) { kept = it }
        activity.setContentView(work.view)
        settle()
    }

    /** As after the process has died: nothing is left but what was saved. */
    fun die() {
        val saved = Bundle()
        work.save(saved)
        val parcel = android.os.Parcel.obtain()
        parcel.writeBundle(saved)
        parcel.setDataPosition(0)
        open(parcel.readBundle(javaClass.classLoader))
        parcel.recycle()
    }

    fun settle() {
        do shadowOf(Looper.getMainLooper()).idle() while (pending.get() > 0)
        shadowOf(Looper.getMainLooper()).idle()
        val density = activity.resources.displayMetrics.density
        val (width, height) = listOf(WIDTH, HEIGHT).map { View.MeasureSpec.makeMeasureSpec((it * density).toInt(), View.MeasureSpec.EXACTLY) }
        work.view.measure(width, height)
        work.view.layout(0, 0, work.view.measuredWidth, work.view.measuredHeight)
    }

    fun views(): List<View> = all(work.view)

    fun texts(): List<String> = views().filterIsInstance<TextView>().filter { it.isShown && it.text.isNotEmpty() }.map { it.text.toString() }

    fun reads(part: String) = texts().any { it.contains(part) }

    fun tap(words: String) {
        val found = views().filter { it.isShown && it.isClickable && it !is EditText && (named(it) == words || it.contentDescription == words) }
        assertTrue("“$words” is not to be tapped among ${texts()}", found.isNotEmpty())
        found.first().performClick()
        settle()
    }

    fun tapAnswers() = tap(texts().first { it.endsWith("so far") })

    /** Answers whatever is asked from what is seen, and "can't tell" to the rest, until the key comes to an end. */
    fun answerFrom(seen: Map<String, String>, most: Int = 30, afterEach: () -> Unit = {}) {
        repeat(most) {
            if (asking().leaf == Leaf.END) return
            val question = asked().question ?: return
            val isNew = asking().asked.evidence.none { it.character == question.character }
            val state = question.states.find { isNew && it.id == seen[question.character] }
            tap(state?.label ?: if (question.effort == "spore print") "Not yet" else "Can’t tell")
            afterEach()
        }
    }

    /** What the page remembers. */
    fun asking(): Asking = Bundle().also(work::save).let { checkNotNull(Kept.get(it)) }

    /** What the key says to that. */
    fun asked(): KeyPage = book.keyStep(asking().asked)

    fun type(words: String, field: Int = 0) {
        views().filterIsInstance<EditText>()[field].setText(words)
        settle()
    }

    /** Everything that can be touched, is large enough and has a name. */
    fun assertTouchable() {
        val least = (LEAST * activity.resources.displayMetrics.density).toInt()
        for (view in views().filter { it.isShown && it.isClickable }) {
            val name = view.contentDescription ?: (view as? TextView)?.let { it.text.ifEmpty { it.hint } }
            assertTrue("something to touch has no name", !name.isNullOrEmpty())
            assertTrue("“$name” is ${view.width} × ${view.height}", view.width >= least && view.height >= least)
        }
    }

    /** Draws the page into `name.png` of the folder that the system property `screens` names, if it names one. */
    fun draw(name: String) {
        val folder = System.getProperty("screens") ?: return
        val drawn = Bitmap.createBitmap(work.view.width, work.view.height, Bitmap.Config.ARGB_8888)
        Canvas(drawn).apply { drawColor(work.ink.paper) }.let(work.view::draw)
        File(folder).mkdirs()
        File(folder, "$name.png").outputStream().use { drawn.compress(Bitmap.CompressFormat.PNG, 100, it) }
    }

    override fun close() {
        worker.shutdown()
        book.close()
        folder.deleteRecursively()
    }

    private fun named(view: View): String? = (view as? TextView)?.text?.toString() ?: (view as? ViewGroup)?.let { group ->
        all(group).filterIsInstance<TextView>().firstOrNull()?.text?.toString()
    }

    private fun all(view: View): List<View> =
        listOf(view) + if (view is ViewGroup) (0 until view.childCount).flatMap { all(view.getChildAt(it)) } else emptyList()

    companion object {
        const val WIDTH = 360
        const val HEIGHT = 740
        private const val LEAST = 48
    }
}
