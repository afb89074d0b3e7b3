package trug.phone.page.way

import android.view.Gravity
import android.view.View
import android.widget.FrameLayout
import android.widget.LinearLayout
import android.widget.Space
import kotlin.math.abs
import kotlin.math.roundToInt
import trug.core.InPatch
import trug.core.WayBack
import trug.phone.R
import trug.phone.draw.Ink
import trug.phone.draw.put
import trug.phone.page.patch.say
import trug.phone.position.Reading
import trug.phone.words.bearing
import trug.phone.words.far
import trug.phone.words.joined
import trug.phone.words.lastLook
import trug.phone.words.listed
import trug.phone.words.patch
import trug.phone.words.rest
import trug.phone.words.way

/** What the way looks like: the arrow, how far, which way; and how far that can be trusted. */
internal class Signpost(private val ink: Ink, private val hasCompass: Boolean) {
    private val context = ink.context
    private val name = ink.part("")
    private val look = ink.words("", colour = ink.quiet).apply { accessibilityLiveRegion = View.ACCESSIBILITY_LIVE_REGION_POLITE }
    private val arrow = ArrowView(ink)
    private val far = ink.words("", if (ink.largeType) LARGE else HUGE, bold = true).apply { fontFeatureSettings = LINED_UP }
    private val bearing = ink.words("", Ink.HEAD).apply { fontFeatureSettings = LINED_UP }
    private val turn = ink.words("", Ink.HEAD)
    private val trust = ink.words("", colour = ink.quiet)
    private val old = ink.words("", bold = true).apply { accessibilityLiveRegion = View.ACCESSIBILITY_LIVE_REGION_POLITE }
    private val compass = ink.words("", colour = ink.quiet)

    /**
     * What a screen reader says: not every metre, but what is news. It lies behind the words and not around them, because a region that
     * is read aloud is read again whenever something in it changes.
     */
    private val told = Space(context).apply { accessibilityLiveRegion = View.ACCESSIBILITY_LIVE_REGION_POLITE }
    private val words = FrameLayout(context).apply {
        addView(told, FrameLayout.LayoutParams(FILL, FILL))
        addView(
            ink.column(far, bearing, turn).apply { importantForAccessibility = View.IMPORTANT_FOR_ACCESSIBILITY_NO_HIDE_DESCENDANTS },
            FrameLayout.LayoutParams(FILL, FrameLayout.LayoutParams.WRAP_CONTENT),
        )
    }
    private var spoken: Spoken? = null
    private var way: WayBack? = null
    private var held: Held? = null
    private var declination = 0.0
    val view: View = ink.column(name, look, beside(), trust, old, compass)

    /** On a phone on its side the arrow stands beside its words, else above them. */
    private fun beside(): View {
        val isLow = context.resources.configuration.run { screenWidthDp > screenHeightDp }
        if (!isLow) listOf(far, bearing, turn).forEach { it.gravity = Gravity.CENTER_HORIZONTAL }
        return LinearLayout(context).apply {
            orientation = if (isLow) LinearLayout.HORIZONTAL else LinearLayout.VERTICAL
            gravity = Gravity.CENTER_VERTICAL
            addView(arrow, LinearLayout.LayoutParams(ink.dp(ARROW), ink.dp(ARROW)).apply { gravity = if (isLow) Gravity.CENTER_VERTICAL else Gravity.CENTER_HORIZONTAL })
            addView(words, if (isLow) LinearLayout.LayoutParams(0, LinearLayout.LayoutParams.WRAP_CONTENT, 1f) else ink.across(Ink.GAP))
        }
    }

