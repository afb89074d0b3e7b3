package trug.phone.page.ill

import android.content.ActivityNotFoundException
import android.content.Intent
import android.net.Uri
import android.os.Bundle
import android.view.View
import trug.core.DoctorSheet
import trug.core.IllPage
import trug.phone.R
import trug.phone.app.House
import trug.phone.app.Page
import trug.phone.draw.Ink
import trug.phone.draw.Leaves
import trug.phone.draw.Speaks
import trug.phone.words.Help
import trug.phone.words.sentence

/** The leaves of the page. */
internal enum class Leaf { HELP, COUNTRY, SOURCES, SHEET, MEAL }

/** What leaves may ask for. */
internal interface Bedside : Speaks {
    val house: House
    override val ink: Ink get() = house.ink

    /** Opens a leaf; [meal] is the one that it is about. */
    fun turn(to: Leaf, meal: String? = null)

    /** Whom to ring is told for another country. */
    fun live(country: String)

    /** Opens the telephone at a number; nobody is rung yet. */
    fun ring(number: String)

    /** Something could not be done. */
    fun complain(error: Throwable) = house.complain(ink.context.resources.sentence(error))
}

/** *Someone is ill*. What to do and whom to ring stand here before anything is loaded, and when the notebook will not open. */
internal class Ill(override val house: House, saved: Bundle?) : Page, Bedside {
    private val context = ink.context
    override val title = R.string.ill_title
    private val leaves = Leaves(ink)
    override val view: View = leaves.view
    private var leaf = Leaf.entries.find { it.name == saved?.getString(LEAF) } ?: Leaf.HELP
    private var country = saved?.getString(COUNTRY) ?: country(context)
    private var about = saved?.getString(ABOUT)
    private var scrolledTo = saved?.getInt(SCROLLED) ?: 0
    private var read: Result<IllPage>? = null
    private var meal: MealLeaf? = null

    init {
        draw()
        leaves.scrolled = scrolledTo
    }

    override fun shown() = read()

    override fun left() {
        meal?.flush()
    }

    override fun back(): Boolean {
        if (leaf == Leaf.HELP) return false
        meal?.flush()
        turn(Leaf.HELP)
        return true
    }

    override fun save(into: Bundle) {
        into.putString(LEAF, leaf.name)
        into.putString(COUNTRY, country)
        into.putString(ABOUT, meal?.id ?: about)
        into.putInt(SCROLLED, leaves.scrolled)
    }

    override fun turn(to: Leaf, meal: String?) {
        house.complain(null)
        leaf = to
        about = meal
        this.meal = null
        draw()
        leaves.scrolled = 0
        if (to == Leaf.HELP || to == Leaf.MEAL) read()
    }

    override fun live(country: String) {
        this.country = country
        turn(Leaf.HELP)
    }

    override fun ring(number: String) {
        try {
            context.startActivity(Intent(Intent.ACTION_DIAL, Uri.fromParts("tel", number.filter { it.isDigit() || it == '+' }, null)))
        } catch (_: ActivityNotFoundException) {
            house.complain(words(R.string.ill_ring_none, number))
        }
    }

    private fun read() = house.calls.make({ it.ill() }) { answered ->
        val first = read == null
        read = answered
        val drawn = meal
        when {
            drawn != null -> answered.getOrNull()?.let(drawn::show)
            leaf == Leaf.HELP || leaf == Leaf.MEAL -> draw()
        }
        if (first) leaves.scrolled = scrolledTo
    }

    private fun draw() {
        val help = Help.page(country)
        when (leaf) {
            Leaf.HELP -> keepPlace { leaves.show(helpLeaf(this, help, read), helpThumb(this, help)) }
            Leaf.COUNTRY -> leaves.show(countryLeaf(this, help), null)
            Leaf.SOURCES -> leaves.show(sourcesLeaf(this, help), null)
            Leaf.SHEET -> sheet()
            Leaf.MEAL -> meal()
        }
    }

    private fun keepPlace(show: () -> Unit) {
        val place = leaves.scrolled
        show()
        leaves.scrolled = place
    }

    private fun sheet() {
        leaves.show(ink.words(words(R.string.app_busy), colour = ink.quiet), null)
        val asked = about
        house.calls.make({ it.doctorSheet(asked) }) { answered ->
            if (leaf != Leaf.SHEET || about != asked) return@make
            answered.onSuccess { sheet: DoctorSheet -> leaves.show(sheetLeaf(this, sheet), null) }
                .onFailure { leaves.show(ink.words(context.resources.sentence(it)), ink.thumb(words(R.string.app_try_again), ::sheet)) }
        }
    }

    private fun meal() {
        val read = read ?: return leaves.show(ink.words(words(R.string.app_busy), colour = ink.quiet), null)
        read.onSuccess { page ->
            val leaf = MealLeaf(this, page, about)
            meal = leaf
            leaves.show(leaf.view, leaf.thumb)
        }.onFailure { leaves.show(ink.words(context.resources.sentence(it)), ink.thumb(words(R.string.app_try_again), ::read)) }
    }

    private companion object {
        const val LEAF = "leaf"
        const val COUNTRY = "country"
        const val ABOUT = "about"
        const val SCROLLED = "scrolled"
    }
}
