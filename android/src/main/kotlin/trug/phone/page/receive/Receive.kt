package trug.phone.page.receive

import android.net.Uri
import android.os.Bundle
import android.view.View
import java.io.File
import java.util.UUID
import trug.core.BundleRead
import trug.core.CopyShown
import trug.core.TrugException
import trug.phone.R
import trug.phone.app.House
import trug.phone.app.Page
import trug.phone.app.Place
import trug.phone.app.Stop
import trug.phone.draw.Doing
import trug.phone.draw.Field
import trug.phone.draw.Ink
import trug.phone.draw.Leaves
import trug.phone.draw.put
import trug.phone.draw.showKeyboard
import trug.phone.files.Documents
import trug.phone.files.notFetched
import trug.phone.words.sentence

/**
 * A file that somebody sent: copied to the phone's own room, looked into, told what it is, and taken whole or not at all. Which leaf is
 * open says what was asked for: where nothing in this process does it, it is begun again.
 */
internal class Receive(override val house: House, private var source: String?, saved: Bundle?) : Page, Desk {
    private val context = ink.context
    override val title = R.string.receive_title
    private val leaves = Leaves(ink)
    override val view: View = leaves.view
    private val documents = Documents(context.contentResolver)
    private val room = File(context.filesDir, ROOM)

    private var leaf = Leaf.entries.find { it.name == saved?.getString(LEAF) } ?: if (source == null) Leaf.START else Leaf.FETCH
    private var file: File = File(room, saved?.getString(FILE) ?: UUID.randomUUID().toString())
    private var copy: String? = saved?.getString(COPY)
    private var taken: BundleRead? = saved?.getBundle(TAKEN)?.let(::bundleRead)
    private var refusal: String? = saved?.getString(REFUSAL)
    private var isNotOurs = saved?.getBoolean(NOT_OURS) ?: false
    private var copies: List<CopyShown>? = null
    private var isDeleting = saved?.getBoolean(DELETING) ?: false
    private var isFetching = false
    private var scrolledTo = saved?.getInt(SCROLLED) ?: 0
    private val reading get() = Reading(house.jobs, file.path)
    private val doing = Doing(ink)

    init {
        saved?.getString(SOURCE)?.let { source = it }
        draw()
        leaves.scrolled = scrolledTo
    }

    override fun shown() {
        goOn()
        if (leaf == Leaf.START || leaf == Leaf.COPY) read()
    }

    override fun left() {
        reading.watch(null)
    }

    /** Whoever goes back from a file does not want it; what is being taken then is not. */
    override fun back(): Boolean = when (leaf) {
        Leaf.COPY -> true.also { turn(Leaf.START) }
        Leaf.START -> false
        else -> false.also { drop() }
    }

    override fun save(into: Bundle) {
        into.putString(LEAF, leaf.name)
        into.putString(SOURCE, source)
        into.putString(FILE, file.name)
        into.putString(COPY, copy)
        into.putBundle(TAKEN, taken?.remembered())
        into.putString(REFUSAL, refusal)
        into.putBoolean(NOT_OURS, isNotOurs)
        into.putBoolean(DELETING, isDeleting)
        into.putInt(SCROLLED, leaves.scrolled)
    }

    override fun answered(name: String, picked: Uri) {
        drop()
        file = File(room, UUID.randomUUID().toString())
        source = picked.toString()
        taken = null
        turn(Leaf.FETCH)
    }

    override fun turn(to: Leaf, about: String?) {
        house.complain(null)
        leaf = to
        copy = about
        isDeleting = false
        draw()
        leaves.scrolled = 0
        goOn()
        if (to == Leaf.START) read()
    }

    // ---- What is asked for

    private fun pick() = house.ask(Documents.toRead(), PICK)

    /** Begins what the leaf says, where nothing does it yet. */
    private fun goOn() {
        when (leaf) {
            Leaf.FETCH -> if (!isFetching) fetch()
            Leaf.LOOK, Leaf.FOUND -> if (!reading.isAsked(taking = false) && reading.looked == null) look(null)
            Leaf.TAKE -> if (!reading.isAsked(taking = true)) take()
            else -> return
        }
        reading.watch(::told)
        told()
    }

