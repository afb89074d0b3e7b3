package trug.phone.files

import android.database.Cursor
import android.database.MatrixCursor
import android.provider.OpenableColumns

/** What a provider tells of a file that can be opened: what it is called, and how long it is. */
internal fun about(name: String, size: Long, columns: Array<String>?): Cursor {
    val wanted = columns ?: arrayOf(OpenableColumns.DISPLAY_NAME, OpenableColumns.SIZE)
    return MatrixCursor(wanted, 1).apply {
        addRow(
            wanted.map {
                when (it) {
                    OpenableColumns.DISPLAY_NAME -> name
                    OpenableColumns.SIZE -> size
                    else -> null
                }
            },
        )
    }
}
