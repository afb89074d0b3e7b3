package trug.window

import java.io.File
import java.lang.management.ManagementFactory
import java.util.concurrent.ExecutionException
import java.util.concurrent.FutureTask
import java.util.concurrent.LinkedBlockingQueue
import java.util.concurrent.TimeUnit.MILLISECONDS

/** Plays a tour, or keeps the phone alive and does on its thread what the page and the window ask for. */
internal class Host(private val options: Options, private val tell: (String) -> Unit) {
    private val asked = LinkedBlockingQueue<FutureTask<*>>()
    private var over = false

    /** @return the exit status of the program */
    fun run(): Int {
        val phone = Phone(options)
        try {
            phone.settle()
            tell("ready after ${ManagementFactory.getRuntimeMXBean().uptime / THOUSAND} s, ${memory()} MB")
            return options.tour?.let { Tour(phone, it, options.into, tell).play() } ?: live(phone)
        } finally {
            phone.stage.close()
        }
    }

    private fun live(phone: Phone): Int {
        val steps = Steps(phone)
        val remote = Remote(phone, steps, ::ask) { over = true }
        Web(remote, options.port).use { web ->
            tell(web.address)
            if (options.swing) Glass(remote).show()
            var lively = 0L
            while (!over) {
                val act = asked.poll(if (System.nanoTime() < lively) Phone.FRAME / 2 else DOZE, MILLISECONDS)
                if (act != null) lively = System.nanoTime() + MILLISECONDS.toNanos(LIVELY)
                act?.run()
                // What the app throws is told, and the phone stays.
                runCatching { phone.pass() }.onFailure { it.printStackTrace() }
            }
        }
        return 0
    }

    /** Has [act] done on the phone's thread, and waits for it. */
    private fun <T> ask(act: () -> T): T = try {
        FutureTask(act).also(asked::put).get()
    } catch (failed: ExecutionException) {
        throw failed.cause ?: failed
    }

    /** Resident memory in MB; none where the system does not tell. */
    private fun memory(): Int? = File("/proc/self/status").takeIf { it.exists() }?.useLines { lines ->
        lines.firstOrNull { it.startsWith("VmRSS") }?.filter(Char::isDigit)?.toInt()?.div(KILO)
    }

    private companion object {
        const val THOUSAND = 1000.0
        const val KILO = 1024

        /** Milliseconds between two looks at the time when nobody touches anything, and how long a touch keeps it awake. */
        const val DOZE = 200L
        const val LIVELY = 3000L
    }
}
