package trug.phone.page.find

import android.os.Bundle
import android.view.View
import android.view.inputmethod.EditorInfo
import kotlin.math.roundToInt
import trug.core.FindPage
import trug.phone.R
import trug.phone.draw.Field
import trug.phone.draw.put
import trug.phone.words.called

/** Where a find is, in words. */
internal fun place(desk: Desk, page: FindPage): String {
    val place = page.place ?: return desk.words(R.string.find_where_none)
    val within = place.accuracyM?.roundToInt() ?: return place.name
    val words = if (desk.better.isImproving(page)) R.string.find_where_improving else R.string.find_where_within
    return desk.words(words, place.name, within)
}

/** Where it is: from this phone, or typed. */
internal class Whereabouts(private val desk: Desk, saved: Bundle?) : Section {
    private val ink = desk.ink
    private val place = ink.column()
    private val here = ink.column()
    private val typed = Field(ink, desk.words(R.string.find_where_typed), Field.Kind.NAME) { }
    private var tried = saved?.getString(TRIED).orEmpty()
    override val view: View = ink.column(ink.head(desk.words(R.string.find_where)), place, here, typed.view).apply {
        put(ink, ink.button(desk.words(R.string.find_where_set), touched = ::set))
    }

    init {
        typed.view.setText(saved?.getString(TYPED))
        typed.view.imeOptions = EditorInfo.IME_ACTION_DONE or EditorInfo.IME_FLAG_NO_FULLSCREEN
        typed.view.setOnEditorActionListener { _, action, _ -> (action == EditorInfo.IME_ACTION_DONE).also { if (it) set() } }
    }

    private fun set() {
        val text = typed.text
        tried = text
        desk.act { it.placeFindAt(desk.find, text) }
    }

    /** What was typed and not set yet is meant all the same. */
    override fun leave() {
        if (typed.text.isNotEmpty() && typed.text != tried) set()
    }

    override fun save(into: Bundle) {
        into.putString(TYPED, typed.text)
        into.putString(TRIED, tried)
    }

    override fun show(page: FindPage) {
        place.removeAllViews()
        place.put(ink, ink.words(place(desk, page), bold = true), 0)
        page.place?.let { place.put(ink, ink.words(ink.context.resources.called("got", it.got), colour = ink.quiet), 0) }
        here.removeAllViews()
        val position = desk.house.position
        val best = position.best
        when {
            !position.isAllowed -> here.put(ink, ink.button(desk.words(R.string.now_ask_position)) { desk.house.askPosition() })
            best == null -> here.put(ink, ink.words(desk.words(R.string.now_no_fix), colour = ink.quiet))
            else -> {
                val within = best.accuracyM?.roundToInt() ?: 0
                here.put(ink, ink.button(desk.words(R.string.find_where_here, within)) {
                    tried = typed.text
                    desk.act { it.placeFind(desk.find, best.fix) }
                })
            }
        }
    }

    private companion object {
        const val TYPED = "typed"
        const val TRIED = "tried"
    }
}
