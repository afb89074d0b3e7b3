package trug.phone.page.find

import android.view.View
import android.widget.HorizontalScrollView
import android.widget.ImageView
import android.widget.LinearLayout
import trug.core.FindPage
import trug.core.PhotoShown
import trug.phone.R
import trug.phone.camera.Purpose
import trug.phone.draw.Ink
import trug.phone.draw.Pictures
import trug.phone.draw.onTouch
import trug.phone.draw.put
import trug.phone.words.called
import trug.phone.words.choices

/** The photos by what they show, and gaps for those that are missing. */
internal class Photos(private val desk: Desk) : Section {
    private val ink = desk.ink
    private val strip = LinearLayout(ink.context)
    private var drawn: Pair<List<PhotoShown>, List<String>>? = null
    override val view = HorizontalScrollView(ink.context).apply {
        isHorizontalScrollBarEnabled = false
        addView(strip)
    }

    override fun show(page: FindPage) {
        val shown = page.photos to page.missingRoles
        if (shown == drawn) return
        drawn = shown
        strip.removeAllViews()
        page.photos.forEach { add(picture(it), called(it.role), desk.words(R.string.find_photo_of, called(it.role))) { desk.turn(Part.PHOTO, it.id) } }
        page.missingRoles.forEach { role ->
            add(null, called(role), desk.words(R.string.find_photo_wanted, called(role))) { desk.house.photograph(Purpose(desk.find, role)) }
        }
        val another = desk.words(R.string.find_another_photo)
        add(null, another, another) { desk.turn(Part.ROLES) }
    }

    private fun called(role: String) = ink.context.resources.called("role", role)

    private fun picture(photo: PhotoShown): View = ImageView(ink.context).apply {
        scaleType = ImageView.ScaleType.CENTER_CROP
        Pictures.show(ink, photo.thumbnail ?: photo.path, this, ink.dp(SIDE))
    }

    private fun add(picture: View?, label: String, described: String, touched: () -> Unit) {
        val cell = ink.column().apply {
            gravity = android.view.Gravity.CENTER
            background = ink.touchable(null, if (picture == null) ink.touch else null)
            contentDescription = described
            onTouch(touched)
        }
        picture?.let { cell.addView(it, LinearLayout.LayoutParams(ink.dp(SIDE), ink.dp(SIDE))) }
        val words = ink.words(label, SMALL, colour = if (picture == null) ink.touch else ink.text)
        words.gravity = android.view.Gravity.CENTER
        words.minWidth = ink.dp(SIDE)
        // In large type a word is wider than a picture.
        if (!ink.largeType) words.maxWidth = ink.dp(SIDE)
        cell.addView(words, LinearLayout.LayoutParams(LinearLayout.LayoutParams.WRAP_CONTENT, LinearLayout.LayoutParams.WRAP_CONTENT))
        val room = LinearLayout.LayoutParams(LinearLayout.LayoutParams.WRAP_CONTENT, LinearLayout.LayoutParams.MATCH_PARENT)
        if (strip.childCount > 0) room.marginStart = ink.dp(Ink.GAP)
        cell.minimumHeight = ink.dp(SIDE)
        strip.addView(cell, room)
    }

    private companion object {
        const val SIDE = 104
        const val SMALL = 16f
    }
}

/** One photo, as wide as the page. */
internal class OnePhoto(private val desk: Desk, private val id: String?) : Section {
    private val ink = desk.ink
    override val view = ink.column()

    override fun show(page: FindPage) {
        view.removeAllViews()
        val photo = page.photos.find { it.id == id } ?: return desk.turn(Part.ALL)
        view.put(ink, ink.head(ink.context.resources.called("role", photo.role)), 0)
        if (photo.path == null) view.put(ink, ink.words(desk.words(R.string.find_photo_missing)))
        val picture = ImageView(ink.context).apply {
            adjustViewBounds = true
            contentDescription = ink.context.resources.called("role", photo.role)
        }
        Pictures.show(ink, photo.path, picture, ink.context.resources.displayMetrics.widthPixels)
        view.put(ink, picture)
        view.put(ink, ink.button(desk.words(R.string.find_photo_drop)) { desk.act { it.dropPhoto(desk.find, photo.id) } }, Ink.MARGIN)
    }
}

/** What another photo is to show. */
internal class Roles(private val desk: Desk) : Section {
    private val ink = desk.ink
    override val view = ink.column(ink.head(desk.words(R.string.find_another_photo))).apply {
        ink.context.resources.choices("role").forEach { (role, label) ->
            put(ink, ink.button(label) { desk.house.photograph(Purpose(desk.find, role)) })
        }
        put(ink, ink.button(desk.words(R.string.now_choose)) { desk.house.photograph(Purpose(desk.find, "whole"), choose = true) }, Ink.MARGIN)
    }

    override fun show(page: FindPage) = Unit
}
