package trug.phone.words

import android.content.res.Resources

/** What one of the core's words is called; the word itself where it has no name yet. */
fun Resources.called(field: String, word: String): String = Ids.choices[field]?.get(word)?.let(::getString) ?: word

/** The words of a closed list, each with what it is called. */
fun Resources.choices(field: String, words: Collection<String> = Ids.choices[field].orEmpty().keys): List<Pair<String, String>> =
    words.map { it to called(field, it) }
