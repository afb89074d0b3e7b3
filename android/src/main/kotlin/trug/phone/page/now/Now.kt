package trug.phone.page.now

import android.os.Bundle
import android.os.SystemClock
import android.view.View
import trug.core.Book
import trug.core.NowPage
import trug.core.OpeningReport
import trug.phone.R
import trug.phone.app.House
import trug.phone.app.Look
import trug.phone.app.Page
import trug.phone.app.Place
import trug.phone.app.Stop
import trug.phone.camera.Purpose
import trug.phone.draw.Ink
import trug.phone.draw.Leaves
import trug.phone.draw.part
import trug.phone.draw.put
import trug.phone.page.settings.RESTORE
import trug.phone.words.sentence

/** The first page: the outing that is on, and all that hangs off it. */
internal class Now(private val house: House, saved: Bundle?) : Page {
    private val ink = house.ink
    private val context = ink.context
    override val title = R.string.now_title
    private val leaves = Leaves(ink)
    override val view: View = leaves.view
    private var starting: Starting? = if (saved?.getBoolean(STARTING) == true) Starting(ink, saved, ::start) else null
    private var scrolledTo = saved?.getInt(SCROLLED) ?: 0
    private var read: Told? = null
    private var readAt = 0L
    private var isWaiting = false

    /** Whether what was read last was asked from somewhere. */
    private var isPlaced = false

    /** What the core told. */
    private class Told(val now: NowPage, val opening: OpeningReport)

    init {
        leaves.show(ink.words(context.getString(R.string.app_busy), colour = ink.quiet), below())
    }

    override fun shown() {
        read()
        house.position.listen { if (!isPlaced || SystemClock.elapsedRealtime() - readAt > EVERY_MS) read() }
    }

    override fun left() = house.position.stop()

    override fun back(): Boolean {
        if (starting == null) return false
        starting = null
        draw()
        house.stepped()
        return true
    }

    override fun save(into: Bundle) {
        into.putBoolean(STARTING, starting != null)
        starting?.save(into)
        into.putInt(SCROLLED, leaves.scrolled)
    }

    private fun read() {
        readAt = SystemClock.elapsedRealtime()
        val here = house.position.best?.fix
        isPlaced = here != null
        house.calls.make({ Told(it.now(here), it.opening()) }) { answered ->
            answered.onSuccess { told ->
                val first = read == null
                read = told
                draw()
                if (first) leaves.scrolled = scrolledTo
            }.onFailure { error ->
                val again = ink.column(ink.thumb(context.getString(R.string.app_try_again), ::read))
                // A notebook that will not open may come back from a backup.
                again.put(ink, ink.button(context.getString(R.string.restore_choose)) { house.go(Stop(Place.SETTINGS, about = RESTORE)) })
                leaves.show(ink.words(context.resources.sentence(error)), again)
            }
        }
    }

    private fun draw() {
        val starting = starting
        if (starting != null) {
            // Shown again it would lose what has the focus, and the keyboard with it.
            if (starting.view.parent == null) leaves.show(starting.view, null)
            return
        }
        val told = read ?: return
        val lines = Lines(ink, told.now)
        val body = ink.column()
        lost(told.opening).forEach { body.put(ink, it) }
        body.put(ink, lines.outing())
        val outing = told.now.outing
        body.put(
            ink,
            if (outing == null) {
                ink.button(context.getString(R.string.now_start), touched = ::begin)
            } else {
                ink.button(context.getString(R.string.now_end)) { once({ it.endOuting() }) { read() } }
            },
        )
        body.part(ink, context.getString(R.string.now_basket))
        lines.basket().forEach { body.put(ink, it) }
        body.part(ink, context.getString(R.string.now_light))
        body.put(ink, lines.light(whereabouts()))
        body.part(ink, context.getString(R.string.now_patches))
        lines.patches(noPatches()) { house.go(Stop(Place.PATCH, about = it)) }.forEach { body.put(ink, it) }
        if (told.now.waiting.isNotEmpty()) {
            body.part(ink, context.getString(R.string.now_waiting))
            told.now.waiting.forEach { body.put(ink, lines.waiting(it, ::open)) }
        }
        body.part(ink, context.getString(R.string.now_finds))
        if (told.now.finds.isEmpty()) body.put(ink, ink.words(context.getString(R.string.now_finds_none), colour = ink.quiet))
        told.now.finds.forEach { body.put(ink, lines.find(it, ::open)) }
        body.part(ink, context.getString(R.string.now_more))
        doors.forEach { door -> body.put(ink, ink.button(context.getString(door.words)) { house.go(Stop(door.place)) }) }
        body.put(ink, red(), Ink.MARGIN)
        val scrolled = leaves.scrolled
        leaves.show(body, below())
        leaves.scrolled = scrolled
    }

