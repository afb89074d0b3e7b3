package trug.phone.page.settings

import android.os.Bundle
import trug.phone.R
import trug.phone.app.Fit
import trug.phone.app.House
import trug.phone.app.Look
import trug.phone.draw.Choice
import trug.phone.draw.part
import trug.phone.draw.put

/** The look of the pages, the size of their type, the hand. Each is seen as soon as it is chosen. */
internal class LookLeaf(house: House, saved: Bundle?) : Leaf(house, R.string.look_title, saved) {
    init {
        val fit = Fit(context)
        val body = ink.column(ink.part(words(R.string.app_look)))
        body.put(
            ink,
            Choice(ink, Look.entries.map { it.name to words(it.words) }) { name, _ -> Look.entries.find { it.name == name }?.let { house.look = it } }
                .apply { show(setOf(house.look.name)) }.view,
        )
        body.part(ink, words(R.string.look_size))
        body.put(
            ink,
            Choice(ink, Fit.PERCENTS.map { "$it" to words(R.string.look_size_percent, it) }) { percent, _ -> house.fit { this.percent = percent.toInt() } }
                .apply { show(setOf("${fit.percent}")) }.view,
        )
        body.put(ink, ink.words(words(R.string.look_size_help), colour = ink.quiet))
        body.part(ink, words(R.string.look_hand))
        body.put(
            ink,
            Choice(ink, listOf(RIGHT to words(R.string.look_hand_right), LEFT to words(R.string.look_hand_left))) { hand, _ -> house.fit { leftHanded = hand == LEFT } }
                .apply { show(setOf(if (fit.leftHanded) LEFT else RIGHT)) }.view,
        )
        body.put(ink, ink.words(words(R.string.look_hand_help), colour = ink.quiet))
        body.put(ink, ink.words(words(R.string.look_motion), colour = ink.quiet))
        show(body, ink.thumb(words(R.string.app_done)) { house.leave(this) })
    }

    private companion object {
        const val LEFT = "left"
        const val RIGHT = "right"
    }
}
