package trug.phone.page.ill

import android.view.View
import android.widget.ImageView
import trug.core.DoctorSheet
import trug.core.SheetPassage
import trug.phone.R
import trug.phone.draw.Ink
import trug.phone.draw.Pictures
import trug.phone.draw.part
import trug.phone.draw.put

/** The sheet that is held up to a doctor: the core's words, and the photos. The screen stays on while it is shown. */
internal fun sheetLeaf(bedside: Bedside, sheet: DoctorSheet): View {
    val ink = bedside.ink
    val body = ink.column(ink.head(bedside.words(R.string.ill_sheet)))
    body.keepScreenOn = true
    sheet.passages.forEach { passage ->
        body.part(ink, passage.title)
        passage.lines.forEach { body.put(ink, ink.words(it)) }
        photos(bedside, passage).forEach { body.put(ink, it) }
    }
    return body
}

private fun photos(bedside: Bedside, passage: SheetPassage): List<View> {
    val ink = bedside.ink
    val wide = ink.context.resources.displayMetrics.widthPixels
    return passage.photos.mapIndexed { at, path ->
        ImageView(ink.context).apply {
            adjustViewBounds = true
            contentDescription = bedside.words(R.string.ill_photo, at + 1, passage.title)
            Pictures.show(ink, path, this, wide)
        }
    }
}