    fun show(way: WayBack, from: Reading?) {
        this.way = way
        val patch = way.patch
        name.say(context.patch(patch.name, patch.kind))
        look.say(context.resources.joined(listOfNotNull(context.lastLook(patch.lastLook, patch.lastOutcome, way.now), context.rest(patch.restsUntil, way.now))))
        val metres = patch.metres
        val isIn = patch.inside == InPatch.YES
        far.say(if (metres == null) "" else if (isIn) context.getString(R.string.way_in_it) else context.resources.far(metres))
        bearing.say(
            when {
                metres == null -> ""
                isIn -> patch.bearing?.let { context.getString(R.string.way_middle, context.resources.way(metres, it)) }.orEmpty()
                else -> patch.bearing?.let(context.resources::bearing).orEmpty()
            },
        )
        val accuracy = from?.accuracyM
        trust.say(
            when {
                metres == null -> ""
                patch.inside == InPatch.PERHAPS -> 
                    context.resources.joined(listOf(context.getString(R.string.way_perhaps), context.getString(R.string.way_accuracy, accuracy?.roundToInt() ?: 0)))
                accuracy == null -> context.getString(R.string.way_accuracy_none)
                else -> context.getString(R.string.way_accuracy, accuracy.roundToInt())
            },
        )
        point()
        speak()
    }

    /** The phone is held another way. */
    fun turn(held: Held, declination: Double, isSure: Boolean) {
        this.held = held
        this.declination = declination
        compass.say(if (isSure) "" else context.getString(R.string.way_unsure))
        point()
        speak()
    }

    /** The position is so many seconds old; none while it is fresh. */
    fun aged(seconds: Int?) {
        // Said in tens: a screen reader need not count.
        old.say(seconds?.let { (it / TENS) * TENS }?.let { context.resources.getQuantityString(R.plurals.way_old, it, it) }.orEmpty())
        arrow.isFaint = seconds != null
    }

    private fun point() {
        val patch = way?.patch
        val bearing = patch?.bearing?.takeUnless { patch.inside == InPatch.YES }
        val held = held
        arrow.visibility = if (bearing == null || (hasCompass && held == null)) View.GONE else View.VISIBLE
        // What is said of the arrow is said where there is one.
        if (!hasCompass) compass.say(if (bearing == null) "" else context.getString(R.string.way_no_compass))
        if (bearing == null) return turn.say("")
        val magnetic = bearing - declination
        arrow.points = (held?.arrow(magnetic) ?: bearing).toFloat()
        turn.say(held?.let { context.getString(TURNS[side(it.turn(magnetic))]) }.orEmpty())
    }

    private fun speak() {
        val patch = way?.patch ?: return
        val metres = patch.metres ?: return
        val now = Spoken(metres, patch.bearing, patch.inside == InPatch.YES, held?.let { held -> patch.bearing?.let { held.turn(it - declination) } })
        if (spoken?.let(now::isNewsAfter) == false) return
        spoken = now
        told.contentDescription = context.resources.listed(listOf(far, bearing, turn).map { it.text.toString() })
    }

    private companion object {
        const val HUGE = 64f
        const val LARGE = 40f
        const val FILL = FrameLayout.LayoutParams.MATCH_PARENT
        const val ARROW = 200
        const val TENS = 10
        const val LINED_UP = "tnum"
        val TURNS = listOf(
            R.string.way_turn_ahead, R.string.way_turn_ahead_right, R.string.way_turn_right, R.string.way_turn_behind_right,
            R.string.way_turn_behind, R.string.way_turn_behind_left, R.string.way_turn_left, R.string.way_turn_ahead_left,
        )
    }
}

/** What was last said of a way: how far, which way, whether one is there, and how far one had to turn about, where that is known. */
internal data class Spoken(val metres: Double, val bearing: Double?, val isIn: Boolean, val turn: Double?) {
    /** Whether this is worth saying after that: a tenth of the way more or less and at least ten metres, or an eighth of the round. */
    fun isNewsAfter(last: Spoken): Boolean = isIn != last.isIn ||
        (!isIn && abs(metres - last.metres) >= maxOf(LEAST, last.metres * SHARE)) ||
        (!isIn && if (turn == null) differ(bearing, last.bearing) else differ(turn, last.turn))

    private fun differ(one: Double?, other: Double?): Boolean =
        if (one == null || other == null) one != other else abs(around(one - other)) >= EIGHTH

    private companion object {
        const val LEAST = 10.0
        const val SHARE = 0.1
        const val EIGHTH = 45.0
    }
}

/** In which eighth of the round a turn lies, from straight ahead by the right. */
internal fun side(turn: Double): Int = (turn / SIDE).roundToInt().mod(SIDES)

private const val SIDE = 45.0
private const val SIDES = 8
