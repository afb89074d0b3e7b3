package trug.phone.page.find

import android.os.Bundle
import android.view.View
import trug.core.Book
import trug.core.FieldValue
import trug.core.FindPage
import trug.phone.R
import trug.phone.app.House
import trug.phone.app.Page
import trug.phone.draw.Ink
import trug.phone.draw.Leaves
import trug.phone.draw.Speaks
import trug.phone.draw.hideKeyboard
import trug.phone.draw.put
import trug.phone.words.sentence

/** The leaves of a find. */
internal enum class Part { ALL, WHY, PHOTO, ROLES, NAMES, AGES, WHERE, GROWS, NOTE }

/** Something that a leaf shows. It is made once; what it shows changes with the find. */
internal interface Section {
    val view: View

    fun show(page: FindPage)

    /** Keeps what is typed and not kept yet. */
    fun flush() = Unit

    /** Its leaf is left for another. */
    fun leave() = flush()

    /** What it remembers besides what is kept. */
    fun save(into: Bundle) = Unit
}

/** What sections may ask for. */
internal interface Desk : Speaks {
    val house: House
    override val ink: Ink get() = house.ink
    val find: String

    val better: Better

    /** Another leaf. */
    fun turn(to: Part, photo: String? = null)

    /** Sets fields, or empties them. */
    fun amend(vararg values: Pair<String, String?>, refused: () -> Unit = {})

    /** Anything else that the core does to the find. */
    fun act(call: (Book) -> FindPage)

    /** The same, where a second touch would do it twice, or to what nobody has seen yet: not while an answer is awaited. */
    fun once(call: (Book) -> FindPage)

    /** The same, where nobody asked for it: what was said of the last touch goes on being said. */
    fun quietly(call: (Book) -> FindPage)
}

/**
 * A find. Everything on it is kept at once, and the core answers every touch with the whole find as it then is: its advice stays
 * in view above while counts are typed below.
 */
internal class Find(override val house: House, override val find: String, standing: Boolean, saved: Bundle?) : Page, Desk {
    override val title = R.string.find_title
    private val advice = AdviceLine(this)
    private val leaves = Leaves(ink, advice.view)
    override val view: View = leaves.view
    override val better = Better(this, standing) { if (drawn == Part.WHERE) read?.let { page -> sections.forEach { it.show(page) } } }
    private var part = saved?.getString(PART)?.let { name -> Part.entries.find { it.name == name } } ?: Part.ALL
    private var photo = saved?.getString(PHOTO)
    private var scrolledTo = saved?.getInt(SCROLLED) ?: 0
    private var read: FindPage? = null
    private var drawn: Part? = null
    private var sections: List<Section> = emptyList()
    private var latest = 0
    private var waiting = 0

    /** Nothing is listened for behind another page: whoever has walked on must not take the find along. */
    private var inFront = false
    private var remembered = saved?.getBundle(PLACE)

    init {
        leaves.show(ink.words(words(R.string.app_busy), colour = ink.quiet), null)
    }

    override fun shown() {
        inFront = true
        // It may be listened for otherwise now: its owner may have been asked.
        better.stop()
        quietly { it.findPage(find) }
    }

    override fun left() {
        inFront = false
        sections.forEach(Section::flush)
        better.stop()
    }

    override fun back(): Boolean {
        if (part == Part.ALL) return false
        turn(Part.ALL)
        return true
    }

    override fun save(into: Bundle) {
        into.putString(PART, part.name)
        into.putString(PHOTO, photo)
        into.putInt(SCROLLED, if (drawn == Part.ALL) leaves.scrolled else scrolledTo)
        into.putBundle(PLACE, remembered ?: Bundle().also { place -> sections.forEach { it.save(place) } })
    }

    override fun turn(to: Part, photo: String?) {
        sections.forEach(Section::leave)
        view.hideKeyboard()
        if (drawn == Part.ALL) scrolledTo = leaves.scrolled
        part = to
        this.photo = photo
        read?.let(::show)
    }

    override fun amend(vararg values: Pair<String, String?>, refused: () -> Unit) =
        act(refused) { it.amendFind(find, values.map { (field, value) -> FieldValue(field, value) }) }

    override fun act(call: (Book) -> FindPage) = act({}, call)

    override fun once(call: (Book) -> FindPage) {
        if (waiting > 0) return
        sections.forEach(Section::flush)
        act(call)
    }

    override fun quietly(call: (Book) -> FindPage) = make(call, {}, {})

    private fun act(refused: () -> Unit, call: (Book) -> FindPage) {
        waiting++
        val answered = { waiting-- }
        make(
            call,
            {
                answered()
                if (inFront) house.complain(null)
            },
            {
                answered()
                refused()
            },
        )
    }

    private fun make(call: (Book) -> FindPage, done: () -> Unit, refused: () -> Unit) {
        val number = ++latest
        house.calls.make(call) { answered ->
            answered.onSuccess { page ->
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

    private fun fail(sentence: String) =
        leaves.show(ink.words(sentence), ink.thumb(words(R.string.app_try_again)) { shown() })

    private fun show(page: FindPage) {
        advice.show(page, part)
        if (drawn != part) {
            sections = sections(part)
            val body = ink.column()
            sections.forEachIndexed { at, section -> body.put(ink, section.view, if (at == 0) 0 else Ink.MARGIN) }
            leaves.show(body, null)
            leaves.scrolled = if (part == Part.ALL) scrolledTo else 0
            drawn = part
        }
        sections.forEach { it.show(page) }
        leaves.below(thumb(this, part, page))
        if (inFront) better.watch(page, always = part == Part.WHERE)
    }

    private fun sections(part: Part): List<Section> = when (part) {
        Part.ALL -> listOf(Photos(this), Naming(this), Counts(this), Signs(this), Taking(this), Rows(this))
        Part.WHY -> listOf(Why(this))
        Part.PHOTO -> listOf(OnePhoto(this, photo))
        Part.ROLES -> listOf(Roles(this))
        Part.NAMES -> listOf(NamesGiven(this))
        Part.AGES -> listOf(Ages(this))
        Part.WHERE -> listOf(Whereabouts(this, remembered.also { remembered = null }))
        Part.GROWS -> listOf(Grows(this))
        Part.NOTE -> listOf(Note(this))
    }

    private companion object {
        const val PART = "part"
        const val PHOTO = "photo"
        const val SCROLLED = "scrolled"
        const val PLACE = "place"
    }
}
