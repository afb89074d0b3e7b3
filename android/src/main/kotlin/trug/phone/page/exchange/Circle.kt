package trug.phone.page.exchange

import trug.phone.app.House
import trug.phone.draw.Ink
import trug.phone.draw.Speaks
import trug.phone.words.sentence

/** The leaves of the page. */
internal enum class Leaf {
    /** The devices, the folder, the key. */
    ALL,

    /** A device is paired. */
    PAIR,

    /** One paired device. */
    DEVICE,

    /** The folder is being exchanged over. */
    BUSY,

    /** What came of it. */
    DONE,
}

/** What leaves may ask for. */
internal interface Circle : Speaks {
    val house: House
    override val ink: Ink get() = house.ink

    /** Opens a leaf; [about] is the device that it is about. */
    fun turn(to: Leaf, about: String? = null)

    /** Something could not be done. */
    fun complain(error: Throwable) = house.complain(ink.context.resources.sentence(error))
}
