package trug.phone.page.share

import android.content.ActivityNotFoundException
import android.net.Uri
import android.view.View
import java.io.File
import trug.phone.R
import trug.phone.draw.Ink
import trug.phone.draw.put
import trug.phone.files.Documents
import trug.phone.files.Outbox
import trug.phone.files.OutboxProvider

/** The way out of a file that was made: saved as a document, or sent. */
internal class Going(private val sharing: Sharing, private val outbox: Outbox, private val held: Held, private val draw: () -> Unit) {
    private val context = sharing.ink.context

    /** Asks where it is to be saved. */
    fun ask(made: Made) = sharing.house.ask(Documents.toWrite(made.name, made.type), SAVE)

    /** Writes it where it was asked to go. */
    fun save(to: Uri) {
        val made = held.made ?: return
        val file = file(made) ?: return
        made.isGoing = true
        held.changed()
        val documents = Documents(context.contentResolver)
        val held = held
        val write = {
            runCatching { documents.carryOut(file, to) }.onFailure { documents.takeAway(to) }.getOrThrow()
            documents.nameOf(to)
        }
        sharing.house.aside.make(write) { written ->
            made.isGoing = false
            written.onSuccess { made.savedAs = it ?: made.name }
            held.changed()
            written.onFailure { sharing.house.complain(sharing.words(R.string.share_not_saved)) }
        }
    }

    /** Hands it to the system's list of ways to send something. */
    fun send(made: Made) {
        val file = file(made) ?: return
        outbox.sent(made.id)
        try {
            context.startActivity(OutboxProvider.sending(Outbox.Parcel(made.id, file), made.type))
            made.wasSent = true
            draw()
        } catch (_: ActivityNotFoundException) {
            sharing.house.complain(sharing.words(R.string.share_not_sent))
        }
    }

    /** The file, if it lies there still; else it can be made again. */
    private fun file(made: Made): File? = outbox.named(made.id, made.name) ?: null.also {
        held.made = null
        sharing.turn(Leaf.PREVIEW)
        sharing.house.complain(sharing.words(R.string.share_gone))
    }

    private companion object {
        const val SAVE = "save"
    }
}

/** A file that was made, and what has become of it. */
internal fun madeLeaf(sharing: Sharing, made: Made): View {
    val ink = sharing.ink
    return ink.column(ink.head(sharing.words(R.string.share_made)), ink.words(made.name)).apply {
        accessibilityLiveRegion = View.ACCESSIBILITY_LIVE_REGION_POLITE
        val said = when {
            made.isGoing -> sharing.words(R.string.share_saving)
            else -> made.savedAs?.let { sharing.words(R.string.share_saved, it) }
        }
        said?.let { put(ink, ink.words(it, bold = true), Ink.MARGIN) }
        if (made.wasSent) put(ink, ink.words(sharing.words(R.string.share_sent)), Ink.MARGIN)
        val isOut = made.savedAs != null || made.wasSent
        put(ink, ink.words(sharing.words(if (isOut) R.string.share_out_help else R.string.share_made_help), colour = ink.quiet), Ink.MARGIN)
    }
}

/** At the thumb: save it, send it; once it is out, done. */
internal fun madeThumb(sharing: Sharing, made: Made, going: Going, done: () -> Unit): View {
    val ink = sharing.ink
    if (made.isGoing) return ink.words(sharing.words(R.string.app_busy), colour = ink.quiet)
    val save = { going.ask(made) }
    val send = { going.send(made) }
    val isOut = made.savedAs != null || made.wasSent
    val first = if (isOut) ink.thumb(sharing.words(R.string.app_done), done) else ink.thumb(sharing.words(R.string.share_save), save)
    val further = listOfNotNull(
        ink.button(sharing.words(if (made.savedAs == null) R.string.share_save_too else R.string.share_save_again), touched = save).takeIf { isOut },
        ink.button(sharing.words(R.string.share_send), touched = send),
    )
    return ink.column(first).apply { put(ink, ink.beside(*further.toTypedArray())) }
}
