package trug.phone.page.ill

import android.view.View
import android.widget.LinearLayout
import trug.core.Book
import trug.core.FindLine
import trug.core.IllPage
import trug.core.MealNoted
import trug.core.MealShown
import trug.phone.R
import trug.phone.draw.Choice
import trug.phone.draw.Field
import trug.phone.draw.Ink
import trug.phone.draw.part
import trug.phone.draw.pictured
import trug.phone.draw.put
import trug.phone.words.choices
import trug.phone.words.day

/** One meal. It is kept as soon as it says what was eaten, and from then on with every touch. */
internal class MealLeaf(private val bedside: Bedside, page: IllPage, meal: String?) {
    private val ink = bedside.ink
    private val now = page.now
    private val offered = page.finds

    /** Its id, once it is kept. Set where calls are made, one after the other. */
    @Volatile
    var id: String? = meal
        private set
    private var kept: MealShown? = page.meals.find { it.id == meal }
    private var noted: MealNoted = kept?.noted() ?: nothing()

    private val what = Field(ink, words(R.string.ill_what), Field.Kind.LINES) { keep(noted.copy(what = it)) }
    private val finds = ink.column()
    private val rest = ink.column()
    private val time = ink.column()
    private val takenFor = Field(ink, words(R.string.ill_taken_for)) { typed ->
        keep(noted.copy(takenFor = typed.split(',').map(String::trim).filter(String::isNotEmpty)))
    }
    private val amount = Field(ink, words(R.string.ill_amount)) { keep(noted.copy(amount = it)) }
    private val prepared = choice("prepared", R.string.ill_how) { keep(noted.copy(prepared = it)) }
    private val alcohol = choice("alcohol", R.string.ill_alcohol) { keep(noted.copy(alcohol = it)) }
    private val eaters = Eaters(bedside) { keep(noted.copy(eaters = it)) }
    private val others = Field(ink, words(R.string.ill_others), Field.Kind.WHOLE) { keep(noted.copy(others = it.toUIntOrNull())) }
    private val left = Field(ink, words(R.string.ill_left), Field.Kind.LINES) { keep(noted.copy(left = it)) }
    private val note = Field(ink, words(R.string.ill_note), Field.Kind.LINES) { keep(noted.copy(note = it)) }
    private val fields = listOf(what, takenFor, amount, others, left, note)

    val view: View = ink.column(what.view, finds, rest)
    val thumb: LinearLayout = ink.column()

    init {
        rest.part(ink, words(R.string.ill_when))
        rest.put(ink, time)
        rest.part(ink, words(R.string.ill_who))
        rest.put(ink, eaters.view)
        rest.put(ink, others.view)
        rest.part(ink, words(R.string.ill_how))
        listOf(amount.view, prepared.view).forEach { rest.put(ink, it) }
        rest.part(ink, words(R.string.ill_alcohol))
        rest.put(ink, alcohol.view)
        rest.part(ink, words(R.string.ill_further))
        listOf(takenFor.view, left.view, note.view).forEach { rest.put(ink, it) }
        draw()
    }

    /** Another look at the records: what is typed here and not kept yet stays. */
    fun show(page: IllPage) {
        page.meals.find { it.id == id }?.let(::show)
    }

    fun flush() {
        fields.forEach(Field::flush)
        eaters.flush()
    }

    private fun show(meal: MealShown) {
        kept = meal
        noted = meal.noted()
        draw()
    }

    private fun keep(changed: MealNoted) {
        if (changed == noted) return
        noted = changed
        draw()
        if (!changed.saysWhat()) return
        call({ book -> (id?.let { book.amendMeal(it, changed) } ?: book.noteMeal(changed)).also { id = it.id } }, changed)
    }

    private fun call(make: (Book) -> MealShown?, changed: MealNoted?) = bedside.house.calls.make(make) { answered ->
        answered.onSuccess { meal ->
            when {
                meal == null -> bedside.turn(Leaf.HELP)
                // What was touched since is on its way.
                changed == null || changed == noted -> show(meal)
            }
        }.onFailure(bedside::complain) // What was noted stays on the page, and goes along with the next touch.
    }

    private fun draw() {
        what.show(noted.what.orEmpty())
        takenFor.show(noted.takenFor.joinToString())
        amount.show(noted.amount.orEmpty())
        others.show(noted.others?.toString().orEmpty())
        left.show(noted.left.orEmpty())
        note.show(noted.note.orEmpty())
        prepared.show(setOfNotNull(noted.prepared))
        alcohol.show(setOfNotNull(noted.alcohol))
        eaters.show(noted.eaters)
        rest.visibility = if (noted.saysWhat()) View.VISIBLE else View.GONE
        drawFinds()
        drawTime()
        drawThumb()
    }

    private fun drawFinds() {
        finds.removeAllViews()
        val all = (kept?.finds.orEmpty() + offered).distinctBy { it.id }
        if (all.isEmpty()) return
        finds.put(ink, ink.words(words(R.string.ill_finds), colour = ink.quiet))
        val (eaten, further) = all.partition { it.id in noted.finds }
        eaten.forEach { finds.put(ink, find(it, R.string.ill_find_eaten) { keep(noted.copy(finds = noted.finds - it.id)) }, 0) }
        val shown = if (noted.saysWhat()) further.take(FEW) else further.take(MANY)
        shown.forEach { finds.put(ink, find(it, R.string.ill_find_not) { keep(noted.copy(finds = noted.finds + it.id)) }, 0) }
    }

    private fun find(find: FindLine, state: Int, touched: () -> Unit): View {
        val name = find.name?.english ?: words(R.string.now_no_name)
        val day = find.at?.let { ink.context.day(it.day, now) }
        return pictured(ink, find.thumbnail, name, words(state, day ?: words(R.string.ill_no_time)), touched)
    }

    private fun drawTime() {
        time.removeAllViews()
        val at = noted.at
        if (at != null) time.put(ink, ink.words(bedside.told(at.shown(), now), bold = true), 0)
        time.put(
            ink,
            ink.beside(
                ink.button(words(R.string.ill_when_now)) { keep(noted.copy(at = now())) },
                ink.button(words(R.string.ill_when_other)) { askTime(ink.context, at) { keep(noted.copy(at = it)) } },
            ),
        )
    }

    private fun drawThumb() {
        thumb.removeAllViews()
        val meal = id
        if (kept == null || meal == null) return thumb.put(ink, ink.words(words(R.string.ill_kept_soon), colour = ink.quiet), 0)
        thumb.put(
            ink,
            ink.beside(
                ink.button(words(R.string.app_undo)) { flush().also { call({ it.undoMeal(meal) }, null) } },
                ink.button(words(R.string.ill_sheet), filled = true) { flush().also { bedside.turn(Leaf.SHEET, meal) } },
            ),
            0,
        )
    }

    private fun choice(field: String, of: Int, chosen: (String?) -> Unit) =
        Choice(ink, ink.context.resources.choices(field), words(of)) { word, isChosen -> chosen(word.takeIf { isChosen }) }

    private fun words(id: Int, vararg arguments: Any) = bedside.words(id, *arguments)

    private companion object {
        const val FEW = 3
        const val MANY = 20
    }
}
