package trug.phone.page.patches

import android.content.Context
import android.os.Bundle
import android.os.SystemClock
import android.view.View
import android.widget.LinearLayout
import trug.core.PatchLine
import trug.core.PatchOrder
import trug.core.PatchesPage
import trug.phone.R
import trug.phone.app.House
import trug.phone.app.Page
import trug.phone.app.Place
import trug.phone.app.Stop
import trug.phone.draw.Choice
import trug.phone.draw.Ink
import trug.phone.draw.Leaves
import trug.phone.draw.Speaks
import trug.phone.draw.hideKeyboard
import trug.phone.draw.part
import trug.phone.draw.put
import trug.phone.words.joined
import trug.phone.words.lastLook
import trug.phone.words.patch
import trug.phone.words.rest
import trug.phone.words.sentence
import trug.phone.words.wayTo

/** All patches, in the order that was chosen last; and founding one by hand. */
internal class Patches(private val house: House, saved: Bundle?) : Page, Speaks {
    override val ink = house.ink
    override val title = R.string.patches_title
    private val context = ink.context
    private val memory = context.getSharedPreferences(FILE, Context.MODE_PRIVATE)
    private val leaves = Leaves(ink)
    override val view: View = leaves.view
    private val orders = Choice(ink, ORDERS.map { (order, label) -> order.name to words(label) }) { name, _ -> choose(PatchOrder.valueOf(name)) }
    private var founding: Founding? = saved?.getBundle(FOUNDING)?.let(::begun)
    private var scrolledTo = saved?.getInt(SCROLLED) ?: 0
    private var read: PatchesPage? = null
    private var readAt = 0L
    private var isPlaced = false

    /** What the list says that is drawn. */
    private var drawn: Any? = null

    /** The order; the one chosen last, whenever that was. */
    private var order: PatchOrder
        get() = PatchOrder.entries.find { it.name == memory.getString(ORDER, null) } ?: PatchOrder.NEAR
        set(order) = memory.edit().putString(ORDER, order.name).apply()

    init {
        leaves.show(ink.words(words(R.string.app_busy), colour = ink.quiet), null)
    }

    override fun shown() {
        read()
        house.position.listen {
            founding?.placed()
            if (!isPlaced || SystemClock.elapsedRealtime() - readAt > EVERY_MS) read()
        }
    }

    override fun left() = house.position.stop()

    override fun back(): Boolean {
        if (founding == null) return false
        view.hideKeyboard()
        founding = null
        draw()
        return true
    }

    override fun save(into: Bundle) {
        founding?.let { into.putBundle(FOUNDING, Bundle().also(it::save)) }
        into.putInt(SCROLLED, if (founding == null) leaves.scrolled else scrolledTo)
    }

    private fun choose(chosen: PatchOrder) {
        order = chosen
        scrolledTo = 0
        leaves.scrolled = 0
        read()
    }

    private fun read() {
        readAt = SystemClock.elapsedRealtime()
        val here = house.position.best?.fix
        val asked = order
        isPlaced = here != null
        house.calls.make({ it.patchesPage(here, asked) }) { answered ->
            answered.onSuccess { page ->
                // A slower answer never overtakes a quicker finger.
                if (asked != order) return@onSuccess
                val first = read == null
                read = page
                draw()
                if (first) leaves.scrolled = scrolledTo
            }.onFailure { error ->
                if (read == null) leaves.show(ink.words(context.resources.sentence(error)), ink.thumb(words(R.string.app_try_again), ::read))
                else house.complain(context.resources.sentence(error))
            }
        }
    }

    private fun draw() {
        val founding = founding
        if (founding != null) {
            founding.placed()
            drawn = null
            // Shown again it would lose what has the focus, and the keyboard with it.
            if (founding.view.parent == null) leaves.show(founding.view, founding.below)
            return
        }
        val page = read ?: return
        // Nobody's place on the page is lost to what reads the same.
        val said = listOf(order, house.position.isAllowed, page.patches.map { it.copy(metres = null, bearing = null) to context.wayTo(it) })
        if (said == drawn) return
        drawn = said
        val scrolled = leaves.scrolled
        leaves.show(body(page), ink.thumb(words(R.string.patches_found)) { begin() })
        leaves.scrolled = scrolled
    }

    private fun body(page: PatchesPage): LinearLayout = ink.column().apply {
        if (page.patches.isEmpty()) {
            put(ink, ink.words(words(R.string.patches_none)), 0)
            return@apply
        }
        orders.show(setOf(order.name))
        (orders.view.parent as? LinearLayout)?.removeView(orders.view)
        put(ink, orders.view, 0)
        if (page.patches.none { it.metres != null }) whereabouts().forEach { put(ink, it) }
        if (order == PatchOrder.KIND) {
            page.patches.groupBy { it.kind?.english }.forEach { (kind, patches) ->
                part(ink, kind ?: words(R.string.patches_no_kind))
                patches.forEach { put(ink, line(it, page), 0) }
            }
        } else {
            part(ink, counted(R.plurals.patches_count, page.patches.size))
            page.patches.forEach { put(ink, line(it, page), 0) }
        }
    }

    /** Why there are no ways, and how there may be some. */
    private fun whereabouts(): List<View> {
        val position = house.position
        return when {
            position.best != null -> emptyList()
            position.isAllowed -> listOf(ink.words(words(R.string.now_no_fix), colour = ink.quiet))
            else -> listOf(
                ink.words(words(R.string.patches_no_ways), colour = ink.quiet),
                ink.button(words(R.string.now_ask_position)) { house.askPosition() },
            )
        }
    }

    private fun line(patch: PatchLine, page: PatchesPage): View {
        val kind = patch.kind?.english?.takeIf { patch.name != null && order != PatchOrder.KIND }
        val look = context.lastLook(patch.lastLook, patch.lastOutcome, page.now)
        val about = context.resources.joined(listOfNotNull(kind, look, context.rest(patch.restsUntil, page.now)))
        val arrow = patch.bearing?.let { northUp(ink, it) }
        return patchRow(ink, context.patch(patch.name, patch.kind), context.wayTo(patch), about, arrow) {
            house.go(Stop(Place.PATCH, about = patch.id))
        }
    }

    private fun begin() {
        scrolledTo = leaves.scrolled
        founding = begun(null)
        draw()
        leaves.scrolled = 0
    }

    private fun begun(saved: Bundle?) = Founding(house, saved) { id ->
        founding = null
        house.go(Stop(Place.PATCH, about = id))
    }

    private companion object {
        const val FILE = "patches"
        const val ORDER = "order"
        const val FOUNDING = "founding"
        const val SCROLLED = "scrolled"
        const val EVERY_MS = 5000L
        val ORDERS = listOf(
            PatchOrder.NEAR to R.string.patches_order_near,
            PatchOrder.LAST_LOOK to R.string.patches_order_look,
            PatchOrder.KIND to R.string.patches_order_kind,
        )
    }
}
