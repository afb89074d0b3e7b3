package trug.phone.page.settings

import android.net.Uri
import android.os.Bundle
import android.text.format.Formatter
import android.view.View
import android.widget.LinearLayout
import trug.core.Book
import trug.core.Job
import trug.core.JobReport
import trug.core.Said
import trug.core.SettingsPage
import trug.phone.R
import trug.phone.app.Errands
import trug.phone.app.House
import trug.phone.draw.Ink
import trug.phone.draw.part
import trug.phone.draw.put
import trug.phone.files.Documents
import trug.phone.words.day

/** The notebook as a whole: its backup, made and then carried out; its check; its lists built afresh. */
internal class BackupLeaf(house: House, saved: Bundle?) : Leaf(house, R.string.backup_title, saved) {
    private val backups = Backups(context)
    private var read: SettingsPage? = null

    init {
        draw()
    }

    override fun shown() {
        house.errands.watcher = ::changed
        changed()
    }

    override fun left() {
        house.errands.watcher = null
    }

    override fun back(): Boolean {
        house.errands.seen()
        return false
    }

    /** What the notebook holds may be another after long work. */
    private fun changed() {
        draw()
        if (!house.errands.isGoing) {
            house.calls.make({ it.settings() }) { answered ->
                read = answered.getOrNull()
                draw()
            }
        }
    }

    private fun draw() {
        val state = house.errands.state
        if (state is Errands.State.Going) return show(going(house, state, heads[state.name]), stopping(house))
        val body = ink.column()
        if (state is Errands.State.Over) over(body, state)
        val made = backups.made.takeIf { it.exists() }
        if (made != null) {
            body.put(ink, ink.words(words(R.string.backup_made, Formatter.formatShortFileSize(context, made.length())), bold = true))
        }
        read?.holds?.let { holds ->
            body.put(ink, ink.head(context.resources.holds(holds)), if (body.childCount == 0) 0 else Ink.MARGIN)
            holds.last?.let { body.put(ink, ink.words(words(R.string.backup_last_written, context.day(it.day)), colour = ink.quiet), 0) }
        }
        body.put(ink, ink.words(backups.last?.let { words(R.string.backup_last, context.day(it)) } ?: words(R.string.backup_last_never)))
        body.put(ink, ink.words(words(R.string.backup_secret)))
        if (made == null) {
            work(body, R.string.backup_check, R.string.backup_check_help, CHECK) { it.startCheck() }
            work(body, R.string.backup_rebuild, R.string.backup_rebuild_help, REBUILD) { it.startRebuild() }
        }
        show(body, if (made == null) ink.thumb(words(R.string.backup_make), ::make) else carrying())
    }

    private fun work(body: LinearLayout, head: Int, help: Int, name: String, start: (Book) -> Job) {
        body.put(ink, ink.rule(), Ink.MARGIN)
        body.put(ink, ink.button(words(head)) { begin(name, start) })
        body.put(ink, ink.words(words(help), colour = ink.quiet))
    }

    private fun begin(name: String, start: (Book) -> Job) = once(start) { job ->
        if (house.errands.isGoing) job.close() else house.errands.begin(name) { it.wait(job) }
    }

    private fun make() {
        // What a process that died had begun is in the way.
        val made = backups.made
        begin(MAKE) { book ->
            made.parentFile?.mkdirs()
            made.delete()
            book.startBackup(made.path)
        }
    }

    private fun carrying(): View = ink.column(
        ink.thumb(words(R.string.backup_where)) { house.ask(Documents.toWrite(backups.name, Backups.TYPE), CARRY) },
    ).apply {
        put(
            ink,
            ink.button(words(R.string.backup_drop)) {
                backups.made.delete()
                house.errands.seen()
                draw()
            },
        )
    }

    override fun answered(name: String, picked: Uri) {
        if (name != CARRY) return
        val backups = backups
        house.errands.begin(CARRY) { way -> backups.carryOut(picked) { way.isStopped } }
    }

    private fun over(body: LinearLayout, over: Errands.State.Over) {
        val report = over.result.getOrElse { error ->
            if (over.name !in heads) return
            // Whoever has stopped it knows.
            if (isStopped(error)) return
            body.put(ink, ink.part(words(R.string.backup_failed)), 0)
            return body.put(ink, ink.words(context.resources.documentSentence(error)))
        }
        when (report) {
            is JobReport.Checked -> checked(body, report)
            is JobReport.Rebuilt -> {
                body.put(ink, ink.part(words(R.string.backup_rebuilt)), 0)
                told(body, R.string.now_lost, report.report.lost)
                told(body, R.string.now_mended, report.report.mended)
            }
            Backups.Carried.WHOLE -> body.put(ink, ink.words(words(R.string.backup_safe), bold = true), 0)
            Backups.Carried.UNREAD -> body.put(ink, ink.words(words(R.string.backup_unproved), bold = true), 0)
        }
    }

    private fun checked(body: LinearLayout, report: JobReport.Checked) {
        val finds = counted(R.plurals.backup_finds, report.finds.toInt())
        val photos = counted(R.plurals.backup_photos, report.photos.toInt())
        body.put(ink, ink.part(words(if (report.ok) R.string.backup_checked else R.string.backup_checked_not, finds, photos)), 0)
        told(body, R.string.now_lost, report.problems)
        told(body, R.string.now_mended, report.mended)
        val unowned = report.unowned.toInt()
        if (unowned > 0) body.put(ink, ink.words(counted(R.plurals.backup_unowned, unowned)))
    }

    private fun told(body: LinearLayout, head: Int, said: List<Said>) {
        if (said.isEmpty()) return
        body.put(ink, ink.part(words(head)))
        said.forEach { body.put(ink, ink.words(it.words)) }
    }

    companion object {
        const val MAKE = "backup"
        const val CARRY = "carry"
        const val CHECK = "check"
        const val REBUILD = "rebuild"
        private val heads = mapOf(
            MAKE to R.string.backup_making,
            CARRY to R.string.backup_carrying,
            CHECK to R.string.backup_checking,
            REBUILD to R.string.backup_rebuilding,
        )
    }
}

/** Long work that goes on: what it is, and how far. A screen reader hears of it when the head changes, and not at every step. */
internal fun Leaf.going(house: House, going: Errands.State.Going, head: Int?): View = ink.column(
    ink.head(words(head ?: R.string.app_busy)),
    ink.words(
        if (going.doing.isEmpty()) words(R.string.app_busy) else words(R.string.backup_far, going.steps.coerceAtMost(Int.MAX_VALUE.toLong()).toInt(), going.doing),
        colour = ink.quiet,
    ).apply { fontFeatureSettings = "tnum" },
)

/** At the thumb while long work goes on. */
internal fun Leaf.stopping(house: House): View = ink.thumb(words(R.string.backup_stop)) { house.errands.stop() }
