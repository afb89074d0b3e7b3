package trug.phone.page.share

import android.app.Activity
import android.net.Uri
import android.os.Bundle
import android.view.View
import trug.core.Book
import trug.core.JobReport
import trug.core.Progress
import trug.core.SharePage
import trug.core.ShareWhich
import trug.phone.R
import trug.phone.app.House
import trug.phone.app.Page
import trug.phone.app.Stop
import trug.phone.draw.Ink
import trug.phone.draw.Leaves
import trug.phone.draw.Speaks
import trug.phone.draw.hideKeyboard
import trug.phone.files.OutboxProvider
import trug.phone.words.sentence

/** The leaves of the page, in the order in which one comes to them. */
internal enum class Leaf { WHAT, OUTINGS, PATCHES, PREVIEW, COPY, SQUARE, SURE, SEAL, MAKING, MADE }

/** What leaves may ask for. */
internal interface Sharing : Speaks {
    val house: House
    override val ink: Ink get() = house.ink
    val chosen: Chosen

    /** Something else is chosen on the first leaf. */
    fun choose(chosen: Chosen)

    /** Another leaf; [about] is what it is about: a square by its name, a copy by its place. */
    fun turn(to: Leaf, about: String? = null)

    /** Gathers what would leave. */
    fun preview()

    /** What was shown is wanted: all that is to be agreed to or given for it is asked, then it is made. */
    fun make(agreed: Boolean = false, passphrase: String? = null)
}

/** *Share*: what may leave is chosen, shown as it will stand in the file, made, and saved or sent. */
internal class Share(override val house: House, stop: Stop, saved: Bundle?) : Page, Sharing {
    override val title = R.string.share_title
    private val context = ink.context
    private val held = Held.of(house.calls)
    private val outbox = OutboxProvider.outbox(context)
    private val leaves = Leaves(ink)
    override val view: View = leaves.view
    private val find = stop.find
    private var leaf = Leaf.entries.find { it.name == saved?.getString(LEAF) } ?: Leaf.WHAT
    private var about = saved?.getString(ABOUT)
    private var scrolledTo = saved?.getInt(SCROLLED) ?: 0
    private var previewAt = saved?.getInt(PREVIEW_AT) ?: 0
    override var chosen = saved?.let(Chosen::of) ?: Chosen(which = stop.about?.let(::decoded) ?: find?.let(ShareWhich::Find))
        private set
    private var read: SharePage? = null
    private var inFront = false

    /** Whether the core has been asked to begin and has not answered. */
    private var isStarting = false
    private val what = WhatLeaf(this, find)
    private val list = CopyList(this, saved)
    private val seal = SealLeaf(this)
    private val busy = Busy(this) { back() }
    private val going = Going(this, outbox, held, ::draw)

    init {
        if (saved == null) held.clear()
        // Newer than what was remembered: it may have been saved while the phone was turned.
        held.made = held.made ?: Made.of(saved)
        sweep(held.underway?.parcel?.id ?: held.made?.id)
        seal.fill(held.typed)
        held.typed = null
        leaves.show(ink.words(words(R.string.app_busy), colour = ink.quiet), null)
    }

    override fun shown() {
        inFront = true
        held.changed = ::draw
        when {
            leaf <= Leaf.PATCHES -> read()
            leaf == Leaf.MADE -> draw()
            held.underway != null -> follow()
            isStarting -> Unit
            leaf == Leaf.MAKING -> {
                // The process ended while it was made: it is shown again, and can be made again.
                leaf = Leaf.PREVIEW
                gather()
                house.complain(words(R.string.share_not_made))
            }
            held.seen?.what != chosen.what() -> gather()
            else -> draw()
        }
    }

    override fun left() {
        inFront = false
        held.changed = {}
        what.flush()
        // It outlives a turn of the phone, and nothing else.
        if ((context as? Activity)?.isChangingConfigurations == true) held.typed = seal.typed
    }

