package trug.phone.app

import android.os.Handler
import android.os.Looper
import java.util.concurrent.Executors
import java.util.concurrent.TimeUnit
import java.util.concurrent.atomic.AtomicInteger

/** Slow work that is not the core's, such as documents that come and go: one after the other, answered on the thread that draws. */
internal class Aside : AutoCloseable {
    private val worker = Executors.newSingleThreadExecutor { Thread(it, "aside") }
    private val main = Handler(Looper.getMainLooper())
    private val waiting = AtomicInteger()

    /** Whether something has not been answered yet. */
    val isBusy: Boolean get() = waiting.get() > 0

    fun <T> make(work: () -> T, then: (Result<T>) -> Unit) {
        waiting.incrementAndGet()
        worker.execute {
            val answered = runCatching(work)
            main.post {
                waiting.decrementAndGet()
                then(answered)
            }
        }
    }

    override fun close() {
        worker.shutdown()
        worker.awaitTermination(PATIENCE, TimeUnit.SECONDS)
    }

    private companion object {
        const val PATIENCE = 10L
    }
}