    private fun fetch() {
        val from = Uri.parse(source ?: return turn(Leaf.START))
        val into = file
        isFetching = true
        house.aside.make({
            clearUp()
            if (!into.exists()) documents.bringIn(from, into)
        }) { fetched ->
            isFetching = false
            if (into != file || leaf != Leaf.FETCH) return@make
            fetched.onSuccess { turn(Leaf.LOOK) }.onFailure { refuse(resources.notFetched(it)) }
        }
    }

    /** What nobody came back for. */
    private fun clearUp() {
        val old = System.currentTimeMillis() - KEPT_MS
        room.listFiles().orEmpty().filter { it != file && it.lastModified() < old }.forEach { it.delete() }
    }

    private fun look(passphrase: String?) {
        // The process may have died before it was fetched whole, or the phone was cleared up.
        if (!file.exists()) return turn(Leaf.FETCH)
        leaf = Leaf.LOOK
        reading.look(passphrase)
        draw()
        reading.watch(::told)
    }

    private fun take() {
        // Without the passphrase that was given in another process there is nothing to take yet.
        if (reading.looked == null) return look(reading.passphrase)
        leaf = Leaf.TAKE
        reading.take()
        draw()
        reading.watch(::told)
    }

    /** The core has told how far it is, or what came of it. */
    private fun told() {
        doing.show(reading.far)
        val ended = reading.ended ?: return
        when (leaf) {
            Leaf.LOOK -> ended.onSuccess { turn(Leaf.FOUND) }.onFailure(::failed)
            Leaf.TAKE -> ended.onSuccess(::took).onFailure(::failed)
            else -> Unit
        }
    }

    private fun took(bundle: BundleRead) {
        taken = bundle
        drop()
        turn(Leaf.TAKEN)
    }

    private fun failed(error: Throwable) {
        val code = (error as? TrugException.Said)?.code
        val wasTaking = leaf == Leaf.TAKE
        when {
            code == NEEDS_PASSPHRASE -> turn(Leaf.SECRET)
            code == WRONG_PASSPHRASE -> {
                turn(Leaf.SECRET)
                house.complain(resources.sentence(error))
            }
            // The system put Trug aside in the middle: it goes on.
            code == PAUSED -> if (wasTaking) take() else look(reading.passphrase)
            wasTaking && (code == STOPPED || code == NO_ROOM) -> {
                turn(Leaf.FOUND)
                house.complain(resources.sentence(error))
            }
            else -> refuse(resources.sentence(error), isNotOurs = code == NOT_FOR_US)
        }
    }

    private fun refuse(sentence: String, isNotOurs: Boolean = false) {
        refusal = sentence
        this.isNotOurs = isNotOurs
        drop()
        turn(Leaf.REFUSED)
    }

    /** The file is done with. */
    private fun drop() {
        reading.forget()
        val gone = file
        house.aside.make({ gone.delete() }) {}
    }

    private fun close() {
        drop()
        house.leave(this)
    }

    private fun read() = house.calls.make({ it.receivedCopies() }) { answered ->
        val isFirst = copies == null
        answered.onSuccess {
            copies = it
            if (leaf == Leaf.START || leaf == Leaf.COPY) draw()
            if (isFirst) leaves.scrolled = scrolledTo
        }.onFailure { house.complain(resources.sentence(it)) }
    }

    private fun delete(id: String) = house.calls.make({ it.deleteCopy(id) }) { deleted ->
        deleted.onSuccess { turn(Leaf.START) }.onFailure { house.complain(resources.sentence(it)) }
    }

    // ---- Drawn

    private fun draw() = when (leaf) {
        Leaf.START -> leaves.show(start(), ink.thumb(words(R.string.receive_pick), ::pick))
        Leaf.FETCH -> leaves.show(ink.words(words(R.string.receive_fetching)), ink.thumb(words(R.string.receive_stop), ::close))
        Leaf.LOOK, Leaf.TAKE -> leaves.show(at(), ink.thumb(words(R.string.receive_stop)) { stop() })
        Leaf.SECRET -> drawSecret()
        Leaf.FOUND -> reading.looked?.let { leaves.show(brought(this, it, taken = false), offer(it)) } ?: busy()
        Leaf.TAKEN -> taken?.let { leaves.show(brought(this, it, taken = true), ink.thumb(words(R.string.app_done)) { done(it) }) } ?: busy()
        Leaf.REFUSED -> leaves.show(refused(), ink.thumb(words(R.string.receive_pick_other), ::pick))
        Leaf.COPY -> drawCopy()
    }

