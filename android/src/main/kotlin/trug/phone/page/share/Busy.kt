package trug.phone.page.share

import android.view.View
import trug.core.Progress
import trug.phone.R
import trug.phone.draw.Ink
import trug.phone.draw.put
import trug.phone.words.called

/** What goes on by itself, how far it is, and the way to stop it. It stays while it counts, so that nothing is lost under a finger. */
internal class Busy(private val sharing: Sharing, stop: () -> Unit) {
    private val ink = sharing.ink
    private val head = ink.head("")
    private val step = ink.words("", colour = ink.quiet).apply { fontFeatureSettings = LINED_UP }
    val view: View = ink.column(head).apply { put(ink, step) }
    val thumb: View = ink.button(sharing.words(R.string.share_cancel), touched = stop).apply { minHeight = ink.dp(Ink.THUMB) }

    fun show(isMaking: Boolean, far: Progress?) {
        head.text = sharing.words(if (isMaking) R.string.share_making else R.string.share_gathering)
        val doing = far?.doing.orEmpty()
        step.text = if (far == null || doing.isEmpty()) "" else sharing.words(R.string.share_step, ink.context.resources.called("doing", doing), far.steps.toInt())
    }

    private companion object {
        const val LINED_UP = "tnum"
    }
}
