package trug.phone.page.way

import android.os.Bundle
import android.os.Handler
import android.os.Looper
import android.os.SystemClock
import android.view.View
import java.util.concurrent.TimeUnit
import trug.core.WayBack
import trug.phone.R
import trug.phone.app.House
import trug.phone.app.Page
import trug.phone.camera.Purpose
import trug.phone.draw.Ink
import trug.phone.draw.Leaves
import trug.phone.draw.Speaks
import trug.phone.draw.put
import trug.phone.position.Compass
import trug.phone.position.Reading
import trug.phone.words.sentence

/**
 * The way back to a patch: how far, which way, and an arrow that points there however the phone is held. It follows whoever walks, and
 * says how exact and how old the position is that it goes by. What it senses stops when the page is left.
 */
internal class Way(private val house: House, private val patch: String, saved: Bundle?) : Page, Speaks {
    override val ink = house.ink
    override val title = R.string.way_title
    private val leaves = Leaves(ink)
    override val view: View = leaves.view.apply { keepScreenOn = true }
    private val compass = Compass(ink.context)
    private val sign = Signpost(ink, compass.isThere)
    private val lost = ink.column()
    private val clock = Handler(Looper.getMainLooper())
    private var read: WayBack? = null

    /** The reading that the way was asked from; whoever turns the phone where there is no other goes on by it, and sees how old it is. */
    private var from: Reading? = saved?.getBundle(FROM)?.let(::reading)
    private var latest = 0
    private var waiting = 0

    /** Whether a look was noted here, which can be taken back. */
    private var isNoted = saved?.getBoolean(NOTED) ?: false

    init {
        leaves.show(ink.words(words(R.string.app_busy), colour = ink.quiet), null)
    }

    override fun shown() {
        follow(house.position.best)
        house.position.listen(::follow)
        compass.listen { sensed ->
            val quarters = view.display?.rotation ?: 0
            val declination = from?.let { Compass.declination(it, System.currentTimeMillis()) } ?: 0.0
            sign.turn(Held(sensed.matrix, quarters), declination, sensed.isSure)
        }
        clock.removeCallbacksAndMessages(null)
        tick()
    }

    override fun left() {
        house.position.stop()
        compass.stop()
        clock.removeCallbacksAndMessages(null)
    }

    override fun save(into: Bundle) {
        into.putBoolean(NOTED, isNoted)
        from?.let { into.putBundle(FROM, bundle(it)) }
    }

    /** The way from another place; the one before stands until then. */
    private fun follow(reading: Reading?) {
        if (reading != null) from = reading
        age()
        read { }
    }

    private fun read(first: (trug.core.Book) -> Unit) {
        val (number, here) = ++latest to from
        house.calls.make({ book ->
            first(book)
            book.wayBack(patch, here?.fix)
        }) { answered ->
            answered.onSuccess { way -> if (number == latest) show(way, here) }.onFailure { error ->
                val sentence = ink.context.resources.sentence(error)
                if (read == null) leaves.show(ink.words(sentence), ink.thumb(words(R.string.app_try_again)) { shown() }) else house.complain(sentence)
            }
        }
    }

    private fun show(way: WayBack, here: Reading?) {
        val first = read == null
        read = way
        sign.show(way, here)
        if (first) {
            leaves.show(ink.column(sign.view, lost), null)
            below()
        }
        tell(way)
    }

    /** What is said where there is no way. */
    private fun tell(way: WayBack) {
        lost.removeAllViews()
        val place = way.patch.place
        if (way.patch.metres != null) return
        if (place == null) return lost.put(ink, ink.words(words(R.string.way_no_place)))
        lost.put(ink, ink.words(words(R.string.way_lies, place.name)))
        if (house.position.isAllowed) {
            lost.put(ink, ink.words(words(R.string.now_no_fix), colour = ink.quiet))
        } else {
            lost.put(ink, ink.words(words(R.string.now_no_position), colour = ink.quiet))
            lost.put(ink, ink.button(words(R.string.now_ask_position)) { house.askPosition() })
        }
    }

    private fun below() {
        val undo = if (isNoted) ink.button(words(R.string.patch_undo_looked), touched = ::undo) else null
        val photograph = ink.button(words(R.string.now_photograph)) { house.photograph(Purpose(null, WHOLE)) }
        leaves.below(
            ink.column(ink.thumb(words(R.string.patch_looked_nothing), ::look)).apply { put(ink, ink.beside(undo, photograph)) },
        )
    }

    private fun look() {
        var isNews = true
        once({ isNews = it.lookAtPatch(patch, NOTHING) }) {
            if (isNews) isNoted = true else house.complain(words(R.string.patch_noted_already))
        }
    }

    private fun undo() = once({ it.undoPatch(patch) }) { isNoted = false }

    private fun once(call: (trug.core.Book) -> Unit, done: () -> Unit) {
        if (waiting > 0) return
        waiting++
        house.calls.make(call) { answered ->
            waiting--
            answered.onSuccess {
                house.complain(null)
                done()
                below()
                read { }
            }.onFailure { house.complain(ink.context.resources.sentence(it)) }
        }
    }

    /** A position grows old by itself. */
    private fun tick() {
        age()
        clock.postDelayed(::tick, EVERY_MS)
    }

    private fun age() {
        val age = from?.let { TimeUnit.NANOSECONDS.toSeconds(SystemClock.elapsedRealtimeNanos() - it.atNanos) }
        val isOld = from?.isStale(SystemClock.elapsedRealtimeNanos()) == true
        sign.aged(age?.toInt().takeIf { isOld })
    }

    private companion object {
        const val NOTED = "noted"
        const val FROM = "from"
        const val LATITUDE = "latitude"
        const val LONGITUDE = "longitude"
        const val ACCURACY = "accuracy"
        const val AT = "at"
        const val NOTHING = "nothing"
        const val WHOLE = "whole"
        const val EVERY_MS = 5000L

        fun bundle(reading: Reading) = Bundle().apply {
            putDouble(LATITUDE, reading.latitude)
            putDouble(LONGITUDE, reading.longitude)
            reading.accuracyM?.let { putDouble(ACCURACY, it) }
            putLong(AT, reading.atNanos)
        }

        /** None from before the phone was started: its times count from there. */
        fun reading(from: Bundle): Reading? {
            val accuracy = if (from.containsKey(ACCURACY)) from.getDouble(ACCURACY) else null
            return Reading(from.getDouble(LATITUDE), from.getDouble(LONGITUDE), accuracy, from.getLong(AT))
                .takeIf { it.atNanos <= SystemClock.elapsedRealtimeNanos() }
        }
    }
}