    private fun busy() = leaves.show(ink.words(words(R.string.app_busy), colour = ink.quiet), null)

    private fun start(): View = ink.column(ink.words(words(R.string.receive_about_files))).apply {
        put(ink, copies?.let { copiesList(this@Receive, it) } ?: ink.words(words(R.string.app_busy), colour = ink.quiet))
    }

    private fun at(): View {
        val what = if (leaf == Leaf.TAKE) R.string.receive_taking else R.string.receive_looking
        return ink.column(ink.head(words(what))).apply {
            put(ink, doing.begin())
            put(ink, ink.words(words(R.string.receive_whole), colour = ink.quiet), Ink.MARGIN)
        }
    }

    private fun stop() {
        if (leaf == Leaf.LOOK) close() else reading.stop()
    }

    private fun drawSecret() {
        val field = Field(ink, words(R.string.receive_passphrase), Field.Kind.SECRET) {}
        reading.passphrase?.let(field::show)
        val open = { if (field.text.isEmpty()) house.complain(words(R.string.error_no_passphrase)) else look(field.text) }
        field.view.setOnEditorActionListener { _, _, _ -> true.also { open() } }
        val body = ink.column(ink.head(words(R.string.receive_sealed)))
        listOf(ink.words(words(R.string.receive_sealed_about)), field.view).forEach { body.put(ink, it, Ink.MARGIN) }
        leaves.show(body, ink.thumb(words(R.string.receive_open), open))
        field.view.showKeyboard()
    }

    private fun offer(bundle: BundleRead): View {
        if (bundle.isAllHere) return ink.thumb(words(R.string.app_done), ::close)
        return ink.column(ink.thumb(words(R.string.receive_take), ::take)).apply { put(ink, ink.button(words(R.string.receive_leave), touched = ::close)) }
    }

    private fun done(bundle: BundleRead) {
        taken = null
        source = null
        if (bundle.forOwn) house.leave(this) else turn(Leaf.START)
    }

    private fun refused(): View = ink.column(ink.head(words(R.string.receive_refused))).apply {
        put(ink, ink.words(refusal.orEmpty()))
        put(ink, ink.words(words(R.string.receive_nothing_changed), colour = ink.quiet), Ink.MARGIN)
        if (isNotOurs) put(ink, ink.button(words(R.string.receive_show_key)) { house.go(Stop(Place.EXCHANGE)) }, Ink.MARGIN)
    }

    private fun drawCopy() {
        val all = copies ?: return busy()
        val copy = all.find { it.id == copy } ?: return turn(Leaf.START)
        val body = copyLeaf(this, copy)
        val below = if (isDeleting) {
            ink.column(ink.words(words(R.string.copy_delete_about))).apply {
                put(
                    ink,
                    ink.beside(
                        ink.button(words(R.string.copy_keep)) { turn(Leaf.COPY, copy.id) },
                        ink.button(words(R.string.copy_delete_yes), filled = true) { delete(copy.id) },
                    ),
                )
            }
        } else {
            ink.button(words(R.string.copy_delete)) {
                isDeleting = true
                draw()
            }
        }
        leaves.show(body, below)
    }

    private companion object {
        const val ROOM = "received"
        const val PICK = "bundle"
        const val LEAF = "leaf"
        const val SOURCE = "source"
        const val FILE = "file"
        const val COPY = "copy"
        const val TAKEN = "taken"
        const val REFUSAL = "refusal"
        const val NOT_OURS = "not-ours"
        const val DELETING = "deleting"
        const val SCROLLED = "scrolled"
        const val NEEDS_PASSPHRASE = "needs-passphrase"
        const val WRONG_PASSPHRASE = "wrong-passphrase"
        const val NOT_FOR_US = "not-for-us"
        const val PAUSED = "paused"
        const val STOPPED = "stopped"
        const val NO_ROOM = "no-room"
        const val KEPT_MS = 24L * 60 * 60 * 1000
    }
}