    override fun back(): Boolean {
        when (leaf) {
            Leaf.WHAT -> return false.also { forget() }
            Leaf.OUTINGS, Leaf.PATCHES -> turn(Leaf.WHAT)
            Leaf.PREVIEW -> stop().also { turn(Leaf.WHAT) }
            Leaf.COPY, Leaf.SQUARE, Leaf.SURE, Leaf.SEAL -> turn(Leaf.PREVIEW)
            Leaf.MAKING -> stop().also { turn(Leaf.PREVIEW) }
            Leaf.MADE -> forget().also { turn(Leaf.WHAT) }
        }
        return true
    }

    override fun save(into: Bundle) {
        into.putString(LEAF, leaf.name)
        into.putString(ABOUT, about)
        into.putInt(SCROLLED, leaves.scrolled)
        into.putInt(PREVIEW_AT, previewAt)
        what.flush()
        chosen.save(into)
        list.save(into)
        held.made?.save(into)
    }

    override fun answered(name: String, picked: Uri) = going.save(picked)

    override fun choose(chosen: Chosen) {
        val isOther = chosen.which != this.chosen.which
        this.chosen = chosen
        if (isOther) read() else if (leaf == Leaf.WHAT) read?.let(::drawChoice)
    }

    override fun turn(to: Leaf, about: String?) {
        house.complain(null)
        view.hideKeyboard()
        what.flush()
        if (leaf == Leaf.PREVIEW) previewAt = leaves.scrolled
        if (to != Leaf.SEAL) seal.fill(null)
        leaf = to
        this.about = about
        scrolledTo = if (to == Leaf.PREVIEW) previewAt else 0
        if (to <= Leaf.PATCHES) read() else draw()
    }

    // ---- What may leave

    private fun read() {
        val asked = chosen.which
        house.calls.make({ it.sharePage(asked) }) { answered ->
            // A slower answer never overtakes quicker fingers.
            if (asked != chosen.which) return@make
            answered.onSuccess { page ->
                read = page
                chosen = chosen.copy(which = page.which)
                if (leaf <= Leaf.PATCHES) draw()
            }.onFailure(::fail)
        }
    }

    private fun fail(error: Throwable) = leaves.show(ink.words(context.resources.sentence(error)), ink.thumb(words(R.string.app_try_again), ::shown))

    // ---- Work that goes on by itself

    override fun preview() {
        what.flush()
        previewAt = 0
        list.begin()
        turn(Leaf.PREVIEW)
        gather()
    }

    private fun gather() {
        val wanted = chosen.what()
        val isSealed = chosen.lock != Lock.OPEN
        held.seen = null
        draw()
        start({ Underway(wanted, it.startPreview(wanted, isSealed)) }, ::fail)
    }

    override fun make(agreed: Boolean, passphrase: String?) {
        val seen = held.seen ?: return gather()
        if (seen.leaving.agreeTo.isNotEmpty() && !agreed) return turn(Leaf.SURE)
        if (chosen.lock == Lock.PASSPHRASE && passphrase == null) return turn(Leaf.SEAL)
        val locked = chosen.seal(passphrase.orEmpty())
        turn(Leaf.MAKING)
        val make = { book: Book ->
            val parcel = outbox.begin(seen.leaving.fileName)
            Underway(seen.what, book.startShare(seen.what, locked, seen.leaving.mark, parcel.file.path), parcel)
        }
        start(make) { error ->
            turn(Leaf.PREVIEW)
            complain(error)
        }
    }

    private fun start(begin: (Book) -> Underway, refused: (Throwable) -> Unit) {
        isStarting = true
        house.calls.make(begin) { started ->
            isStarting = false
            // A page that was made anew meanwhile has begun anew.
            if ((context as? Activity)?.isDestroyed == true) return@make
            started.onSuccess {
                held.underway = it
                follow()
            }.onFailure(refused)
        }
    }

