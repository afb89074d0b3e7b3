package trug.phone.page.settings

import android.net.Uri
import android.os.Bundle
import android.view.View
import android.widget.LinearLayout
import trug.core.HoldsShown
import trug.core.RestorePage
import trug.core.forgetRestored
import trug.core.restorePage
import trug.core.startRestore
import trug.core.useRestored
import trug.phone.R
import trug.phone.app.Errands
import trug.phone.app.House
import trug.phone.app.zone
import trug.phone.draw.Ink
import trug.phone.draw.part
import trug.phone.draw.put
import trug.phone.draw.row
import trug.phone.files.Documents
import trug.phone.words.day

/**
 * The way back from a backup: chosen, read and proved, and only then put in the notebook's place. None of it needs a notebook that
 * opens. A process that dies over it finds the chosen file, or the one that is ready, and goes on.
 */
internal class RestoreLeaf(house: House, saved: Bundle?) : Leaf(house, R.string.restore_title, saved) {
    private val chosen = Backups(context).chosen
    private var read: RestorePage? = null

    /** What the notebook on this phone holds; none where it will not open. */
    private var present: HoldsShown? = null

    init {
        draw()
    }

    override fun shown() {
        house.errands.watcher = ::changed
        changed()
        if (chosen.exists()) unpack(null)
    }

    override fun left() {
        house.errands.watcher = null
    }

    override fun back(): Boolean {
        house.errands.seen()
        return false
    }

    private fun changed() {
        draw()
        if (house.errands.isGoing) return
        val folder = house.calls.folder.path
        askAside({ restorePage(folder, zone()) }) {
            read = it
            draw()
        }
        house.calls.make({ it.settings().holds }) {
            present = it.getOrNull()
            draw()
        }
    }

    override fun answered(name: String, picked: Uri) {
        if (name == RESTORE) unpack(picked)
    }

    /** Brings a document in, unless it is here already, and has it unpacked and proved beside the notebook. */
    private fun unpack(picked: Uri?) {
        val documents = Documents(context.contentResolver)
        val (file, folder) = chosen to house.calls.folder.path
        house.errands.begin(UNPACK) { way ->
            if (picked != null) documents.bringIn(picked, file) { way.isStopped }
            val report = runCatching { way.wait(startRestore(file.path, folder, zone())) }
            // Unpacked or refused: it is not looked at again.
            file.delete()
            report.getOrThrow()
        }
    }

    private fun draw() {
        val state = house.errands.state
        if (state is Errands.State.Going) return show(going(house, state, R.string.restore_unpacking.takeIf { state.name == UNPACK }), stopping(house))
        val body = ink.column()
        if (state is Errands.State.Over && state.name == UNPACK) failed(body, state)
        val ready = read?.ready
        if (ready != null) ready(body, ready) else body.put(ink, ink.words(words(R.string.restore_help)))
        val aside = read?.setAside.orEmpty()
        if (aside.isNotEmpty()) body.part(ink, words(R.string.restore_aside))
        aside.forEach { one -> body.put(ink, row(ink, setAside(one), holds(one)) { turn("$ASIDE:${one.name}") }, 0) }
        show(body, if (ready != null) using() else ink.thumb(words(R.string.restore_choose)) { house.ask(Documents.toRead(), RESTORE) })
    }

    private fun failed(body: LinearLayout, over: Errands.State.Over) {
        val error = over.result.exceptionOrNull() ?: return
        if (isStopped(error)) return
        body.put(ink, ink.part(words(R.string.backup_failed)), 0)
        body.put(ink, ink.words(context.resources.documentSentence(error)))
    }

    private fun ready(body: LinearLayout, ready: HoldsShown) {
        body.put(ink, ink.head(words(R.string.restore_ready)))
        body.put(ink, ink.words(context.resources.holds(ready), bold = true))
        ready.last?.let { body.put(ink, ink.words(words(R.string.backup_last_written, context.day(it.day))), 0) }
        body.put(ink, ink.words(words(R.string.restore_instead)), Ink.MARGIN)
        present?.let { body.put(ink, ink.words(words(R.string.restore_instead_holds, context.resources.holds(it)), bold = true)) }
        body.put(ink, ink.words(words(R.string.restore_new_device), colour = ink.quiet))
    }

    private fun using(): View {
        val folder = house.calls.folder.path
        return ink.column(ink.thumb(words(R.string.restore_use)) { exchange { useRestored(folder) } }).apply {
            put(
                ink,
                ink.button(words(R.string.restore_drop)) {
                    house.errands.seen()
                    askAside({ forgetRestored(folder) }) { changed() }
                },
            )
        }
    }

    private companion object {
        const val UNPACK = "restore"
    }
}
