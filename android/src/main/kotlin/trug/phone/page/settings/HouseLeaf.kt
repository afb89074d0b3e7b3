package trug.phone.page.settings

import android.os.Bundle
import trug.core.HousePage
import trug.phone.R
import trug.phone.app.House
import trug.phone.draw.put
import trug.phone.draw.row

/** The owner's own rules. */
internal class HouseLeaf(house: House, saved: Bundle?) : Leaf(house, R.string.house_title, saved) {
    init {
        busy()
    }

    override fun shown() = ask({ it.house() }, ::draw)

    private fun draw(page: HousePage) {
        val body = ink.column(ink.words(words(R.string.house_help), colour = ink.quiet))
        if (page.rules.isEmpty()) body.put(ink, ink.words(words(R.string.settings_none)))
        page.rules.forEach { rule ->
            body.put(ink, row(ink, rule.words, if (rule.readable) "" else words(R.string.house_unread)) { turn("$RULE:${rule.id}") }, 0)
        }
        show(body, ink.thumb(words(R.string.house_new)) { turn(NEW_RULE) })
    }
}

/** One rule, to be taken back: not where a finger only passes. */
internal class RuleLeaf(house: House, private val id: String, saved: Bundle?) : Leaf(house, R.string.house_rule, saved) {
    init {
        busy()
    }

    override fun shown() = ask({ it.house() }, ::draw)

    private fun draw(page: HousePage) {
        val rule = page.rules.find { it.id == id } ?: return house.leave(this)
        val body = ink.column(ink.head(rule.words))
        body.put(ink, ink.words(words(if (rule.readable) R.string.house_help else R.string.house_unread), colour = ink.quiet))
        show(body, ink.thumb(words(R.string.house_take_back)) { once({ it.removeHouseRule(id) }) { house.leave(this) } })
    }
}
