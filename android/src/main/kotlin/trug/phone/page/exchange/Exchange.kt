package trug.phone.page.exchange

import android.net.Uri
import android.os.Bundle
import android.view.View
import trug.core.Book
import trug.core.ExchangeReport
import trug.core.JobReport
import trug.core.PeersPage
import trug.core.TrugException
import trug.phone.R
import trug.phone.app.House
import trug.phone.app.LongJob
import trug.phone.app.Page
import trug.phone.draw.Doing
import trug.phone.draw.Ink
import trug.phone.draw.Leaves
import trug.phone.draw.part
import trug.phone.draw.put
import trug.phone.files.Folder
import trug.phone.words.sentence

/**
 * The owner's other devices: paired by their keys, and exchanged with over a folder that some other program keeps alike on all of them.
 * Trug itself sends nothing anywhere.
 */
internal class Exchange(override val house: House, saved: Bundle?) : Page, Circle {
    private val context = ink.context
    override val title = R.string.exchange_title
    private val leaves = Leaves(ink)
    override val view: View = leaves.view
    private val chosen = Chosen(context)

    private var leaf = Leaf.entries.find { it.name == saved?.getString(LEAF) } ?: Leaf.ALL
    private var device: String? = saved?.getString(DEVICE)
    private var typed = saved?.getString(KEY).orEmpty() to saved?.getString(NAME).orEmpty()
    private var report: ExchangeReport? = saved?.getBundle(REPORT)?.let(::exchangeReport)
    private var scrolledTo = saved?.getInt(SCROLLED) ?: 0
    private var read: PeersPage? = null
    private var folder: String? = null
    private var pairing: Pairing? = null
    private var isAsking = saved?.getBoolean(ASKING) ?: false
    private var isWaiting = false
    private val doing = Doing(ink)
    private val job: LongJob? get() = house.jobs[JOB]

    init {
        // It goes on, and what came of it waits, while other pages are looked at.
        if (job != null) leaf = Leaf.BUSY
        draw()
        leaves.scrolled = scrolledTo
    }

    override fun shown() {
        read()
        goOn()
    }

    override fun left() {
        job?.watch(null)
    }

    override fun back(): Boolean {
        if (leaf == Leaf.ALL || leaf == Leaf.BUSY) return false
        turn(Leaf.ALL)
        return true
    }

    override fun save(into: Bundle) {
        into.putString(LEAF, leaf.name)
        into.putString(DEVICE, device)
        val typed = pairing?.typed ?: typed
        into.putString(KEY, typed.first)
        into.putString(NAME, typed.second)
        into.putBundle(REPORT, report?.remembered())
        into.putBoolean(ASKING, isAsking)
        into.putInt(SCROLLED, leaves.scrolled)
    }

    override fun answered(name: String, picked: Uri) {
        try {
            chosen.choose(picked)
        } catch (_: SecurityException) {
            return house.complain(words(R.string.exchange_folder_refused))
        }
        read()
    }

    override fun turn(to: Leaf, about: String?) {
        house.complain(null)
        leaf = to
        device = about
        typed = "" to ""
        isAsking = false
        draw()
        leaves.scrolled = 0
    }

    private fun read() {
        house.calls.make({ it.peers() }) { answered ->
            val isFirst = read == null
            answered.onSuccess { page ->
                read = page
                drawAgain()
                if (isFirst) leaves.scrolled = scrolledTo
            }.onFailure { error ->
                if (read != null) return@onFailure complain(error)
                leaves.show(ink.words(context.resources.sentence(error)), ink.thumb(words(R.string.app_try_again), ::read))
            }
        }
        house.aside.make({ chosen.name() }) { named ->
            folder = named.getOrNull()
            drawAgain()
        }
    }

    // ---- The exchange

    private fun exchange() {
        val tree = chosen.folder ?: return pickFolder()
        if (!chosen.isAllowed) return turn(Leaf.ALL)
        val resolver = context.applicationContext.contentResolver
        house.complain(null)
        report = null
        leaf = Leaf.BUSY
        house.jobs.begin(JOB) { it.startExchangeBy(Folder(resolver, tree), tree.toString()) }
        draw()
        goOn()
    }

    /** What the leaf says is under way is begun again where this process knows nothing of it. */
    private fun goOn() {
        if (leaf != Leaf.BUSY) return
        val job = job ?: return exchange()
        job.watch(::told)
        told()
    }

    private fun told() {
        val job = job ?: return
        doing.show(job.far)
        val ended = job.ended ?: return
        house.jobs.forget(JOB)
        ended.onSuccess { done ->
            report = (done as? JobReport.Exchanged)?.report
            turn(Leaf.DONE)
            read()
        }.onFailure { error ->
            // The system put Trug aside in the middle: it goes on.
            if ((error as? TrugException.Said)?.code == PAUSED) return exchange()
            turn(Leaf.ALL)
            complain(error)
        }
    }

