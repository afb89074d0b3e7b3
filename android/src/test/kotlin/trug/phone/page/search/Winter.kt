package trug.phone.page.search

import trug.core.FieldValue
import trug.core.Fix
import trug.phone.app.Phone

/** A walk in a wood that is invented: a named find at a patch, and two that say little. */
internal fun winter(phone: Phone) {
    phone.core { book ->
        val fields = { id: String, values: List<Pair<String, String>> -> book.amendFind(id, values.map { (field, value) -> FieldValue(field, value) }) }
        book.startOuting("Harrow Shaw", "own")
        val named = book.beginFind(null, "whole", Fix(51.5, -1.0, 8.0)).id
        fields(named, listOf("note" to "Behind the second gate, under ivy", "host" to "elder", "seen" to "7", "taken" to "3"))
        book.nameFind(named, "velvet-shank", "sight", null, null)
        book.foundPatch(named, "Crooked elder")
        book.endOuting()
        fields(book.beginFind(null, "whole", null).id, listOf("note" to "A red one beneath the alder"))
        fields(book.beginFind(null, "whole", null).id, listOf("host" to "elder"))
    }
    phone.turn()
}
