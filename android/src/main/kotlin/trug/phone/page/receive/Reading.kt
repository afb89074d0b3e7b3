package trug.phone.page.receive

import trug.core.BundleRead
import trug.core.JobReport
import trug.phone.app.Jobs
import trug.phone.app.LongJob

/** What is asked of the core about one file. The passphrase stands nowhere but here, and goes with the process. */
internal class Asked(val file: String, val passphrase: String?, val isTaking: Boolean, val looked: BundleRead?)

/** The reading of one file, as it stands: it goes on while pages come and go. */
internal class Reading(private val jobs: Jobs, private val file: String) {
    private val job: LongJob? get() = jobs[NAME]?.takeIf { asked(it)?.file == file }
    private val asked: Asked? get() = job?.let(::asked)

    val passphrase: String? get() = asked?.passphrase
    val far get() = job?.far

    /** What it would bring, once that is known. */
    val looked: BundleRead? get() = asked?.looked ?: ended?.getOrNull()?.takeIf { asked?.isTaking == false }

    /** What came of looking or taking; none while it goes on, or was not asked for in this process. */
    val ended: Result<BundleRead>? get() = job?.ended?.let { ended ->
        ended.mapCatching { report -> (report as? JobReport.Read)?.bundle ?: error("another report") }
    }

    fun isAsked(taking: Boolean) = asked?.isTaking == taking

    fun look(passphrase: String?) = ask(Asked(file, passphrase, isTaking = false, looked = null))

    fun take() = ask(Asked(file, passphrase, isTaking = true, looked = looked))

    private fun ask(asked: Asked) {
        jobs.begin(NAME, asked) { if (asked.isTaking) it.startTake(file, asked.passphrase) else it.startLook(file, asked.passphrase) }
    }

    fun watch(told: (() -> Unit)?) = job?.watch(told)

    fun stop() = job?.stop()

    fun forget() {
        if (job != null) jobs.forget(NAME)
    }

    private fun asked(job: LongJob) = job.about as? Asked

    private companion object {
        const val NAME = "receive"
    }
}
