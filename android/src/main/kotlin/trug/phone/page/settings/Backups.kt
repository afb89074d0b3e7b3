package trug.phone.page.settings

import android.content.Context
import android.content.SharedPreferences
import android.content.res.Resources
import android.net.Uri
import android.system.ErrnoException
import android.system.OsConstants
import java.io.File
import java.io.IOException
import java.time.LocalDate
import trug.core.HoldsShown
import trug.core.TrugException
import trug.phone.R
import trug.phone.files.Documents
import trug.phone.words.joined
import trug.phone.words.sentence

/** Backups of this phone's: the one that is made and not carried out yet, the one that was brought in, and when the last was safe. */
internal class Backups(private val context: Context) {
    private val kept: SharedPreferences = context.getSharedPreferences(FILE, Context.MODE_PRIVATE)

    /** One that is made and has to be carried out. It is there only once it is whole. */
    val made = File(context.filesDir, "leaving/backup.zip")

    /** One that was chosen to be restored, until it is proved. */
    val chosen = File(context.filesDir, "arriving/backup.zip")

    /** What a backup of today is called, unless somebody calls it otherwise. */
    val name: String get() = "Trug-${LocalDate.now()}.zip"

    /** The day of the last backup that was carried out, like 2026-10-18. */
    val last: String? get() = kept.getString(LAST, null)

    /** Carries the backup out and reads it back. It is let go of only if what stands there is what was to be written. */
    fun carryOut(to: Uri, isStopped: () -> Boolean): Carried {
        val documents = Documents(context.contentResolver)
        documents.carryOut(made, to, isStopped)
        val isWhole = try {
            documents.holds(to, made, isStopped)
        } catch (stopped: Documents.Stopped) {
            throw stopped
        } catch (_: IOException) {
            return Carried.UNREAD
        } catch (_: SecurityException) {
            return Carried.UNREAD
        }
        if (!isWhole) throw NotWhole()
        kept.edit().putString(LAST, LocalDate.now().toString()).apply()
        made.delete()
        return Carried.WHOLE
    }

    /** What became of one that was carried out. */
    enum class Carried {
        /** It was read back whole. */
        WHOLE,

        /** It was written where nothing can be read back. */
        UNREAD,
    }

    /** What was written is not what was to be written. */
    class NotWhole : IOException()

    companion object {
        private const val FILE = "backups"
        private const val LAST = "last"
        const val TYPE = "application/zip"
    }
}

/** What a notebook holds, in a line. */
internal fun Resources.holds(holds: HoldsShown): String = joined(
    listOf(
        getQuantityString(R.plurals.backup_finds, holds.finds.toInt(), holds.finds.toInt()),
        getQuantityString(R.plurals.backup_photos, holds.photos.toInt(), holds.photos.toInt()),
    ),
)

/** Whether work ended because its owner stopped it. */
internal fun isStopped(error: Throwable?): Boolean = error is Documents.Stopped || (error as? TrugException.Said)?.code == "stopped"

/** What went wrong between Trug and a document that others keep, as a sentence. */
internal fun Resources.documentSentence(error: Throwable): String = when {
    error is TrugException -> sentence(error)
    error is Backups.NotWhole -> getString(R.string.backup_not_whole)
    generateSequence(error) { it.cause }.any { it is ErrnoException && it.errno == OsConstants.ENOSPC } -> getString(R.string.error_no_room)
    error is IOException || error is SecurityException -> getString(R.string.backup_document_failed)
    else -> sentence(error)
}