    private fun stop() {
        job?.stop()
    }

    private fun pickFolder() = house.ask(Chosen.toPick(), FOLDER)

    // ---- Pairing

    private fun pair(key: String, name: String) = once({ it.pair(key, name) }) { peer ->
        read = read?.let { page -> page.copy(peers = page.peers.filter { it.id != peer.id } + peer) }
        turn(Leaf.DEVICE, peer.id)
        read()
    }

    private fun unpair(id: String) = once({ it.unpair(id) }) {
        turn(Leaf.ALL)
        read()
    }

    private fun <T> once(call: (Book) -> T, then: (T) -> Unit) {
        if (isWaiting) return
        isWaiting = true
        house.calls.make(call) { answered ->
            isWaiting = false
            answered.onSuccess(then).onFailure(::complain)
        }
    }

    // ---- Drawn

    /** What was read changes what is shown; but nothing that somebody is typing into. */
    private fun drawAgain() {
        if (leaf == Leaf.PAIR || leaf == Leaf.BUSY) return
        val scrolled = leaves.scrolled
        draw()
        leaves.scrolled = scrolled
    }

    private fun draw() {
        pairing = null
        when (leaf) {
            Leaf.ALL -> read?.let { leaves.show(all(it), next(it)) } ?: leaves.show(ink.words(words(R.string.app_busy), colour = ink.quiet), null)
            Leaf.PAIR -> Pairing(this, ::pair).let {
                it.typed = typed
                pairing = it
                leaves.show(it.view, it.thumb)
            }
            Leaf.DEVICE -> drawDevice()
            Leaf.BUSY -> leaves.show(busy(), ink.thumb(words(R.string.exchange_stop), ::stop))
            Leaf.DONE -> report?.let { leaves.show(reportLeaf(this, it), ink.thumb(words(R.string.app_done)) { turn(Leaf.ALL) }) } ?: turn(Leaf.ALL)
        }
    }

    private fun all(page: PeersPage): View = ink.column(ink.words(words(R.string.exchange_about_devices))).apply {
        put(ink, devices(this@Exchange, page))
        part(ink, words(R.string.exchange_folder))
        put(ink, ink.words(words(R.string.exchange_folder_about), colour = ink.quiet))
        if (chosen.folder == null) {
            put(ink, ink.words(words(R.string.exchange_folder_none)))
        } else {
            put(ink, ink.words(folder?.let { words(R.string.exchange_folder_is, it) } ?: words(R.string.exchange_folder_unnamed), bold = true))
            if (!chosen.isAllowed) put(ink, ink.words(words(R.string.exchange_folder_lost)))
            put(ink, ink.button(words(R.string.exchange_folder_other), touched = ::pickFolder))
        }
        put(ink, ownKey(this@Exchange, page.own))
    }

    /** The next thing to do. */
    private fun next(page: PeersPage): View = when {
        page.peers.isEmpty() -> ink.thumb(words(R.string.exchange_pair)) { turn(Leaf.PAIR) }
        chosen.folder == null || !chosen.isAllowed -> ink.thumb(words(R.string.exchange_folder_choose), ::pickFolder)
        else -> ink.thumb(words(R.string.exchange_now), ::exchange)
    }

    private fun busy(): View = ink.column(ink.head(words(R.string.exchange_busy))).apply {
        put(ink, doing.begin())
        put(ink, ink.words(words(R.string.exchange_busy_about), colour = ink.quiet), Ink.MARGIN)
    }

    private fun drawDevice() {
        val page = read ?: return leaves.show(ink.words(words(R.string.app_busy), colour = ink.quiet), null)
        val peer = page.peers.find { it.id == device } ?: return turn(Leaf.ALL)
        val below = if (isAsking) {
            ink.column(ink.words(words(R.string.exchange_unpair_about))).apply {
                put(
                    ink,
                    ink.beside(
                        ink.button(words(R.string.exchange_unpair_keep)) { turn(Leaf.DEVICE, peer.id) },
                        ink.button(words(R.string.exchange_unpair_yes), filled = true) { unpair(peer.id) },
                    ),
                )
            }
        } else {
            ink.button(words(R.string.exchange_unpair)) {
                isAsking = true
                draw()
            }
        }
        leaves.show(deviceLeaf(this, peer), below)
    }

    private companion object {
        const val JOB = "exchange"
        const val FOLDER = "folder"
        const val LEAF = "leaf"
        const val DEVICE = "device"
        const val KEY = "key"
        const val NAME = "name"
        const val REPORT = "report"
        const val ASKING = "asking"
        const val SCROLLED = "scrolled"
        const val PAUSED = "paused"
    }
}
