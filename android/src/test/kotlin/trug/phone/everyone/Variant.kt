package trug.phone.everyone

import org.robolectric.RuntimeEnvironment
import trug.phone.app.Look

/** A screen, a size of type, a way of reading and a look: how somebody's phone may be. */
internal data class Variant(val name: String, val screen: String, val look: Look = Look.LIGHT, val type: Float = 1f) {
    /** From now on the phone is like that; what is shown is to be made again. */
    fun apply() {
        RuntimeEnvironment.setQualifiers("+$screen")
        RuntimeEnvironment.setFontScale(type)
    }

    companion object {
        private const val USUAL = "en-rGB-ldltr-w360dp-h740dp-port-xhdpi"
        private const val SMALL = "en-rGB-ldltr-w320dp-h568dp-port-xhdpi"
        private const val SIDEWAYS = "en-rGB-ldltr-w740dp-h360dp-land-xhdpi"
        private const val TABLET = "en-rGB-ldltr-w800dp-h1280dp-port-xhdpi"

        /** Read from right to left. There is no such translation yet, so that the words stay English. */
        private const val MIRRORED = "ar-rEG-ldrtl-w360dp-h740dp-port-xhdpi"
        private const val LARGE = 2f

        val usual = Variant("light", USUAL)
        val all = listOf(
            usual,
            Variant("dark", USUAL, Look.DARK),
            Variant("red", USUAL, Look.RED),
            Variant("large", USUAL, type = LARGE),
            Variant("sideways", SIDEWAYS),
            Variant("small", SMALL),
            Variant("small-large", SMALL, type = LARGE),
            Variant("sideways-large", SIDEWAYS, Look.RED, LARGE),
            Variant("tablet", TABLET, Look.DARK),
            Variant("mirrored", MIRRORED),
        )
    }
}
