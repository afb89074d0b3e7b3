package trug.phone.page.share

import android.view.View
import android.widget.LinearLayout
import trug.core.SharePage
import trug.phone.R
import trug.phone.draw.Choice
import trug.phone.draw.Field
import trug.phone.draw.part
import trug.phone.draw.put
import trug.phone.words.called

/** A part of the first leaf. It is made once; what it shows changes with what is chosen. */
internal interface Part {
    val view: View

    fun show(page: SharePage)

    /** Keeps what is typed and not kept yet. */
    fun flush() = Unit
}

/** The first leaf: for whom, which finds, how exactly, what else, in which form, and who alone may open it. */
internal class WhatLeaf(private val sharing: Sharing, private val find: String?) {
    private val ink = sharing.ink
    val view: LinearLayout = ink.column()
    private var parts: List<Part> = emptyList()

    fun show(page: SharePage) {
        if (parts.isEmpty()) {
            parts = listOf(Whom(sharing, page), Which(sharing, page, find), Exactly(sharing), Also(sharing), Form(sharing, page), Locked(sharing))
            parts.forEach { view.put(ink, it.view, 0) }
        }
        parts.forEach { it.show(page) }
    }

    fun flush() = parts.forEach(Part::flush)

    /** At the thumb: on to what would leave. Nothing leaves of nothing. */
    fun thumb(page: SharePage): View {
        val isNothing = !sharing.chosen.forMe && page.finds == 0u && !(page.isOfPatches(sharing.chosen) && sharing.chosen.which?.way in PATCHED)
        return if (isNothing) {
            ink.words(sharing.words(R.string.share_nothing_chosen), colour = ink.quiet)
        } else {
            ink.thumb(sharing.words(R.string.share_preview), sharing::preview)
        }
    }

    private companion object {
        /** What may mean patches without any find. */
        val PATCHED = setOf(Way.PATCH, Way.ALL)
    }
}

/** Whether what is chosen leaves as patches. */
internal fun SharePage.isOfPatches(chosen: Chosen) = forms.any { it.form == chosen.form && it.holdsPatches }

/** A part below a rule, under a heading. */
internal fun Sharing.headed(head: Int, vararg children: View): LinearLayout = ink.column().apply {
    part(ink, words(head))
    children.forEach { put(ink, it) }
}

private var View.isThere: Boolean
    get() = visibility == View.VISIBLE
    set(there) {
        visibility = if (there) View.VISIBLE else View.GONE
    }

/** For somebody else, or for the owner's own devices. */
private class Whom(private val sharing: Sharing, page: SharePage) : Part {
    private val ink = sharing.ink
    private val whom = Choice(ink, listOf(SOMEONE to sharing.words(R.string.share_someone), MINE to sharing.words(R.string.share_mine))) { id, _ ->
        sharing.choose(sharing.chosen.copy(forMe = id == MINE, lock = Lock.OPEN, device = null))
    }
    private val recipient = Field(ink, sharing.words(R.string.share_recipient), Field.Kind.NAME) { sharing.choose(sharing.chosen.copy(recipient = it)) }
    private val someone = ink.column(recipient.view, ink.words(sharing.words(R.string.share_recipient_help), colour = ink.quiet))
    private val devices = Choice(ink, listOf(ANY to sharing.words(R.string.share_any_device)) + page.devices.map { it.id to it.name }) { id, _ ->
        val device = id.takeIf { it != ANY }
        sharing.choose(sharing.chosen.copy(device = device, lock = if (device == null) Lock.OPEN else Lock.DEVICE))
    }
    private val hasDevices = page.devices.isNotEmpty()
    private val missing = ink.words(sharing.words(R.string.share_device_help), colour = ink.quiet)
    private val mine = ink.column(ink.words(sharing.words(R.string.share_mine_help), bold = true))
    override val view = ink.column(ink.part(sharing.words(R.string.share_whom))).apply {
        put(ink, whom.view)
        put(ink, someone)
        put(ink, mine)
        if (hasDevices) mine.put(ink, devices.view)
        mine.put(ink, missing)
    }

    override fun show(page: SharePage) {
        val chosen = sharing.chosen
        whom.show(setOf(if (chosen.forMe) MINE else SOMEONE))
        devices.show(setOf(chosen.device ?: ANY))
        recipient.show(chosen.recipient)
        someone.isThere = !chosen.forMe
        mine.isThere = chosen.forMe
        missing.isThere = chosen.device != null
    }

    override fun flush() = recipient.flush()

    private companion object {
        const val SOMEONE = "someone"
        const val MINE = "mine"
        const val ANY = "any"
    }
}