    /** Where the phone is, as far as anybody may know; with the way to let Trug know. */
    private fun whereabouts(): View? = when {
        house.position.best != null -> null
        house.position.isAllowed -> ink.words(context.getString(R.string.now_no_fix), colour = ink.quiet)
        else -> ink.column(ink.words(context.getString(R.string.now_no_position), colour = ink.quiet)).apply {
            put(ink, ink.button(context.getString(R.string.now_ask_position)) { house.askPosition() })
        }
    }

    /** What is said where no patch is near. */
    private fun noPatches(): Int = when {
        isPlaced -> R.string.now_patches_none
        house.position.isAllowed -> R.string.now_no_fix
        else -> R.string.now_no_position
    }

    private fun below(): View = ink.column(
        ink.thumb(context.getString(R.string.now_photograph)) { house.photograph(Purpose(null, WHOLE)) },
    ).apply {
        put(
            ink,
            ink.beside(
                ink.button(context.getString(R.string.now_without)) {
                    val here = house.position.best?.fix
                    once({ it.beginFind(null, WHOLE, here) }) { house.go(Stop(Place.FIND, it.id, standing = true)) }
                },
                ink.button(context.getString(R.string.now_choose)) { house.photograph(Purpose(null, WHOLE), choose = true) },
            ),
        )
    }

    /** Red for night, in one touch; every other look is chosen in the settings. */
    private fun red(): View = if (house.look == Look.RED) {
        ink.button(context.getString(R.string.look_red_off)) { house.look = Look.beforeRed(context) }
    } else {
        ink.button(context.getString(Look.RED.words)) { house.look = Look.RED }
    }

    private fun lost(opening: OpeningReport): List<View> = listOf(R.string.now_lost to opening.lost, R.string.now_mended to opening.mended)
        .filter { (_, said) -> said.isNotEmpty() }
        .flatMap { (head, said) -> listOf(ink.part(context.getString(head))) + said.map { ink.words(it.words) } }

    private fun open(find: String) = house.go(Stop(Place.FIND, find))

    override val hasStep: Boolean get() = starting != null

    private fun begin() {
        starting = Starting(ink, null, ::start)
        draw()
        house.stepped()
    }

    /** The outing begins with its answer to "may I pick here?"; and the first one with whether the position may be used. */
    private fun start(where: String, mayPick: String) {
        val begun = once({ it.startOuting(where, mayPick) }) {
            starting = null
            house.stepped()
            read()
        }
        if (begun && !house.position.isAllowed && !house.position.wasAsked) house.askPosition()
    }

    /** What a second touch must not do again before the first is answered; whether this is the first. */
    private fun <T> once(call: (Book) -> T, then: (T) -> Unit): Boolean {
        if (isWaiting) return false
        isWaiting = true
        house.calls.make(call) { answered ->
            isWaiting = false
            answered.onSuccess(then).onFailure(::complain)
        }
        return true
    }

    private fun complain(error: Throwable) = house.complain(context.resources.sentence(error))

    private companion object {
        const val STARTING = "starting"
        const val SCROLLED = "scrolled"
        const val WHOLE = "whole"
        const val EVERY_MS = 5000L
    }
}
