package trug.phone.page.settings

import android.os.Bundle
import android.view.View
import trug.core.Book
import trug.phone.R
import trug.phone.app.House
import trug.phone.app.Page
import trug.phone.app.Place
import trug.phone.app.Stop
import trug.phone.draw.Ink
import trug.phone.draw.Leaves
import trug.phone.draw.Speaks
import trug.phone.words.sentence

/** What a leaf of the settings has in common with the others: each is a page of its own, so that Back leads through them. */
internal abstract class Leaf(protected val house: House, override val title: Int, saved: Bundle?) : Page, Speaks {
    final override val ink: Ink = house.ink
    protected val context = ink.context
    private val leaves = Leaves(ink)
    final override val view: View = leaves.view
    private var scrolledTo: Int? = saved?.getInt(SCROLLED)
    private var isWaiting = false

    override fun save(into: Bundle) = into.putInt(SCROLLED, leaves.scrolled)

    /** Shows this, at the place to which it was scrolled. */
    protected fun show(body: View, below: View? = null) {
        val place = scrolledTo ?: leaves.scrolled
        scrolledTo = null
        leaves.show(body, below)
        leaves.scrolled = place
    }

    protected fun busy() = show(ink.words(words(R.string.app_busy), colour = ink.quiet))

    /** Asks the notebook and shows the answer; else what is wrong, and the way to try again. */
    protected fun <T> ask(call: (Book) -> T, show: (T) -> Unit): Unit =
        house.calls.make(call) { it.onSuccess(show).onFailure { error -> failed(error) { ask(call, show) } } }

    /** Asks what needs no notebook, and may be slow. */
    protected fun <T> askAside(call: () -> T, show: (T) -> Unit): Unit =
        house.aside.make(call) { it.onSuccess(show).onFailure { error -> failed(error) { askAside(call, show) } } }

    private fun failed(error: Throwable, again: () -> Unit) =
        show(ink.words(context.resources.sentence(error)), ink.thumb(words(R.string.app_try_again), again))

    /** Does what a second touch must not do again before the first is answered. */
    protected fun <T> once(call: (Book) -> T, then: (T) -> Unit) {
        if (isWaiting) return
        isWaiting = true
        house.complain(null)
        house.calls.make(call) { answered ->
            isWaiting = false
            answered.onSuccess(then).onFailure { house.complain(context.resources.sentence(it)) }
        }
    }

    /** Puts another notebook in place of this one, and begins with that one at the first page. A second touch is too late. */
    protected fun exchange(swap: () -> Unit) {
        if (isWaiting) return
        isWaiting = true
        house.complain(null)
        house.calls.exchange(swap) { done ->
            isWaiting = false
            house.errands.seen()
            done.onSuccess { house.startAgain() }.onFailure { house.complain(context.resources.sentence(it)) }
        }
    }

    /** Opens another leaf. */
    protected fun turn(to: String) = house.go(Stop(Place.SETTINGS, about = to))

    private companion object {
        const val SCROLLED = "scrolled"
    }
}
