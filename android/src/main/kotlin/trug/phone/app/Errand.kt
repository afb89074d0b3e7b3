package trug.phone.app

import android.os.Handler
import android.os.Looper
import java.util.concurrent.Executors
import java.util.concurrent.TimeUnit
import trug.core.Job
import trug.core.JobReport

/**
 * Long work of the process, one at a time: it goes on whatever page is in front, and what came of it waits until somebody has seen it.
 * It ends with the process; whoever begins it leaves behind what it needs to be begun again.
 */
internal class Errands : AutoCloseable {
    /** What there is to say of it. */
    sealed interface State {
        /** Nothing is going on. */
        data object None : State

        /** It goes on: how many steps it has made, and what it is doing, in the core's words. */
        data class Going(override val name: String, val steps: Long, val doing: String) : Named

        /** It is over, and nobody has seen it to its end. */
        data class Over(override val name: String, val result: Result<Any>) : Named
    }

    /** A state of something. */
    sealed interface Named : State {
        val name: String
    }

    private val worker = Executors.newSingleThreadExecutor { Thread(it, "errand") }
    private val main = Handler(Looper.getMainLooper())

    @Volatile
    private var isStopped = false
    private var isClosed = false

    /** Belongs to the thread that draws. */
    var state: State = State.None
        private set(to) {
            field = to
            watcher?.invoke()
        }

    /** Told of every change, on the thread that draws: the page in front. */
    var watcher: (() -> Unit)? = null

    val isGoing: Boolean get() = state is State.Going

    /** Begins, unless something is going on; [work] is done off the thread that draws. */
    fun begin(name: String, work: (Way) -> Any) {
        if (isGoing) return
        isStopped = false
        state = State.Going(name, 0, "")
        worker.execute {
            val result = runCatching { work(Way(name)) }
            main.post { if (!isClosed) state = State.Over(name, result) }
        }
    }

    /** Asks it to stop; it ends soon after. */
    fun stop() {
        isStopped = true
    }

    /** What came of it was seen. */
    fun seen() {
        if (state is State.Over) state = State.None
    }

    /** What work tells on its way, and how it hears that it is to stop. */
    inner class Way internal constructor(private val name: String) {
        val isStopped: Boolean get() = this@Errands.isStopped

        /** The core's own long work, waited for. */
        fun wait(job: Job): JobReport = job.use {
            generateSequence { step(job) ?: Unit }.filterIsInstance<JobReport>().first()
        }

        /** What came of it, if it is over; else a moment goes by. */
        private fun step(job: Job): JobReport? {
            if (isStopped) job.cancel()
            job.result()?.let { return it }
            val far = job.progress()
            main.post { if (isGoing) state = State.Going(name, far.steps.toLong(), far.doing) }
            Thread.sleep(EVERY_MS)
            return null
        }
    }

    override fun close() {
        stop()
        isClosed = true
        watcher = null
        worker.shutdown()
        worker.awaitTermination(PATIENCE, TimeUnit.SECONDS)
    }

    private companion object {
        const val EVERY_MS = 100L
        const val PATIENCE = 10L
    }
}
