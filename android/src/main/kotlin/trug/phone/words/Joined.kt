package trug.phone.words

import android.content.res.Resources
import trug.phone.R

/** Things said of one thing, in one line. */
fun Resources.joined(parts: List<String>): String = fold(R.string.app_joined, parts)

/** A plain list of things. */
fun Resources.listed(things: List<String>): String = fold(R.string.app_listed, things)

private fun Resources.fold(pattern: Int, parts: List<String>): String =
    parts.filter { it.isNotEmpty() }.reduceOrNull { before, next -> getString(pattern, before, next) }.orEmpty()
