package trug.phone.words

import android.content.Context
import trug.core.InPatch
import trug.core.NameShown
import trug.core.PatchLine
import trug.core.When
import trug.phone.R

/** What a patch is called: its name, or what is looked for there. */
internal fun Context.patch(name: String?, kind: NameShown?): String = name ?: kind?.english ?: getString(R.string.now_patch_unnamed)

/** The last look at a patch, and what came of it. */
internal fun Context.lastLook(day: String?, outcome: String?, now: When): String =
    if (day == null) getString(R.string.now_never_looked) else getString(R.string.now_last_look, day(day, now), resources.called("outcome", outcome.orEmpty()))

/** Until when a patch rests; nothing where it does not. */
internal fun Context.rest(until: String?, now: When): String? = until?.let { getString(R.string.now_rests, day(it, now)) }

/** The way to a patch in words; where nobody knows from where, its place. */
internal fun Context.wayTo(patch: PatchLine): String {
    val metres = patch.metres ?: return patch.place?.name ?: getString(R.string.patches_no_place)
    return if (patch.inside == InPatch.YES) getString(R.string.now_patch_here) else resources.way(metres, patch.bearing)
}