/** How exactly places are told. */
private class Exactly(private val sharing: Sharing) : Part {
    private val ink = sharing.ink
    private val places = Choice(ink, WORDS.map { (word, words) -> word to sharing.words(words) }) { word, _ ->
        sharing.choose(sharing.chosen.copy(place = word))
    }
    private val exact = ink.words(sharing.words(R.string.share_exact_help), bold = true)
    override val view = sharing.headed(R.string.share_place, places.view, exact)

    override fun show(page: SharePage) {
        places.show(setOf(sharing.chosen.place))
        exact.isThere = sharing.chosen.place == EXACT
        view.isThere = !sharing.chosen.forMe
    }

    private companion object {
        const val EXACT = "exact"
        val WORDS = listOf("10km" to R.string.share_place_10km, "1km" to R.string.share_place_1km, EXACT to R.string.share_place_exact)
    }
}

/** What else may leave. */
private class Also(private val sharing: Sharing) : Part {
    private val ink = sharing.ink
    private val ticks = Offered(sharing) { word, isTicked ->
        sharing.choose(sharing.chosen.run { copy(ticked = if (isTicked) ticked + word else ticked - word) })
    }
    private val name = Field(ink, sharing.words(R.string.share_own_name), Field.Kind.NAME) { sharing.choose(sharing.chosen.copy(name = it)) }
    private val patches = ink.words(sharing.words(R.string.share_patch_names_help), colour = ink.quiet)
    override val view = sharing.headed(R.string.share_also, ticks.view, patches, name.view)

    override fun show(page: SharePage) {
        val chosen = sharing.chosen
        val form = page.forms.find { it.form == chosen.form }
        val offered = listOfNotNull(
            (Chosen.PHOTOS to R.string.share_photos).takeIf { form?.holdsPhotos == true },
            (Chosen.TIME to R.string.share_time).takeIf { form?.holdsPatches == false },
            Chosen.NOTES to R.string.share_notes,
            Chosen.NAME to R.string.share_name,
        )
        ticks.show(offered, chosen.ticked)
        name.show(chosen.name)
        name.view.isThere = Chosen.NAME in chosen.ticked
        patches.isThere = form?.holdsPatches == true
        view.isThere = !chosen.forMe
    }

    override fun flush() = name.flush()
}

/** In which form copies leave. */
private class Form(private val sharing: Sharing, page: SharePage) : Part {
    private val ink = sharing.ink
    private val forms = Choice(ink, page.forms.map { it.form to ink.context.resources.called("form", it.form) }) { word, _ ->
        val form = page.forms.find { it.form == word }
        sharing.choose(sharing.chosen.copy(form = word, lock = if (form?.canBeSealed == true) sharing.chosen.lock else Lock.OPEN))
    }
    override val view = sharing.headed(R.string.share_form, forms.view)

    override fun show(page: SharePage) {
        forms.show(setOf(sharing.chosen.form))
        view.isThere = !sharing.chosen.forMe
    }
}

/** Who alone may open it. */
private class Locked(private val sharing: Sharing) : Part {
    private val ink = sharing.ink
    private val locks = Offered(sharing) { word, _ -> sharing.choose(sharing.chosen.copy(lock = Lock.valueOf(word))) }
    private val key = Field(ink, sharing.words(R.string.share_key_hint), Field.Kind.NAME) { sharing.choose(sharing.chosen.copy(key = it)) }
    private val later = ink.words(sharing.words(R.string.share_passphrase_help), colour = ink.quiet)
    override val view = sharing.headed(R.string.share_sealed, locks.view, key.view, later)

    override fun show(page: SharePage) {
        val chosen = sharing.chosen
        val offered = listOfNotNull(
            Lock.OPEN.name to R.string.share_open,
            Lock.PASSPHRASE.name to R.string.share_passphrase,
            Lock.KEY.name to R.string.share_key,
            (Lock.DEVICE.name to R.string.share_device_key).takeIf { chosen.forMe && chosen.device != null },
        )
        locks.show(offered, setOf(chosen.lock.name))
        key.show(chosen.key)
        key.view.isThere = chosen.lock == Lock.KEY
        later.isThere = chosen.lock == Lock.PASSPHRASE
        view.isThere = chosen.forMe || page.forms.any { it.form == chosen.form && it.canBeSealed }
    }

    override fun flush() = key.flush()
}

/** A list to choose from of which not all is offered at all times. */
private class Offered(private val sharing: Sharing, private val touched: (String, Boolean) -> Unit) {
    private var offered: List<Pair<String, Int>> = emptyList()
    private var choice: Choice? = null
    val view = sharing.ink.column()

    fun show(offered: List<Pair<String, Int>>, chosen: Set<String>) {
        if (offered != this.offered) {
            this.offered = offered
            view.removeAllViews()
            choice = Choice(sharing.ink, offered.map { (word, words) -> word to sharing.words(words) }, touched = touched).also { view.put(sharing.ink, it.view, 0) }
        }
        choice?.show(chosen)
    }
}
