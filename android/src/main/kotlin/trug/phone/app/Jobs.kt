package trug.phone.app

import android.os.Handler
import android.os.Looper
import trug.core.Book
import trug.core.Job
import trug.core.JobReport
import trug.core.Progress

/**
 * Long work of the core's, by the name of whoever asked for it. It outlives the page that did, so that the phone may be turned and
 * other pages looked at meanwhile; it does not outlive the process.
 */
internal class Jobs(private val calls: Calls) {
    private val known = mutableMapOf<String, LongJob>()

    /** What is to be done once nothing is under way any more. */
    private var afterwards: (() -> Unit)? = null

    /** Whether anything is under way. */
    val isBusy: Boolean get() = known.values.any { it.ended == null }

    /** What was asked for under this name, under way or at its end, until it is forgotten. */
    operator fun get(name: String): LongJob? = known[name]

    /** Begins something; one of that name that is under way is stopped. [about] is whatever its page wants to know of it again: it is
     * never written down. */
    fun begin(name: String, about: Any? = null, start: (Book) -> Job): LongJob {
        forget(name)
        return LongJob(calls, about, start, ::over).also { known[name] = it }
    }

    /** Nobody wants to know of it any more. */
    fun forget(name: String) {
        known.remove(name)?.stop()
    }

    /** Does something as soon as nothing is under way. */
    fun whenIdle(then: () -> Unit) {
        if (isBusy) afterwards = then else then()
    }

    private fun over() {
        if (!isBusy) afterwards.also { afterwards = null }?.invoke()
    }

    /** The notebook is about to be let go of: nobody is told any more. What is returned ends all that is under way, where calls are made. */
    fun endAll(): () -> Unit {
        val last = known.values.toList().onEach(LongJob::close)
        known.clear()
        return { last.forEach(LongJob::endNow) }
    }
}

/** One piece of long work. */
internal class LongJob(private val calls: Calls, val about: Any?, start: (Book) -> Job, private val over: () -> Unit) {
    private val main = Handler(Looper.getMainLooper())

    @Volatile
    private var job: Job? = null
    private var watcher: (() -> Unit)? = null
    private var isStopped = false
    private var isClosed = false

    /** How far it is; none before it has begun. */
    var far: Progress? = null
        private set

    /** What came of it; none while it is under way. */
    var ended: Result<JobReport>? = null
        private set

    init {
        calls.make({ book -> start(book).also { job = it } }) { begun -> begun.onSuccess { if (isStopped) stop() else look() }.onFailure(::fail) }
    }

    /** Tells [watcher] of every step from now on, in place of whoever was told before. */
    fun watch(watcher: (() -> Unit)?) {
        this.watcher = watcher
    }

    /** Asks it to stop: it ends soon, and says so. */
    fun stop() {
        isStopped = true
        val job = job?.takeIf { ended == null && !isClosed } ?: return
        calls.make({ job.cancel() }) { look() }
    }

    private fun look() {
        val job = job
        if (ended != null || job == null || isClosed) return
        main.removeCallbacks(looking)
        calls.make({ job.progress() to runCatching { job.result() } }) { answered ->
            answered.onSuccess { (now, result) ->
                far = now
                result.onFailure(::fail).getOrNull()?.let { end(Result.success(it)) }
                if (ended == null && !isClosed) main.postDelayed(looking, EVERY_MS)
                watcher?.invoke()
            }.onFailure(::fail)
        }
    }

    private val looking = Runnable(::look)

    private fun fail(error: Throwable) = end(Result.failure(error))

    private fun end(result: Result<JobReport>) {
        if (ended != null) return
        ended = result
        val done = job
        if (done != null && !isClosed) calls.make({ done.close() }) {}
        watcher?.invoke()
        over()
    }

    /** Nobody is told of it any more. */
    fun close() {
        isClosed = true
        watcher = null
        main.removeCallbacks(looking)
    }

    /** Where calls are made: stops it, and waits until it has. */
    fun endNow() {
        val job = job ?: return
        runCatching {
            job.cancel()
            while (!job.progress().over) Thread.sleep(SOON_MS)
            job.close()
        }
    }

    private companion object {
        const val EVERY_MS = 250L
        const val SOON_MS = 5L
    }
}
