package trug.phone.page.settings

import android.os.Bundle
import android.view.View
import android.widget.LinearLayout
import trug.core.SettingsPage
import trug.phone.R
import trug.phone.app.Fit
import trug.phone.app.House
import trug.phone.app.Page
import trug.phone.draw.part
import trug.phone.draw.put
import trug.phone.draw.row
import trug.phone.words.day
import trug.phone.words.joined
import trug.phone.words.listed
import trug.phone.words.sentence

/** What leaves are called in a stop; one that is about something has its name after a colon. */
internal const val LOOK = "look"
internal const val CODES = "codes"
internal const val CODE = "code"
internal const val HOUSE = "house"
internal const val RULE = "rule"
internal const val NEW_RULE = "new-rule"
internal const val AREAS = "areas"
internal const val AREA = "area"
internal const val NEW_AREA = "new-area"
internal const val EYES = "eyes"
internal const val OWN_KEY = "own-key"
internal const val BACKUP = "backup"
internal const val RESTORE = "restore"
internal const val ASIDE = "aside"
internal const val SOURCES = "sources"
internal const val LICENCES = "licences"
internal const val LICENCE = "licence"

/** The leaf that a stop is about; the first for none, and for one that this Trug has not. */
internal fun settings(house: House, about: String?, saved: Bundle?): Page {
    val leaf = about.orEmpty().substringBefore(':')
    val name = about.orEmpty().substringAfter(':', "")
    return when (leaf) {
        LOOK -> LookLeaf(house, saved)
        CODES -> CodesLeaf(house, saved)
        CODE -> CodeLeaf(house, name, saved)
        HOUSE -> HouseLeaf(house, saved)
        RULE -> RuleLeaf(house, name, saved)
        NEW_RULE -> NewRuleLeaf(house, saved)
        AREAS -> AreasLeaf(house, saved)
        AREA -> AreaLeaf(house, name, saved)
        NEW_AREA -> NewAreaLeaf(house, saved)
        EYES -> EyesLeaf(house, saved)
        OWN_KEY -> OwnKeyLeaf(house, saved)
        BACKUP -> BackupLeaf(house, saved)
        RESTORE -> RestoreLeaf(house, saved)
        ASIDE -> AsideLeaf(house, name, saved)
        SOURCES -> SourcesLeaf(house, saved)
        LICENCES -> LicencesLeaf(house, saved)
        LICENCE -> LicenceLeaf(house, name, saved)
        else -> FirstLeaf(house, saved)
    }
}

/** *Settings*: a row for each leaf, with what is set there. What needs no notebook is there when that will not open. */
internal class FirstLeaf(house: House, saved: Bundle?) : Leaf(house, R.string.settings_title, saved) {
    init {
        busy()
    }

    override fun shown() = house.calls.make({ it.settings() }) { draw(it) }

    private fun draw(read: Result<SettingsPage>) {
        val page = read.getOrNull()
        val unread = words(R.string.settings_unread)
        val resources = context.resources
        val body = ink.column(ink.part(words(R.string.settings_phone)))
        row(body, R.string.look_title, resources.joined(listOf(words(house.look.words), words(R.string.look_size_percent, Fit(context).percent))), LOOK)
        body.part(ink, words(R.string.settings_going))
        read.exceptionOrNull()?.let { body.put(ink, ink.words(resources.sentence(it))) }
        row(body, R.string.codes_title, page?.codes?.let { resources.listed(it).ifEmpty { words(R.string.settings_none) } } ?: unread, CODES)
        row(body, R.string.house_title, page?.rules?.let { many(R.plurals.house_count, it) } ?: unread, HOUSE)
        row(body, R.string.areas_title, page?.areas?.let { many(R.plurals.areas_count, it) } ?: unread, AREAS)
        row(body, R.string.eyes_title, page?.observerPercent?.let { words(R.string.eyes_now, it.toInt()) } ?: unread, EYES)
        body.part(ink, words(R.string.settings_notebook))
        row(body, R.string.backup_title, lastBackup(), BACKUP)
        row(body, R.string.restore_title, "", RESTORE)
        row(body, R.string.own_key_title, "", OWN_KEY)
        body.part(ink, words(R.string.settings_trug))
        row(body, R.string.sources_title, "", SOURCES)
        row(body, R.string.sources_licences, "", LICENCES)
        show(body)
    }

    private fun many(plural: Int, count: UInt) = if (count == 0u) words(R.string.settings_none) else counted(plural, count.toInt())

    private fun lastBackup(): String = Backups(context).last?.let { words(R.string.backup_last, context.day(it)) } ?: words(R.string.backup_last_never)

    private fun row(body: LinearLayout, head: Int, about: String, to: String) {
        val row: View = row(ink, words(head), about) { turn(to) }
        body.put(ink, row, 0)
    }
}
