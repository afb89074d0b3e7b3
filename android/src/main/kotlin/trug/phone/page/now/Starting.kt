package trug.phone.page.now

import android.os.Bundle
import android.view.View
import android.widget.EditText
import trug.phone.R
import trug.phone.draw.Field
import trug.phone.draw.Ink
import trug.phone.draw.put
import trug.phone.words.choices

/** An outing begins: where, if anybody cares to say, and may I pick here? */
internal class Starting(ink: Ink, saved: Bundle?, start: (String, String) -> Unit) {
    private val where = EditText(ink.context).apply {
        hint = ink.context.getString(R.string.now_where)
        ink.print(this)
        inputType = Field.Kind.TEXT.input
        setText(saved?.getString(WHERE).orEmpty())
    }
    val view: View = ink.column(where).apply {
        put(ink, ink.head(ink.context.getString(R.string.now_may_pick)), Ink.MARGIN)
        ink.context.resources.choices("may-pick").forEach { (id, label) -> put(ink, ink.button(label) { start(where.text.toString(), id) }) }
    }

    fun save(into: Bundle) = into.putString(WHERE, where.text.toString())

    private companion object {
        const val WHERE = "where"
    }
}
