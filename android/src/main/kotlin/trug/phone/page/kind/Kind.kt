package trug.phone.page.kind

import android.os.Bundle
import android.view.View
import android.widget.LinearLayout
import trug.core.Danger
import trug.core.KindPage
import trug.core.TakenFor
import trug.phone.R
import trug.phone.app.House
import trug.phone.app.Page
import trug.phone.app.Place
import trug.phone.app.Stop
import trug.phone.draw.Ink
import trug.phone.draw.Leaves
import trug.phone.draw.Speaks
import trug.phone.draw.part
import trug.phone.draw.put
import trug.phone.draw.row
import trug.phone.page.search.Found
import trug.phone.words.listed
import trug.phone.words.sentence

/** What Trug knows of a kind, what it is taken for, and what is on record of it. */
internal class Kind(private val house: House, private val kind: String, saved: Bundle?) : Page, Speaks {
    override val ink: Ink = house.ink
    override val title = R.string.kind_title
    private val found = Found(house)
    private val leaves = Leaves(ink)
    override val view: View = leaves.view
    private var most = saved?.getInt(MOST) ?: STEP
    private var isOpen = saved?.getBoolean(OPEN) ?: false
    private var scrollTo: Int? = saved?.getInt(SCROLLED)
    private var read: KindPage? = null

    init {
        leaves.show(ink.words(words(R.string.app_busy), colour = ink.quiet), null)
    }

    override fun shown() = ask()

    override fun save(into: Bundle) {
        into.putInt(MOST, most)
        into.putBoolean(OPEN, isOpen)
        into.putInt(SCROLLED, scrollTo ?: leaves.scrolled)
    }

    private fun ask() {
        val room = most
        val here = house.position.best?.fix
        house.calls.make({ it.kindPage(kind, here, room.toUInt()) }) { answered ->
            answered.onSuccess { page ->
                read = page
                draw(page)
            }.onFailure { error ->
                leaves.show(ink.words(ink.context.resources.sentence(error)), ink.thumb(words(R.string.app_try_again), ::ask))
            }
        }
    }

    private fun draw(page: KindPage) {
        val body = ink.column(ink.head(page.name.english))
        if (page.name.latin.isNotEmpty() && page.name.latin != page.name.english) body.put(ink, ink.latin(page.name.latin), 0)
        if (page.also.isNotEmpty()) body.put(ink, ink.words(words(R.string.kind_also, ink.context.resources.listed(page.also))))
        if (page.once.isNotEmpty()) body.put(ink, ink.words(words(R.string.kind_once, ink.context.resources.listed(page.once)), colour = ink.quiet))
        body.put(ink, danger(page.name.danger))
        if (page.kin.isNotEmpty()) {
            body.part(ink, words(R.string.kind_kin))
            found.kinds(body, page.kin)
        }
        if (page.cautions.isNotEmpty()) {
            body.part(ink, words(R.string.kind_cautions))
            page.cautions.forEach { body.put(ink, ink.words(it)) }
        }
        if (page.lookalikes.isNotEmpty()) {
            body.part(ink, words(R.string.kind_taken_for))
            page.lookalikes.forEach { body.put(ink, takenFor(it)) }
        }
        onRecord(body, page)
        if (page.shows.isNotEmpty()) shows(body, page)
        val scrolled = scrollTo ?: leaves.scrolled
        scrollTo = null
        leaves.show(body, below(page))
        leaves.scrolled = scrolled
    }

    private fun onRecord(body: LinearLayout, page: KindPage) {
        body.part(ink, words(R.string.search_finds))
        if (page.finds.isEmpty()) body.put(ink, ink.words(words(R.string.kind_finds_none), colour = ink.quiet))
        found.finds(body, page.finds, page.moreFinds.toInt(), ::more)
        if (page.patches.isEmpty()) return
        body.part(ink, words(R.string.search_patches))
        found.patches(body, page.patches, page.morePatches.toInt())
    }

    /** What it is to people, in words: danger in its black-edged band, and never that anything is fit to eat. */
    private fun danger(danger: Danger): View {
        val words = words(
            when (danger) {
                Danger.DEADLY -> R.string.kind_deadly
                Danger.HARMFUL -> R.string.kind_harmful
                Danger.INEDIBLE -> R.string.kind_inedible
                Danger.GATHERED -> R.string.kind_gathered
                Danger.NOT_KNOWN -> R.string.kind_not_known
            },
        )
        val isDangerous = danger == Danger.DEADLY || danger == Danger.HARMFUL
        return ink.words(words, bold = isDangerous).apply {
            if (!isDangerous) return@apply
            background = ink.edge()
            val pad = ink.dp(Ink.GAP)
            setPadding(pad, pad, pad, pad)
        }
    }

    private fun takenFor(other: TakenFor): View {
        val name = when (other.name.danger) {
            Danger.DEADLY -> words(R.string.work_danger_killed, other.name.english)
            Danger.HARMFUL -> words(R.string.kind_name_harms, other.name.english)
            else -> other.name.english
        }
        val apart = words(R.string.kind_apart, other.first, other.against, other.apart)
        return row(ink, name, apart) { house.go(Stop(Place.KIND, about = other.name.id)) }
    }

    private fun shows(body: LinearLayout, page: KindPage) {
        body.part(ink, words(R.string.kind_shows))
        if (!isOpen) {
            body.put(ink, ink.button(words(R.string.kind_shows_open)) { open() })
            return
        }
        page.shows.forEach { body.put(ink, ink.column(ink.words(it.what, colour = ink.quiet), ink.words(it.words))) }
    }

    private fun open() {
        isOpen = true
        read?.let(::draw)
    }

    private fun below(page: KindPage): View = ink.column(ink.words(words(R.string.work_in_doubt), bold = true)).apply {
        if (page.name.danger == Danger.NOT_KNOWN) return@apply
        put(ink, ink.button(words(R.string.kind_check)) { house.go(Stop(Place.WORK, suspect = kind)) })
    }

    private fun more() {
        most += STEP
        ask()
    }

    private companion object {
        const val MOST = "most"
        const val OPEN = "open"
        const val SCROLLED = "scrolled"
        const val STEP = 10
    }
}
