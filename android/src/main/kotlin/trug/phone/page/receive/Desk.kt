package trug.phone.page.receive

import android.content.res.Resources
import android.view.View
import android.view.ViewGroup
import android.widget.ImageView
import trug.core.PhotoShown
import trug.phone.app.House
import trug.phone.draw.Ink
import trug.phone.draw.Pictures
import trug.phone.draw.Speaks

/** The leaves of the page. */
internal enum class Leaf {
    /** What a bundle is; the copies that came so far. */
    START,

    /** The file is copied to the phone's own room. */
    FETCH,

    /** It is looked into. */
    LOOK,

    /** It is sealed, and waits for its passphrase. */
    SECRET,

    /** What it would bring. */
    FOUND,

    /** It is being taken. */
    TAKE,

    /** What it brought. */
    TAKEN,

    /** Why it is refused. */
    REFUSED,

    /** One copy of somebody else's find. */
    COPY,
}

/** What leaves may ask for. */
internal interface Desk : Speaks {
    val house: House
    override val ink: Ink get() = house.ink
    val resources: Resources get() = ink.context.resources

    /** Opens a leaf; [about] is the copy that it is about. */
    fun turn(to: Leaf, about: String? = null)
}

/** A photo, as wide as the page; [words] say what it is. */
internal fun Desk.photo(photo: PhotoShown, words: String): View = ImageView(ink.context).apply {
    adjustViewBounds = true
    scaleType = ImageView.ScaleType.FIT_CENTER
    contentDescription = words
    minimumHeight = ink.dp(LEAST)
    maxHeight = ink.dp(MOST)
    layoutParams = ViewGroup.LayoutParams(ViewGroup.LayoutParams.MATCH_PARENT, ViewGroup.LayoutParams.WRAP_CONTENT)
    Pictures.show(ink, photo.path, this, ink.dp(MOST))
}

private const val LEAST = 120
private const val MOST = 320
