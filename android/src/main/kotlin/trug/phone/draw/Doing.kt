package trug.phone.draw

import android.widget.TextView
import trug.core.Progress
import trug.phone.R
import trug.phone.words.called
import trug.phone.words.joined
import trug.phone.words.written

/** What long work is at: in words, and by a count that shows that it goes on. How much is left, nobody knows. */
internal class Doing(private val ink: Ink) {
    private val resources = ink.context.resources
    private var view: TextView? = null

    /** Somewhere to tell it. */
    fun begin(): TextView = ink.words(ink.context.getString(R.string.app_busy)).also {
        it.fontFeatureSettings = "tnum"
        view = it
    }

    fun show(far: Progress?) {
        if (far == null || far.doing.isEmpty()) return
        view?.text = resources.joined(listOf(resources.called("doing", far.doing), resources.written(far.steps.toDouble())))
    }
}
