package trug.phone.page.patch

import android.os.Bundle
import android.os.SystemClock
import android.view.View
import trug.core.Book
import trug.core.FieldValue
import trug.core.InPatch
import trug.core.PatchLast
import trug.core.PatchPage
import trug.phone.R
import trug.phone.app.House
import trug.phone.app.Page
import trug.phone.app.Place
import trug.phone.app.Stop
import trug.phone.draw.Ink
import trug.phone.draw.Leaves
import trug.phone.draw.Speaks
import trug.phone.draw.hideKeyboard
import trug.phone.draw.put
import trug.phone.words.sentence

/** The leaves of a patch. */
internal enum class Leaf { ALL, SEASON, EARLIER, REST, AMEND, PLACE, MERGE }

/** Something that a leaf shows. It is made once; what it shows changes with the patch. */
internal interface Section {
    val view: View

    fun show(page: PatchPage)

    /** Keeps what is typed and not kept yet. */
    fun flush() = Unit

    /** What it remembers besides what is kept. */
    fun save(into: Bundle) = Unit
}

/** What sections may ask for. */
internal interface Desk : Speaks {
    val house: House
    override val ink: Ink get() = house.ink

    /** The patch, or that which stands for it since it was merged. */
    val patch: String

    fun turn(to: Leaf, season: String? = null)

    /** Does something to the patch; it is then shown as it is. [refused] is told where that could not be kept. */
    fun act(refused: () -> Unit = {}, done: () -> Unit = {}, call: (Book) -> Unit)

    /** The same, where a second touch would do it twice: not while an answer is awaited. */
    fun once(done: () -> Unit = {}, call: (Book) -> Unit)

    /** Sets a field, or empties it. */
    fun amend(field: String, value: String?, refused: () -> Unit = {})

    /** Notes a look in one touch. */
    fun look(outcome: String)

    fun step(step: Step)
}

/** What there is to be done at a patch: to go there, and to look. */
internal enum class Step(val words: Int) {
    WAY(R.string.patch_way),
    NOTHING(R.string.patch_looked_nothing),
    ;

    /** The one that is not next; none where nobody knows the way. */
    fun other(page: PatchPage): Step? = if (page.line.place == null) null else entries.first { it != this }

    companion object {
        /** The one that is next. */
        fun of(page: PatchPage): Step = if (page.line.place == null || page.line.inside == InPatch.YES) NOTHING else WAY
    }
}

/** One patch: what it is, the way there, its history season by season, and all that can be done with it. */
internal class Patch(override val house: House, private val asked: String, saved: Bundle?) : Page, Desk {
    override val title = R.string.patch_title
    private val leaves = Leaves(ink)
    override val view: View = leaves.view
    private var leaf = Leaf.entries.find { it.name == saved?.getString(LEAF) } ?: Leaf.ALL
    private var season = saved?.getString(SEASON)
    private var scrolledTo = saved?.getInt(SCROLLED) ?: 0
    private var remembered = saved?.getBundle(TYPED)
    private var read: PatchPage? = null
    private var readAt = 0L
    private var drawn: Leaf? = null
    private var sections: List<Section> = emptyList()
    private var latest = 0
    private var waiting = 0

    override val patch: String get() = read?.line?.id ?: asked

    init {
        leaves.show(ink.words(words(R.string.app_busy), colour = ink.quiet), null)
    }

    override fun shown() {
        make({}, {}, {}) { }
        house.position.listen { if (read?.line?.metres == null || SystemClock.elapsedRealtime() - readAt > EVERY_MS) moved() }
    }

    override fun left() {
        sections.forEach(Section::flush)
        house.position.stop()
    }

    override fun back(): Boolean {
        if (leaf == Leaf.ALL) return false
        turn(Leaf.ALL)
        return true
    }

    override fun save(into: Bundle) {
        into.putString(LEAF, leaf.name)
        into.putString(SEASON, season)
        into.putInt(SCROLLED, if (drawn == Leaf.ALL) leaves.scrolled else scrolledTo)
        into.putBundle(TYPED, remembered ?: Bundle().also { typed -> sections.forEach { it.save(typed) } })
    }

    override fun turn(to: Leaf, season: String?) {
        sections.forEach(Section::flush)
        view.hideKeyboard()
        house.complain(null)
        if (drawn == Leaf.ALL) scrolledTo = leaves.scrolled
        leaf = to
        this.season = season
        drawn = null
        read?.let(::show)
    }

    override fun amend(field: String, value: String?, refused: () -> Unit) =
        act(refused) { it.amendPatch(patch, listOf(FieldValue(field, value))) }