    /** Looks how far the work is, and again a little later, as long as anybody sees it. */
    private fun follow() {
        val underway = held.underway ?: return
        house.calls.make({ underway.look() }) { looked ->
            if (held.underway !== underway || !inFront) return@make
            looked.onSuccess { far ->
                if (far.over) ended(underway) else drawBusy(far).also { view.postDelayed(::follow, EVERY_MS) }
            }.onFailure(::fail)
        }
    }

    private fun ended(underway: Underway) {
        held.underway = null
        val ended = underway.ended ?: return
        ended.onSuccess { report ->
            when (report) {
                is JobReport.Previewed -> held.seen = Seen(underway.what, report.leaving, report.copies)
                is JobReport.Shared -> underway.parcel?.let { parcel ->
                    held.made = Made(parcel.id, parcel.file.name, report.leaving.mediaType)
                    leaf = Leaf.MADE
                }
                else -> Unit
            }
            draw()
            leaves.scrolled = scrolledTo
        }.onFailure { error ->
            if (underway.parcel == null) return@onFailure fail(error)
            // What was shown is shown anew: it may be that which has changed.
            leaf = Leaf.PREVIEW
            gather()
            complain(error)
        }
    }

    /** What goes on is wanted no more. */
    private fun stop() {
        val underway = held.underway ?: return
        held.underway = null
        house.calls.make({ underway.cancel() }) { }
    }

    /** A file that was made and is wanted no more is taken away; one that was sent may still be read. */
    private fun forget() {
        stop()
        held.made = null
        held.seen = null
        sweep(null)
    }

    private fun sweep(kept: String?) {
        val now = System.currentTimeMillis()
        house.aside.make({ outbox.sweep(kept, now) }) { }
    }

    // ---- Drawing

    private fun draw() {
        val page = read
        val seen = held.seen?.takeIf { it.what == chosen.what() }
        when {
            leaf == Leaf.MADE -> held.made?.let { leaves.show(madeLeaf(this, it), madeThumb(this, it, going, ::done)) } ?: turn(Leaf.WHAT)
            leaf == Leaf.MAKING -> drawBusy(null)
            leaf <= Leaf.PATCHES && page != null -> drawChoice(page)
            leaf > Leaf.PATCHES && seen != null -> drawSeen(seen)
            else -> drawBusy(null)
        }
        leaves.scrolled = scrolledTo
    }

    private fun drawChoice(page: SharePage) = when (leaf) {
        Leaf.OUTINGS -> leaves.show(outingsLeaf(this, page), null)
        Leaf.PATCHES -> leaves.show(patchesLeaf(this, page), null)
        else -> {
            what.show(page)
            // Shown again it would lose what has the focus, and the keyboard with it.
            if (what.view.parent == null) leaves.show(what.view, null)
            leaves.below(what.thumb(page))
        }
    }

    private fun drawSeen(seen: Seen) = when (leaf) {
        Leaf.COPY -> list.copy(seen, about) { body -> leaves.show(body, null) }
        Leaf.SQUARE -> leaves.show(squareLeaf(this, seen.leaving.squares.find { it.name == about }), null)
        Leaf.SURE -> leaves.show(sureLeaf(this, seen.leaving), sureThumb(this))
        Leaf.SEAL -> leaves.show(seal.view, seal.thumb)
        else -> {
            leaves.show(previewLeaf(this, seen.leaving, list.view), previewThumb(this, seen.leaving))
            list.show(seen)
        }
    }

    private fun drawBusy(far: Progress?) {
        busy.show(isMaking = leaf == Leaf.MAKING, far)
        if (busy.view.parent == null) leaves.show(busy.view, busy.thumb)
    }

    /** All is done: the page is left. */
    private fun done() {
        forget()
        house.leave(this)
    }

    private fun complain(error: Throwable) = house.complain(context.resources.sentence(error))

    private companion object {
        const val LEAF = "leaf"
        const val ABOUT = "about"
        const val SCROLLED = "scrolled"
        const val PREVIEW_AT = "previewAt"
        const val EVERY_MS = 200L
    }
}
