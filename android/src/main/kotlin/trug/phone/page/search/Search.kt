package trug.phone.page.search

import android.os.Bundle
import android.view.View
import android.widget.LinearLayout
import trug.core.SearchPage
import trug.phone.R
import trug.phone.app.House
import trug.phone.app.Page
import trug.phone.draw.Ink
import trug.phone.draw.Leaves
import trug.phone.draw.Speaks
import trug.phone.draw.part
import trug.phone.draw.put
import trug.phone.words.joined
import trug.phone.words.sentence

/** What is on record and what is known, by words: however they are spelt, and as they are typed. */
internal class Search(private val house: House, saved: Bundle?) : Page, Speaks {
    override val ink: Ink = house.ink
    override val title = R.string.search_title
    private val found = Found(house)
    private val entry = Entry(ink, saved?.getString(TYPED).orEmpty(), ::look)

    /** How much was found; said by a screen reader when it changes, after whatever it says of the typing. */
    private val count = ink.words("", colour = ink.quiet).apply { accessibilityLiveRegion = View.ACCESSIBILITY_LIVE_REGION_POLITE }
    private val leaves = Leaves(
        ink,
        ink.column(entry.view, count).apply {
            val (margin, gap) = ink.dp(Ink.MARGIN) to ink.dp(Ink.GAP)
            setPadding(margin, gap, margin, gap)
        },
    )
    override val view: View = leaves.view

    /** How many finds are shown at most. */
    private var most = saved?.getInt(MOST) ?: STEP

    /** How far it was scrolled, until that is so again. */
    private var scrollTo: Int? = saved?.getInt(SCROLLED)

    init {
        leaves.show(ink.words(words(if (entry.typed.isBlank()) R.string.search_help else R.string.app_busy), colour = ink.quiet), null)
    }

    override fun shown() = ask()

    override fun left() = entry.stop()

    override fun save(into: Bundle) {
        into.putString(TYPED, entry.typed)
        into.putInt(MOST, most)
        into.putInt(SCROLLED, scrollTo ?: leaves.scrolled)
    }

    /** Something else is typed. */
    private fun look() {
        most = STEP
        ask()
    }

    private fun ask() {
        val typed = entry.typed
        val room = most
        val here = house.position.best?.fix
        if (typed.isBlank()) return nothingAsked()
        house.calls.make({ it.search(typed, here, room.toUInt()) }) { answered ->
            // What was asked before says nothing of what is typed now.
            if (typed != entry.typed || room != most) return@make
            answered.onSuccess(::draw).onFailure(::failed)
        }
    }

    private fun nothingAsked() {
        count.text = ""
        leaves.show(ink.words(words(R.string.search_help), colour = ink.quiet), null)
    }

    private fun draw(page: SearchPage) {
        val finds = page.finds.size + page.moreFinds.toInt()
        val patches = page.patches.size + page.morePatches.toInt()
        val kinds = page.kinds.size + page.moreKinds.toInt()
        val counts = listOf(R.plurals.search_count_finds to finds, R.plurals.search_count_patches to patches, R.plurals.search_count_kinds to kinds)
        val told = counts.filter { (_, number) -> number > 0 }.map { (words, number) -> counted(words, number) }
        count.text = if (told.isEmpty()) words(R.string.search_none) else ink.context.resources.joined(told)
        val body = ink.column()
        if (finds > 0) {
            body.head(R.string.search_finds)
            found.finds(body, page.finds, page.moreFinds.toInt(), ::more)
        }
        if (patches > 0) {
            body.head(R.string.search_patches)
            found.patches(body, page.patches, page.morePatches.toInt())
        }
        if (kinds > 0) {
            body.head(R.string.search_kinds)
            found.kinds(body, page.kinds, page.moreKinds.toInt())
        }
        if (told.isEmpty()) none(body, page.instead)
        val stays = scrollTo ?: if (isMore) leaves.scrolled else 0
        isMore = false
        scrollTo = null
        leaves.show(body, null)
        leaves.scrolled = stays
    }

    /** The first part needs no rule: the field is above it. */
    private fun LinearLayout.head(words: Int) = if (childCount == 0) put(ink, ink.part(words(words)), 0) else part(ink, words(words))

    private fun none(body: LinearLayout, instead: String?) {
        if (instead == null) return body.put(ink, ink.words(words(R.string.search_none_help)))
        body.put(ink, ink.words(words(R.string.search_meant)))
        body.put(ink, ink.button(instead) { entry.take(instead) })
    }

    /** Whether what comes is more of the same. */
    private var isMore = false

    private fun more() {
        most += STEP
        isMore = true
        ask()
    }

    private fun failed(error: Throwable) {
        count.text = ""
        leaves.show(ink.words(ink.context.resources.sentence(error)), ink.thumb(words(R.string.app_try_again), ::tryAgain))
    }

    private fun tryAgain() {
        leaves.below(null)
        ask()
    }

    private companion object {
        const val TYPED = "typed"
        const val MOST = "most"
        const val SCROLLED = "scrolled"
        const val STEP = 20
    }
}
