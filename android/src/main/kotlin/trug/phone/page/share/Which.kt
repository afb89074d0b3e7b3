package trug.phone.page.share

import android.app.DatePickerDialog
import android.view.View
import java.time.LocalDate
import trug.core.OutingShown
import trug.core.PatchOffered
import trug.core.SharePage
import trug.core.ShareWhich
import trug.phone.R
import trug.phone.draw.Choice
import trug.phone.draw.put
import trug.phone.draw.row
import trug.phone.words.day
import trug.phone.words.hour

/** Which finds are meant, and how many that is. */
internal class Which(private val sharing: Sharing, page: SharePage, private val find: String?) : Part {
    private val ink = sharing.ink
    private val offered = listOfNotNull(
        (Way.FIND to R.string.share_this_find).takeIf { find != null },
        (Way.OUTING to R.string.share_outing).takeIf { page.outings.isNotEmpty() },
        (Way.PATCH to R.string.share_patch).takeIf { page.patches.isNotEmpty() },
        Way.DAYS to R.string.share_days,
        Way.ALL to R.string.share_all,
    )
    private val ways = Choice(ink, offered.map { (way, words) -> way.name to sharing.words(words) }) { way, _ -> choose(Way.valueOf(way), page) }
    private val meant = ink.column()
    private val count = ink.words("", colour = ink.quiet).apply { accessibilityLiveRegion = View.ACCESSIBILITY_LIVE_REGION_POLITE }
    override val view = sharing.headed(R.string.share_which, ways.view, meant, count)

    override fun show(page: SharePage) {
        ways.show(setOf(page.which.way.name))
        meant.removeAllViews()
        meant(page)?.let { meant.put(ink, it, 0) }
        val finds = page.finds.toInt()
        count.text = sharing.counted(if (page.isOfPatches(sharing.chosen)) R.plurals.share_patches_of else R.plurals.share_finds, finds)
        view.visibility = if (sharing.chosen.forMe) View.GONE else View.VISIBLE
    }

    private fun choose(way: Way, page: SharePage) {
        val which = when (way) {
            Way.FIND -> find?.let(ShareWhich::Find)
            Way.OUTING -> page.outings.firstOrNull()?.let { ShareWhich.Outing(it.id) }
            Way.PATCH -> page.patches.singleOrNull()?.let { ShareWhich.Patch(it.id) } ?: return sharing.turn(Leaf.PATCHES)
            Way.DAYS -> ShareWhich.Days(null, null)
            Way.ALL -> ShareWhich.All
        }
        which?.let { sharing.choose(sharing.chosen.copy(which = it)) }
    }

    /** What is meant, by name, with the way to mean another. */
    private fun meant(page: SharePage): View? = when (val which = page.which) {
        is ShareWhich.Find -> ink.words(page.find?.name?.english ?: sharing.words(R.string.now_no_name), bold = true)
        is ShareWhich.Outing -> page.outings.find { it.id == which.id }?.let { outing ->
            val other = if (page.outings.size > 1) sharing.words(R.string.share_outing_other) else ""
            row(ink, called(sharing, outing), other) { sharing.turn(Leaf.OUTINGS) }
        }
        is ShareWhich.Patch -> page.patches.find { it.id == which.id }?.let { patch ->
            val other = if (page.patches.size > 1) sharing.words(R.string.share_patch_other) else ""
            row(ink, called(sharing, patch), other) { sharing.turn(Leaf.PATCHES) }
        }
        is ShareWhich.Days -> ink.beside(
            day(R.string.share_from, which.from) { ShareWhich.Days(it, which.to) },
            day(R.string.share_to, which.to) { ShareWhich.Days(which.from, it) },
        )
        is ShareWhich.All -> null
    }

    private fun day(words: Int, day: String?, with: (String) -> ShareWhich): View =
        ink.button(sharing.words(words, day?.let { ink.context.day(it) }.orEmpty())) {
            val date = day?.let { runCatching { LocalDate.parse(it) }.getOrNull() } ?: LocalDate.now()
            val picked = DatePickerDialog.OnDateSetListener { _, year, month, of ->
                sharing.choose(sharing.chosen.copy(which = with(LocalDate.of(year, month + 1, of).toString())))
            }
            DatePickerDialog(ink.context, picked, date.year, date.monthValue - 1, date.dayOfMonth).show()
        }
}

/** The outings that may be meant. */
internal fun outingsLeaf(sharing: Sharing, page: SharePage): View {
    val ink = sharing.ink
    return ink.column(ink.head(sharing.words(R.string.share_outing))).apply {
        page.outings.forEachIndexed { at, outing ->
            val hour = outing.began?.let(ink.context::hour).orEmpty()
            put(ink, row(ink, sharing.words(R.string.share_numbered, at + 1, called(sharing, outing)), hour) { mean(sharing, ShareWhich.Outing(outing.id)) })
        }
    }
}

/** The patches that may be meant. */
internal fun patchesLeaf(sharing: Sharing, page: SharePage): View {
    val ink = sharing.ink
    return ink.column(ink.head(sharing.words(R.string.share_patch))).apply {
        page.patches.forEachIndexed { at, patch ->
            val kind = patch.kind?.english.orEmpty().takeIf { patch.name != null }.orEmpty()
            put(ink, row(ink, sharing.words(R.string.share_numbered, at + 1, called(sharing, patch)), kind) { mean(sharing, ShareWhich.Patch(patch.id)) })
        }
    }
}

private fun mean(sharing: Sharing, which: ShareWhich) {
    sharing.choose(sharing.chosen.copy(which = which))
    sharing.turn(Leaf.WHAT)
}

private fun called(sharing: Sharing, outing: OutingShown): String {
    val place = outing.place ?: sharing.words(R.string.now_outing)
    val day = outing.began?.let { sharing.ink.context.day(it.day) } ?: return place
    return sharing.words(R.string.app_joined, place, day)
}

private fun called(sharing: Sharing, patch: PatchOffered): String =
    patch.name ?: patch.kind?.english ?: sharing.words(R.string.now_patch_unnamed)