    override fun look(outcome: String) {
        var isNews = true
        once({ if (!isNews) house.complain(words(R.string.patch_noted_already)) }) { isNews = it.lookAtPatch(patch, outcome) }
    }

    override fun once(done: () -> Unit, call: (Book) -> Unit) {
        if (waiting > 0) return
        sections.forEach(Section::flush)
        act({}, done, call)
    }

    override fun act(refused: () -> Unit, done: () -> Unit, call: (Book) -> Unit) {
        waiting++
        make(refused, { waiting-- }, {
            house.complain(null)
            done()
        }, call)
    }

    private fun make(refused: () -> Unit, answered: () -> Unit, done: () -> Unit, call: (Book) -> Unit) {
        val number = ++latest
        val (id, here) = patch to house.position.best?.fix
        readAt = SystemClock.elapsedRealtime()
        house.calls.make({ book ->
            call(book)
            book.patchPage(id, here)
        }) { result ->
            answered()
            result.onSuccess { page ->
                read = page
                done()
            }.onFailure { error ->
                val sentence = ink.context.resources.sentence(error)
                if (read == null) fail(sentence) else house.complain(sentence)
                refused()
            }
            // A slower answer never overtakes quicker fingers; after a refusal what is on record is shown again.
            if (number == latest) read?.let(::show)
        }
    }

    /** Whoever holds the phone has walked on: the way is another, and nothing else. */
    private fun moved() {
        val (id, here) = patch to house.position.best?.fix
        readAt = SystemClock.elapsedRealtime()
        house.calls.make({ it.wayBack(id, here) }) { result ->
            val (page, way) = (read ?: return@make) to (result.getOrNull()?.patch ?: return@make)
            val moved = page.copy(line = page.line.copy(metres = way.metres, bearing = way.bearing, inside = way.inside))
            read = moved
            show(moved)
        }
    }

    private fun fail(sentence: String) = leaves.show(ink.words(sentence), ink.thumb(words(R.string.app_try_again)) { shown() })

    private fun show(page: PatchPage) {
        if (drawn != leaf) {
            sections = sections(leaf, remembered.also { remembered = null })
            val body = ink.column()
            sections.forEachIndexed { at, section -> body.put(ink, section.view, if (at == 0) 0 else Ink.MARGIN) }
            leaves.show(body, null)
            leaves.scrolled = if (leaf == Leaf.ALL) scrolledTo else 0
            drawn = leaf
        }
        sections.forEach { it.show(page) }
        leaves.below(if (leaf == Leaf.ALL) thumb(page) else ink.thumb(words(R.string.app_done)) { turn(Leaf.ALL) })
    }

    private fun sections(leaf: Leaf, typed: Bundle?): List<Section> = when (leaf) {
        Leaf.ALL -> listOf(Head(this), History(this), Rows(this))
        Leaf.SEASON -> listOf(OneSeason(this, season))
        Leaf.EARLIER -> listOf(Earlier(this, typed))
        Leaf.REST -> listOf(Resting(this))
        Leaf.AMEND -> listOf(Amending(this, typed))
        Leaf.PLACE -> listOf(Whereabouts(this, typed))
        Leaf.MERGE -> listOf(Merging(this))
    }

    /** The way back, or, in the patch, the look in one touch; and the last act taken back. */
    private fun thumb(page: PatchPage): View? {
        val undo = UNDO[page.last]?.let { ink.button(words(it)) { once { book -> book.undoPatch(patch) } } }
        if (page.deleted) return undo
        val (next, other) = Step.of(page).let { it to it.other(page) }
        // In large type the page itself needs the room, and has the other step.
        if (ink.largeType || other == null) return ink.beside(undo, ink.thumb(words(next.words)) { step(next) })
        return ink.column(ink.thumb(words(next.words)) { step(next) }).apply {
            put(ink, ink.beside(undo, ink.button(words(other.words)) { step(other) }))
        }
    }

    override fun step(step: Step) = when (step) {
        Step.WAY -> house.go(Stop(Place.WAY, about = patch))
        Step.NOTHING -> look(NOTHING)
    }

    private companion object {
        const val LEAF = "leaf"
        const val SEASON = "season"
        const val SCROLLED = "scrolled"
        const val TYPED = "typed"
        const val NOTHING = "nothing"
        const val EVERY_MS = 5000L

        /** Its founding is not undone by a touch in passing: a patch is deleted where that is said. */
        val UNDO = mapOf(
            PatchLast.LOOKED to R.string.patch_undo_looked,
            PatchLast.RESTED to R.string.patch_undo_rested,
            PatchLast.MERGED to R.string.patch_undo_merged,
            PatchLast.AMENDED to R.string.patch_undo_amended,
            PatchLast.DELETED to R.string.patch_undo_deleted,
        )
    }
}
