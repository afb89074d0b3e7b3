package trug.phone.app

import android.os.Handler
import android.os.Looper
import java.io.File
import java.util.TimeZone
import java.util.concurrent.Executors
import java.util.concurrent.TimeUnit
import java.util.concurrent.atomic.AtomicInteger
import trug.core.Book
import trug.core.Guard
import trug.core.Zone

/** Calls into the core: made off the main thread, one after the other, and answered on it. */
internal interface Calls {
    /** Where the notebook lies. */
    val folder: File

    fun <T> make(call: (Book) -> T, then: (Result<T>) -> Unit)

    /** Lets go of the notebook, has another put in its place, and goes on with that one; or with the same, where that fails. */
    fun exchange(swap: () -> Unit, then: (Result<Unit>) -> Unit)
}

/**
 * The one notebook of the process. The first call opens it, and with it loads the library, away from the thread that draws; where
 * opening fails, its error answers the call, and the next call tries again.
 */
internal class Core(override val folder: File, private val open: (String, Zone) -> Book) : Calls, AutoCloseable {
    private val worker = Executors.newSingleThreadExecutor { Thread(it, "core") }
    private val main = Handler(Looper.getMainLooper())
    private val waiting = AtomicInteger()

    // Belongs to the main thread.
    private val held = ArrayDeque<() -> Unit>()

    /** Whether a finger is down: answers then wait until it is gone, so that no button changes under it and loses its touch. */
    var isTouched = false
        set(to) {
            field = to
            // After the click that the lifted finger makes, which is posted too.
            if (!to) main.post(::answer)
        }

    /** Long work. */
    val jobs = Jobs(this)

    // Both belong to the worker.
    private var book: Book? = null
    private var rests = false

    init {
        Guard.forbidden = Looper.getMainLooper().thread
    }

    /** Whether a call has not been answered yet. */
    val isBusy: Boolean get() = waiting.get() > 0

    override fun <T> make(call: (Book) -> T, then: (Result<T>) -> Unit) = work({ call(awake()) }, then)

    override fun exchange(swap: () -> Unit, then: (Result<Unit>) -> Unit) {
        val end = jobs.endAll()
        work({
            end()
            book?.close()
            book = null
            rests = false
            swap()
        }, then)
    }

    private fun <T> work(work: () -> T, then: (Result<T>) -> Unit) {
        waiting.incrementAndGet()
        worker.execute {
            val answered = runCatching(work)
            main.post {
                held += {
                    waiting.decrementAndGet()
                    then(answered)
                }
                answer()
            }
        }
    }

    private fun answer() {
        while (!isTouched) held.removeFirstOrNull()?.invoke() ?: return
    }

    /**
     * The phone leaves the foreground: all is put in order, so that the system may end the process. The next call goes on. Long work
     * is let go on first, as far as the system lets it.
     */
    fun rest() = jobs.whenIdle {
        worker.execute {
            val awake = book ?: return@execute
            // What fails here loses nothing: it is done again on waking.
            runCatching { awake.pause() }
            rests = true
        }
    }

    private fun awake(): Book {
        val awake = book ?: open(folder.path, zone()).also { book = it }
        if (rests) {
            awake.resume(zone())
            rests = false
        }
        return awake
    }

    /** Lets go of the notebook, after the calls that were made; long work is stopped. */
    override fun close() {
        val end = jobs.endAll()
        worker.execute {
            end()
            book?.close()
        }
        worker.shutdown()
        worker.awaitTermination(PATIENCE, TimeUnit.SECONDS)
    }

    private companion object {
        const val PATIENCE = 10L
    }
}

/** The zone that the phone stands in. */
internal fun zone(): Zone {
    val zone = TimeZone.getDefault()
    return Zone(zone.id, TimeUnit.MILLISECONDS.toSeconds(zone.getOffset(System.currentTimeMillis()).toLong()).toInt())
}
