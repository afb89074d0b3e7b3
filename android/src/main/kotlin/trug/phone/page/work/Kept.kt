package trug.phone.page.work

import android.os.Bundle
import org.json.JSONArray
import org.json.JSONObject
import trug.core.Ending
import trug.core.KeyAsked
import trug.core.KeySeen

/** [Asking] as the system keeps it for a process that dies. What cannot be read any more begins afresh. */
object Kept {
    private const val ASKING = "asking"

    fun put(asking: Asking, into: Bundle) = into.putString(ASKING, write(asking).toString())

    fun get(from: Bundle?): Asking? = from?.getString(ASKING)?.let { text -> runCatching { read(JSONObject(text)) }.getOrNull() }

    private fun write(asking: Asking) = JSONObject()
        .put("suspect", asking.asked.suspect)
        .put("ask", asking.asked.ask)
        .put("evidence", JSONArray(asking.asked.evidence.map(::write)))
        .put("leaf", asking.leaf.name)
        .put("states", JSONArray(asking.draft.states))
        .put("unsure", asking.draft.unsure)
        .put("from", asking.draft.from)
        .put("to", asking.draft.to)
        .put("typed", asking.typed)
        .put("shownEnd", asking.shownEnd?.name)
        .put("allDangers", asking.allDangers)

    private fun write(seen: KeySeen) = JSONObject()
        .put("character", seen.character)
        .put("states", JSONArray(seen.states))
        .put("from", seen.fromMm)
        .put("to", seen.toMm)
        .put("sure", seen.sure)

    private fun read(from: JSONObject) = Asking(
        asked = KeyAsked(from.text("suspect"), from.getJSONArray("evidence").map { readSeen(getJSONObject(it)) }, from.text("ask")),
        leaf = Leaf.valueOf(from.getString("leaf")),
        draft = Draft(
            from.getJSONArray("states").map { getString(it) },
            from.getBoolean("unsure"),
            from.getString("from"),
            from.getString("to"),
        ),
        typed = from.getString("typed"),
        shownEnd = from.text("shownEnd")?.let(Ending::valueOf),
        allDangers = from.getBoolean("allDangers"),
    )

    private fun readSeen(from: JSONObject) = KeySeen(
        from.getString("character"),
        from.getJSONArray("states").map { getString(it) },
        from.number("from"),
        from.number("to"),
        from.getBoolean("sure"),
    )

    private fun JSONObject.text(name: String): String? = if (isNull(name)) null else getString(name)

    private fun JSONObject.number(name: String): Double? = if (isNull(name)) null else getDouble(name)

    private fun <T> JSONArray.map(read: JSONArray.(Int) -> T): List<T> = (0 until length()).map { read(it) }
}
