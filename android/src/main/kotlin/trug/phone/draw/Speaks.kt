package trug.phone.draw

/** Whatever has words of the phone's own to say. */
internal interface Speaks {
    val ink: Ink

    fun words(id: Int, vararg arguments: Any): String = ink.context.getString(id, *arguments)

    /** The same by number. */
    fun counted(plural: Int, count: Int): String = ink.context.resources.getQuantityString(plural, count, count)
}
