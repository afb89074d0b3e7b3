package trug.phone.page.share

import android.os.Bundle
import android.view.View
import android.view.ViewGroup
import android.widget.ImageView
import android.widget.LinearLayout
import trug.core.CopyLeaving
import trug.core.FieldLeaving
import trug.phone.R
import trug.phone.draw.Ink
import trug.phone.draw.Pictures
import trug.phone.draw.part
import trug.phone.draw.put
import trug.phone.draw.row
import trug.phone.words.called
import trug.phone.words.day
import trug.phone.words.joined

/** The copies that leave, a row each, so many at a time: there may be thousands. */
internal class CopyList(private val sharing: Sharing, saved: Bundle?) {
    private val ink = sharing.ink
    private var wanted = saved?.getInt(WANTED)?.takeIf { it > 0 } ?: PAGE
    private var drawn: Pair<Seen, Int>? = null
    private val rows: LinearLayout = ink.column()

    /** The rows, to be put into a leaf that is made anew. */
    val view: View get() = rows.also { (it.parent as? ViewGroup)?.removeView(it) }

    /** From the first on again. */
    fun begin() {
        wanted = PAGE
        drawn = null
    }

    fun save(into: Bundle) = into.putInt(WANTED, wanted)

    /** Shows as many as were asked for. */
    fun show(seen: Seen) {
        if (drawn == seen to wanted) return
        val asked = wanted
        sharing.house.calls.make({ seen.copies.page(0u, asked.toUInt()) }) { answered ->
            answered.onSuccess { copies ->
                drawn = seen to asked
                rows.removeAllViews()
                copies.forEachIndexed { at, copy -> rows.put(ink, line(copy, at), 0) }
                val more = seen.leaving.count.toInt() - copies.size
                if (more > 0) {
                    rows.put(
                        ink,
                        ink.button(sharing.counted(R.plurals.share_more, more)) {
                            wanted += PAGE
                            show(seen)
                        },
                    )
                }
            }
        }
    }

    private fun line(copy: CopyLeaving, at: Int): View {
        val day = copy.day?.let { ink.context.day(it) }
        val place = if (copy.isExact) sharing.words(R.string.share_exact_one) else copy.square?.name ?: sharing.words(R.string.share_no_place)
        val about = ink.context.resources.joined(listOfNotNull(day, place))
        val name = copy.name ?: sharing.words(R.string.share_patch_unnamed)
        return row(ink, sharing.words(R.string.share_numbered, at + 1, name), about) { sharing.turn(Leaf.COPY, at.toString()) }
    }

    /** Everything of one copy. */
    fun copy(seen: Seen, about: String?, then: (View) -> Unit) {
        val at = about?.toUIntOrNull() ?: 0u
        then(ink.words(sharing.words(R.string.app_busy), colour = ink.quiet))
        sharing.house.calls.make({ seen.copies.page(at, 1u).firstOrNull() }) { answered ->
            answered.onSuccess { copy -> if (copy != null) then(whole(copy)) }
        }
    }

    private fun whole(copy: CopyLeaving): View {
        val body = ink.column(ink.head(copy.name ?: sharing.words(R.string.share_patch_unnamed)))
        body.put(ink, ink.words(sharing.words(R.string.share_copy_help), colour = ink.quiet))
        // Its mark says nothing to people, and stands below what does.
        copy.fields.sortedBy { it.field == MARK }.forEach { body.put(ink, line(it)) }
        if (copy.photos.isNotEmpty()) {
            body.part(ink, sharing.words(R.string.share_photos_part))
            copy.photos.forEach { photo ->
                val role = photo.role?.let { ink.context.resources.called("role", it) } ?: sharing.words(R.string.share_photo)
                body.put(ink, picture(photo.thumbnail, role))
                body.put(ink, ink.words(role, colour = ink.quiet))
            }
        }
        copy.square?.let {
            body.part(ink, sharing.words(R.string.share_where))
            body.put(ink, drawn(sharing, it))
        }
        if (copy.isExact) body.put(ink, ink.words(sharing.words(R.string.share_exact_help), bold = true), Ink.MARGIN)
        return body
    }

    private fun picture(path: String?, role: String) = ImageView(ink.context).apply {
        adjustViewBounds = true
        contentDescription = role
        val wide = ink.dp(PICTURE)
        maxHeight = wide
        Pictures.show(ink, path, this, wide)
    }

    /** A field and, beneath it, what it says, as it stands in the file. */
    private fun line(field: FieldLeaving): View {
        val resources = ink.context.resources
        val label = resources.called("leaving", field.field.replace('.', '-').replace('_', ' '))
        // A mark that is longer than a line goes on below after one of its hyphens.
        val value = if (field.field == MARK) field.value.replace("-", "-\u200B") else field.value
        return ink.column(ink.words(label, colour = ink.quiet), ink.words(value).apply { fontFeatureSettings = LINED_UP })
    }

    private companion object {
        const val WANTED = "wanted"
        const val PAGE = 50
        const val PICTURE = 240
        const val MARK = "id"
        const val LINED_UP = "tnum"
    }
}
