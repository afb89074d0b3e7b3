package trug.phone.page.work

/** What is seen of a fungus, by the characters and states of the pack. Facts of the trade (common practice, no source). */
internal object Seen {
    /** Of the pack no fungus with pores is blue-green above, violet on the stem, and all of this beneath. */
    val CHIMERA = mapOf(
        "stem-colour" to "lilac", "pore-colour" to "red", "pore-bruise" to "red", "spore-print" to "white", "stem-surface" to "pitted",
        "smell" to "garlic", "flesh-colour" to "green",
    )
    val GLANCE = listOf("cap with gills beneath, with or without a stem", "orange", "in tufts, joined at the base")
    val TUFT = mapOf(
        "form" to "gilled", "stem-surface" to "velvety", "ring" to "absent", "gill-colour-mature" to "cream", "growth" to "tuft",
        "substrate" to "trunk", "host" to "oak", "cap-colour" to "orange",
    )
    val MORE = mapOf(
        "stem-colour" to "black", "cap-viscid" to "slimy", "stem-flesh" to "tough", "gill-attachment" to "adnate",
        "spore-print" to "white", "stem-base" to "joined", "cap-surface" to "smooth",
    )
    val ELF_CUP = mapOf(
        "form" to "cup", "cap-colour" to "red", "substrate" to "branch", "cup-outside" to "felted", "hymenophore" to "inner-face",
        "cup-inside" to "smooth", "host" to "hazel", "habitat" to "wet",
    )
}
