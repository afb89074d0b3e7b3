package trug.phone.words

import android.content.res.Resources
import trug.core.TrugException
import trug.phone.R

/** What went wrong and what to do, as a sentence. What no sentence was written for is said in the core's own words. */
fun Resources.sentence(error: Throwable): String {
    if (error !is TrugException.Said) return getString(R.string.error_unknown, error.javaClass.simpleName)
    val given = error.arguments.associate { it.name to it.value }
    val sentence = Ids.errors[error.code] ?: return error.fallback.replaceFirstChar(Char::uppercase)
    val arguments = sentence.arguments.map { given[it] ?: return error.fallback.replaceFirstChar(Char::uppercase) }
    return getString(sentence.id, *arguments.toTypedArray())
}
