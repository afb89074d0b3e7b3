package trug.phone.page.work

import android.icu.text.ListFormatter
import android.view.View
import trug.core.Danger
import trug.core.StillPossible
import trug.phone.R
import trug.phone.draw.Ink
import trug.phone.draw.onTouch

/**
 * The dangerous ones that are still possible, in a black-edged band with words: the first few by name, those that have killed
 * before the rest; touched, each of them with how strongly it must be reckoned with.
 */
internal fun dangers(ink: Ink, strip: List<StillPossible>, all: Boolean, touched: () -> Unit): View? {
    if (strip.isEmpty()) return null
    val worst = strip.sortedBy { it.name.danger != Danger.DEADLY }
    val band = if (all) ink.column(*everyOne(ink, worst)) else ink.column(ink.words(brief(ink, worst), bold = true))
    return band.apply {
        background = ink.edge()
        val pad = ink.dp(Ink.GAP)
        setPadding(pad, pad, pad, pad)
        minimumHeight = ink.dp(Ink.TARGET)
        gravity = android.view.Gravity.CENTER_VERTICAL
        contentDescription = ink.context.getString(if (all) R.string.work_danger_fewer else R.string.work_danger_open, brief(ink, worst))
        onTouch(touched)
    }
}

private fun brief(ink: Ink, strip: List<StillPossible>): String {
    val resources = ink.context.resources
    val names = strip.take(FIRST).map {
        if (it.name.danger == Danger.DEADLY) resources.getString(R.string.work_danger_killed, it.name.english) else it.name.english
    }
    val more = strip.size - FIRST
    val rest = if (more > 0) listOf(resources.getQuantityString(R.plurals.work_danger_more, more, more)) else emptyList()
    val listed = ListFormatter.getInstance(resources.configuration.locales[0]).format(names + rest)
    return resources.getString(R.string.work_danger_brief, listed)
}

private fun everyOne(ink: Ink, strip: List<StillPossible>): Array<View> {
    val lines = strip.map { ink.words(ink.context.getString(R.string.work_danger_line, it.name.english, it.words)) }
    return (listOf(ink.words(ink.context.getString(R.string.work_danger_head), bold = true)) + lines).toTypedArray()
}

private const val FIRST = 3
