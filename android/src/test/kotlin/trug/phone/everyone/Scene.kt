package trug.phone.everyone

import trug.phone.app.Phone

/** A page in one of its states: what is to be done from the first page, with an empty notebook, until it is in view. */
internal class Scene(val name: String, val play: (Phone) -> Unit) {
    override fun toString() = name
}
