package trug.phone.page.share

import android.os.Bundle
import trug.core.ShareSeal
import trug.core.ShareTerms
import trug.core.ShareWhat
import trug.core.ShareWhich

/** Who alone may open the file. */
internal enum class Lock { OPEN, PASSPHRASE, KEY, DEVICE }

/** Everything that is chosen on the first leaf, and remembered. At first it is the least that may leave. */
internal data class Chosen(
    /** Everything, for the owner's own devices; else copies. */
    val forMe: Boolean = false,
    /** Which finds; none for what the core takes to be meant. */
    val which: ShareWhich? = null,
    val form: String = BUNDLE,
    val place: String = LEAST,
    /** What else may leave. */
    val ticked: Set<String> = emptySet(),
    val name: String = "",
    val recipient: String = "",
    /** The paired device that it is for; none for any. */
    val device: String? = null,
    val lock: Lock = Lock.OPEN,
    val key: String = "",
) {
    fun what(): ShareWhat = if (forMe) ShareWhat.Everything(device) else ShareWhat.Copies(which ?: ShareWhich.All, form, terms())

    private fun terms() = ShareTerms(
        place = place,
        notes = NOTES in ticked,
        time = TIME in ticked,
        photos = PHOTOS in ticked,
        name = name.takeIf { NAME in ticked },
        recipient = recipient.ifEmpty { null },
    )

    fun seal(passphrase: String): ShareSeal = when (lock) {
        Lock.OPEN -> ShareSeal.Open
        Lock.PASSPHRASE -> ShareSeal.Passphrase(passphrase)
        Lock.KEY -> ShareSeal.Key(key)
        Lock.DEVICE -> device?.let(ShareSeal::Device) ?: ShareSeal.Open
    }

    fun save(into: Bundle) {
        into.putBoolean(FOR_ME, forMe)
        into.putString(WHICH, which?.let(::coded))
        into.putString(FORM, form)
        into.putString(PLACE, place)
        into.putStringArray(TICKED, ticked.toTypedArray())
        into.putString(NAME, name)
        into.putString(RECIPIENT, recipient)
        into.putString(DEVICE, device)
        into.putString(LOCK, lock.name)
        into.putString(KEY, key)
    }

    companion object {
        const val BUNDLE = "bundle"
        const val LEAST = "10km"
        const val NOTES = "notes"
        const val TIME = "time"
        const val PHOTOS = "photos"
        const val NAME = "name"
        private const val FOR_ME = "forMe"
        private const val WHICH = "which"
        private const val FORM = "form"
        private const val PLACE = "place"
        private const val TICKED = "ticked"
        private const val RECIPIENT = "recipient"
        private const val DEVICE = "device"
        private const val LOCK = "lock"
        private const val KEY = "key"

        /** What was remembered. */
        fun of(saved: Bundle) = Chosen(
            forMe = saved.getBoolean(FOR_ME),
            which = saved.getString(WHICH)?.let(::decoded),
            form = saved.getString(FORM) ?: BUNDLE,
            place = saved.getString(PLACE) ?: LEAST,
            ticked = saved.getStringArray(TICKED).orEmpty().toSet(),
            name = saved.getString(NAME).orEmpty(),
            recipient = saved.getString(RECIPIENT).orEmpty(),
            device = saved.getString(DEVICE),
            lock = Lock.entries.find { it.name == saved.getString(LOCK) } ?: Lock.OPEN,
            key = saved.getString(KEY).orEmpty(),
        )
    }
}

/** The ways of meaning finds. */
internal enum class Way { FIND, OUTING, PATCH, DAYS, ALL }

internal val ShareWhich.way: Way get() = when (this) {
    is ShareWhich.All -> Way.ALL
    is ShareWhich.Find -> Way.FIND
    is ShareWhich.Outing -> Way.OUTING
    is ShareWhich.Patch -> Way.PATCH
    is ShareWhich.Days -> Way.DAYS
}

/** What is meant, as a line that can be remembered, and by which another page leads here: `patch 0199…`. */
internal fun coded(which: ShareWhich): String = when (which) {
    is ShareWhich.All -> listOf(which.way.name)
    is ShareWhich.Find -> listOf(which.way.name, which.id)
    is ShareWhich.Outing -> listOf(which.way.name, which.id)
    is ShareWhich.Patch -> listOf(which.way.name, which.id)
    is ShareWhich.Days -> listOf(which.way.name, which.from.orEmpty(), which.to.orEmpty())
}.joinToString(" ").lowercase()

internal fun decoded(line: String): ShareWhich? {
    val parts = line.split(" ")
    val first = parts.getOrNull(1)?.ifEmpty { null }
    return when (Way.entries.find { it.name.equals(parts.first(), ignoreCase = true) }) {
        Way.ALL -> ShareWhich.All
        Way.FIND -> first?.let(ShareWhich::Find)
        Way.OUTING -> first?.let(ShareWhich::Outing)
        Way.PATCH -> first?.let(ShareWhich::Patch)
        Way.DAYS -> ShareWhich.Days(first, parts.getOrNull(2)?.ifEmpty { null })
        null -> null
    }
}
