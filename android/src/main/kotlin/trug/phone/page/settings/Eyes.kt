package trug.phone.page.settings

import android.os.Bundle
import trug.core.SettingsPage
import trug.phone.R
import trug.phone.app.House
import trug.phone.draw.Choice
import trug.phone.draw.put

/** How often the key assumes that its observer is wrong. */
internal class EyesLeaf(house: House, saved: Bundle?) : Leaf(house, R.string.eyes_title, saved) {
    init {
        busy()
    }

    override fun shown() = ask({ it.settings() }, ::draw)

    private fun draw(page: SettingsPage) {
        val (least, most, now) = Triple(page.observerLeast.toInt(), page.observerMost.toInt(), page.observerPercent.toInt())
        // One that another device set may lie between.
        val offered = ((least..most step STEP) + now).distinct().sorted()
        val body = ink.column(ink.head(words(R.string.eyes_now, now)), ink.words(words(R.string.eyes_help)))
        val choice = Choice(ink, offered.map { "$it" to words(R.string.eyes_now, it) }) { percent, _ -> once({ it.assumeObserver(percent.toUInt()) }, ::draw) }
        body.put(ink, choice.apply { show(setOf("$now")) }.view)
        body.put(ink, ink.words(words(R.string.eyes_least), colour = ink.quiet))
        body.put(ink, ink.words(words(R.string.eyes_goes_with), colour = ink.quiet))
        show(body, ink.thumb(words(R.string.app_done)) { house.leave(this) })
    }

    private companion object {
        const val STEP = 5
    }
}
