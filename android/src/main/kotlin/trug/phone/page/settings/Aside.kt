package trug.phone.page.settings

import android.os.Bundle
import android.view.View
import android.widget.LinearLayout
import trug.core.RestorePage
import trug.core.SetAsideShown
import trug.core.deleteSetAside
import trug.core.restorePage
import trug.core.useSetAside
import trug.phone.R
import trug.phone.app.House
import trug.phone.app.zone
import trug.phone.draw.put
import trug.phone.words.day
import trug.phone.words.hour

/** A notebook that was set aside: what it holds, the way back to it, and, asked twice, its end. */
internal class AsideLeaf(house: House, private val name: String, saved: Bundle?) : Leaf(house, R.string.restore_aside, saved) {
    private val folder = house.calls.folder.path
    private var deleting = saved?.getBoolean(DELETING) == true
    private var read: RestorePage? = null

    init {
        busy()
    }

    override fun shown() = askAside({ restorePage(folder, zone()) }, ::draw)

    override fun back(): Boolean {
        val asked = deleting
        want(false)
        return asked
    }

    override fun save(into: Bundle) {
        super.save(into)
        into.putBoolean(DELETING, deleting)
    }

    private fun want(delete: Boolean) {
        deleting = delete
        read?.let(::draw)
    }

    private fun draw(page: RestorePage) {
        read = page
        val one = page.setAside.find { it.name == name } ?: return house.leave(this)
        val body = ink.column(ink.head(setAside(one)), ink.words(holds(one)))
        one.holds?.last?.let { body.put(ink, ink.words(words(R.string.backup_last_written, context.day(it.day)), colour = ink.quiet), 0) }
        if (deleting) body.put(ink, ink.words(words(R.string.restore_aside_sure), bold = true)) else offer(body)
        show(body, if (deleting) sure() else ink.thumb(words(R.string.restore_aside_go)) { exchange { useSetAside(folder, name) } })
    }

    private fun offer(body: LinearLayout) {
        body.put(ink, ink.words(words(R.string.restore_aside_help)))
        body.put(ink, ink.button(words(R.string.restore_aside_delete)) { want(true) }, ABOVE)
    }

    private fun sure(): View = ink.column(ink.thumb(words(R.string.restore_aside_keep)) { want(false) }).apply {
        put(ink, ink.button(words(R.string.restore_aside_delete)) { askAside({ deleteSetAside(folder, name) }) { house.leave(this@AsideLeaf) } })
    }

    private companion object {
        const val DELETING = "deleting"
        const val ABOVE = 32
    }
}

internal fun Leaf.setAside(one: SetAsideShown): String {
    val at = one.at ?: return one.name
    return words(R.string.restore_aside_at, ink.context.day(at.day), ink.context.hour(at))
}

internal fun Leaf.holds(one: SetAsideShown): String = one.holds?.let { ink.context.resources.holds(it) } ?: words(R.string.restore_aside_unread)
