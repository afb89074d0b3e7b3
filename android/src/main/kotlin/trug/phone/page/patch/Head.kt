package trug.phone.page.patch

import android.view.View
import kotlin.math.roundToInt
import trug.core.InPatch
import trug.core.PatchPage
import trug.phone.R
import trug.phone.draw.put
import trug.phone.words.called
import trug.phone.words.joined
import trug.phone.words.lastLook
import trug.phone.words.listed
import trug.phone.words.patch
import trug.phone.words.rest
import trug.phone.words.rounded
import trug.phone.words.wayTo

/** Where a patch is, in words. */
internal fun placeOf(desk: Desk, page: PatchPage): String {
    val place = page.line.place ?: return desk.words(R.string.patches_no_place)
    val within = place.accuracyM?.roundToInt() ?: return place.name
    return desk.words(R.string.patch_place_within, place.name, within)
}

/** What a patch is called, the way there, the last look and the rest, and the looks that are noted in one touch. */
internal class Head(private val desk: Desk) : Section {
    private val ink = desk.ink
    private val context = ink.context
    private val name = ink.column()
    private val way = ink.words("", bold = true).apply { fontFeatureSettings = "tnum" }
    private val place = ink.words("", colour = ink.quiet)

    /** Told when a touch has noted a look. */
    private val look = ink.words("").apply { accessibilityLiveRegion = View.ACCESSIBILITY_LIVE_REGION_POLITE }
    private val rest = ink.words("", bold = true)
    private val step = ink.column()
    private val looks = ink.beside(looked(R.string.patch_looked_seen, "seen"), looked(R.string.patch_looked_taken, "taken"))
    override val view = ink.column(name, way, place).apply {
        put(ink, look)
        put(ink, rest, 0)
        put(ink, step, 0)
        put(ink, looks)
    }
    private var stepShown: Step? = null
    private var shown: PatchPage? = null

    /** What stands at the thumb as well, where that has room for it. */
    private fun other(other: Step?) {
        if (other == stepShown) return
        stepShown = other
        step.removeAllViews()
        other?.let { step.put(ink, ink.button(desk.words(it.words)) { desk.step(it) }) }
    }

    private fun looked(words: Int, outcome: String) = ink.button(desk.words(words)) { desk.look(outcome) }

    override fun show(page: PatchPage) {
        val line = page.line
        way.say(
            when (line.inside) {
                InPatch.YES -> desk.words(R.string.way_in_it)
                InPatch.PERHAPS -> desk.words(R.string.patch_perhaps)
                else -> if (line.metres == null) "" else context.wayTo(line)
            },
        )
        other(Step.of(page).other(page).takeIf { ink.largeType && !page.deleted })
        if (page == shown) return
        shown = page
        name.removeAllViews()
        if (page.deleted) name.put(ink, ink.words(desk.words(R.string.patch_deleted), bold = true), 0)
        name.put(ink, ink.head(context.patch(line.name, line.kind)), 0)
        line.kind?.let { kind ->
            if (line.name != null) name.put(ink, ink.words(kind.english), 0)
            if (kind.latin.isNotEmpty()) name.put(ink, ink.latin(kind.latin), 0)
        }
        val grows = listOfNotNull(line.on?.let { context.resources.called("on", it) }, line.host)
        if (grows.isNotEmpty()) name.put(ink, ink.words(context.resources.listed(grows), colour = ink.quiet), 0)
        page.note?.let { name.put(ink, ink.words(it)) }
        place.say(context.resources.joined(listOf(placeOf(desk, page), desk.words(R.string.patch_reaches, rounded(line.reachM)))))
        look.say(context.lastLook(line.lastLook, line.lastOutcome, page.now))
        rest.say(context.rest(line.restsUntil, page.now).orEmpty())
        looks.visibility = if (page.deleted) View.GONE else View.VISIBLE
    }
}

/** Says something else, where it is something else: a screen reader repeats nothing. */
internal fun android.widget.TextView.say(words: String) {
    if (text.toString() != words) text = words
    visibility = if (words.isEmpty()) View.GONE else View.VISIBLE
}
