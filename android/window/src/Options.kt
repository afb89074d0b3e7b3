package trug.window

import java.io.File

/** What the command line says; `android/window/run --help` tells what each is for. */
internal data class Options(
    val notebook: File? = null,
    val photos: File = File("."),
    val documents: File = File("."),
    val tour: File? = null,
    val into: File = File("tour"),
    val port: Int = 0,
    val phone: String = "en-rGB-w360dp-h740dp-xhdpi",
    val font: Float = 1f,
    val api: Int = 34,
    val swing: Boolean = true,
    val activity: String? = null,
) {
    companion object {
        /** @throws IllegalArgumentException in words for whoever typed them */
        fun of(arguments: List<String>): Options {
            var options = Options()
            val rest = ArrayDeque(arguments)
            while (rest.isNotEmpty()) {
                val name = rest.removeFirst()
                fun value() = requireNotNull(rest.removeFirstOrNull()) { "$name wants a value" }
                fun number() = value().let { requireNotNull(it.toIntOrNull()) { "$name wants a number, not “$it”" } }
                options = when (name) {
                    "--notebook" -> options.copy(notebook = File(value()))
                    "--photos" -> options.copy(photos = File(value()))
                    "--documents" -> options.copy(documents = File(value()))
                    "--tour" -> options.copy(tour = File(value()), swing = false)
                    "--into" -> options.copy(into = File(value()))
                    "--port" -> options.copy(port = number())
                    "--phone" -> options.copy(phone = value())
                    "--font" -> options.copy(font = number() / PERCENT)
                    "--api" -> options.copy(api = number())
                    "--no-swing" -> options.copy(swing = false)
                    "--activity" -> options.copy(activity = value())
                    else -> throw IllegalArgumentException("there is no option $name")
                }
            }
            return options
        }

        private const val PERCENT = 100f
    }
}
