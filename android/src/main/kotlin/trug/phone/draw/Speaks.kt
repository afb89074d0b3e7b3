package trug.phone.draw

/** Whatever has words of the phone's own to say. */
internal interface Speaks {
    val ink: Ink

    /** Words without arguments are not looked through for places to put some: they may hold a per cent sign. */
    fun words(id: Int, vararg arguments: Any): String =
        if (arguments.isEmpty()) ink.context.getString(id) else ink.context.getString(id, *arguments)

    /** The same by number. */
    fun counted(plural: Int, count: Int): String = ink.context.resources.getQuantityString(plural, count, count)
}
