package trug.phone.page.work

import android.os.Build
import android.os.Bundle
import android.view.View
import trug.core.Book
import trug.core.KeyPage
import trug.core.NameShown
import trug.phone.R
import trug.phone.app.House
import trug.phone.app.Page
import trug.phone.draw.Leaves
import trug.phone.words.sentence

/**
 * *Work it out*: turns between its leaves, and asks the key whenever an answer changes, which keeps the answers beside the find.
 * What else is remembered is in [Asking].
 * Only the answer to the latest question put to the key is shown, so slow answers never overtake quick fingers.
 */
internal class Work(
    private val house: House,
    private val find: String?,
    private val suspect: String?,
    saved: Bundle?,
) : Page, Desk {
    override val ink = house.ink
    override val title = R.string.work_title
    override val keep: (() -> Unit)? = find?.let { { keepWith(it) } }

    private var asking: Asking? = Kept.get(saved)
    private var page: KeyPage? = null
    private var leaf: Leaf? = null
    private var shown: LeafView? = null
    private var latest = 0
    private var waiting = false
    private var scrolledTo = saved?.getInt(SCROLLED) ?: 0

    private val leaves = Leaves(ink)
    override val view: View = leaves.view

    init {
        begin()
    }

    override fun back(): Boolean {
        val before = asking?.back() ?: return false
        turn { before }
        return true
    }

    override fun save(into: Bundle) {
        asking?.let { Kept.put(it, into) }
        into.putInt(SCROLLED, leaves.scrolled)
    }

    private fun begin() {
        leaves.show(ink.words(words(R.string.app_busy), colour = ink.quiet), null)
        val remembered = asking
        val call: (Book) -> KeyPage = { book -> remembered?.let { book.keyStep(it.asked) } ?: book.keyBegin(find, suspect) }
        ask(call) { answered ->
            answered.onSuccess { page ->
                asking = remembered ?: Asking.begun(page)
                show(page)
                leaves.scrolled = scrolledTo
            }.onFailure { error ->
                leaves.show(ink.words(ink.context.resources.sentence(error)), ink.button(words(R.string.app_try_again), filled = true) { begin() })
            }
        }
    }

    override fun turn(next: (Asking) -> Asking) {
        val before = asking ?: return
        // A second tap on a question that is answered already is no second answer.
        if (waiting && before.leaf != Leaf.SHEET) return
        complain("")
        val after = next(before)
        asking = after
        if (after.asked == before.asked) return page?.let(::show) ?: Unit
        ask({ book -> find?.let { book.keyGoOn(it, after.asked) } ?: book.keyStep(after.asked) }) { answered ->
            answered.onSuccess { page ->
                asking = asking?.told(page)
                show(page)
            }.onFailure { error ->
                asking = before
                page?.let(::show)
                complain(ink.context.resources.sentence(error))
            }
        }
    }

    override fun remember(next: (Asking) -> Asking) {
        asking = asking?.let(next)
    }

    override fun names(typed: String, then: (List<NameShown>) -> Unit) =
        house.calls.make({ it.names(typed, NAMES) }) { found -> found.onSuccess(then) }

    override fun complain(words: String) = house.complain(words)

    private fun keepWith(find: String) {
        val asked = asking?.asked ?: return
        // Kept once, however often it is touched.
        if (waiting) return
        ask({ it.keyKeep(find, asked) }) { answered ->
            answered.onSuccess { house.leave(this) }.onFailure { complain(ink.context.resources.sentence(it)) }
        }
    }

    private fun <T> ask(call: (Book) -> T, then: (Result<T>) -> Unit) {
        val number = ++latest
        waiting = true
        house.calls.make(call) { answered ->
            if (number == latest) {
                waiting = false
                then(answered)
            }
        }
    }

    private fun show(page: KeyPage) {
        val before = this.page
        this.page = page
        val asking = this.asking ?: return
        val turned = leaf != asking.leaf
        val view = shown.takeUnless { turned } ?: leaf(asking.leaf)
        view.show(asking, page)
        if (turned) {
            leaf = asking.leaf
            shown = view
            leaves.show(view.body, view.thumb)
        }
        if (turned || (asking.leaf == Leaf.QUESTION && before?.question?.character != page.question?.character)) {
            leaves.scrolled = 0
            tellPane(asking, page)
        }
    }

    /** What a screen reader says on a new leaf. */
    private fun tellPane(asking: Asking, page: KeyPage) {
        if (Build.VERSION.SDK_INT < Build.VERSION_CODES.P) return
        view.accessibilityPaneTitle = when (asking.leaf) {
            Leaf.QUESTION -> page.question?.words
            Leaf.END -> page.verdict.title
            else -> words(R.string.work_title)
        }
    }

    private fun leaf(leaf: Leaf): LeafView = when (leaf) {
        Leaf.SHEET -> SheetLeaf(this)
        Leaf.NAMES -> NamesLeaf(this)
        Leaf.QUESTION -> QuestionLeaf(this)
        Leaf.OTHERS -> OthersLeaf(this)
        Leaf.ANSWERS -> AnswersLeaf(this)
        Leaf.END -> EndLeaf(this)
    }

    private companion object {
        const val SCROLLED = "scrolled"
        const val NAMES = 20u
    }
}
