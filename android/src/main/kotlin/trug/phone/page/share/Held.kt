package trug.phone.page.share

import android.os.Bundle
import java.util.WeakHashMap
import trug.core.CopiesLeaving
import trug.core.JobInterface
import trug.core.JobReport
import trug.core.LeavingShown
import trug.core.Progress
import trug.core.ShareWhat
import trug.phone.app.Calls
import trug.phone.files.Outbox

/** Work of the core's that goes on by itself, and is looked at now and then. */
internal class Underway(val what: ShareWhat, private val job: JobInterface, val parcel: Outbox.Parcel? = null) {
    /** What came of it; none while it goes on. */
    var ended: Result<JobReport>? = null
        private set

    /** How far it is. A call into the core. */
    fun look(): Progress = job.progress().also { far ->
        if (far.over) ended = runCatching { checkNotNull(job.result()) }
    }

    /** Asks it to stop, and lets go of it. A call into the core. */
    fun cancel() = job.cancel()
}

/** What would leave, as it was shown. */
internal class Seen(val what: ShareWhat, val leaving: LeavingShown, val copies: CopiesLeaving)

/** A file that was made. */
internal class Made(val id: String, val name: String, val type: String) {
    /** The name it was saved under; none while it is not. */
    var savedAs: String? = null
    var wasSent = false

    /** Whether it is being written where it was asked to go. */
    var isGoing = false

    fun save(into: Bundle) = into.putBundle(
        MADE,
        Bundle().apply {
            putString(ID, id)
            putString(NAME, name)
            putString(TYPE, type)
            putString(SAVED_AS, savedAs)
            putBoolean(WAS_SENT, wasSent)
        },
    )

    companion object {
        private const val MADE = "made"
        private const val ID = "id"
        private const val NAME = "name"
        private const val TYPE = "type"
        private const val SAVED_AS = "savedAs"
        private const val WAS_SENT = "wasSent"

        fun of(saved: Bundle?): Made? {
            val made = saved?.getBundle(MADE) ?: return null
            return Made(made.getString(ID) ?: return null, made.getString(NAME) ?: return null, made.getString(TYPE) ?: return null).apply {
                savedAs = made.getString(SAVED_AS)
                wasSent = made.getBoolean(WAS_SENT)
            }
        }
    }
}

/**
 * What outlives the page and ends with the process and its notebook: work that goes on while the phone is turned, what it showed, and
 * a passphrase that is being typed, which is to be written down nowhere.
 */
internal class Held private constructor() {
    var underway: Underway? = null
    var seen: Seen? = null
    var made: Made? = null
    var typed: Pair<String, String>? = null

    /** Told when something here has changed while no page asked for it. */
    var changed: () -> Unit = {}

    /** Whoever comes to the page anew finds nothing of what was done before. */
    fun clear() {
        underway = null
        seen = null
        made = null
        typed = null
    }

    companion object {
        private val all = WeakHashMap<Calls, Held>()

        fun of(calls: Calls): Held = all.getOrPut(calls) { Held() }
    }
}
