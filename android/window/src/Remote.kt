package trug.window

/** The phone as seen from other threads: what is on its screen, what it wants, and the steps it is to take. */
internal class Remote(
    private val phone: Phone,
    private val steps: Steps,
    private val asker: Asker,
    private val leave: () -> Unit,
) {
    /** Has something done on the phone's thread. */
    fun interface Asker {
        fun ask(act: () -> Any?): Any?
    }

    /** What another app is wanted for, and the steps that would answer. */
    data class Wanted(val words: String, val answers: List<String>)

    /** @throws StepFailed when it could not be taken */
    fun take(step: String) {
        asker.ask { if (step == "leave") leave() else steps.take(step) }
    }

    fun wanted(): Wanted? = on {
        phone.answers.request?.let { request ->
            val answers = when (request.want) {
                Want.PHOTO -> phone.answers.photoNames().map { "photo $it" } + listOf("photo none", "photo empty")
                Want.OPEN -> phone.answers.documentNames().map { "document $it" } + "document none"
                Want.CREATE -> listOf("document ${request.detail.ifEmpty { "new" }}", "document none")
                Want.FOLDER -> listOf("folder", "folder none")
                Want.PERMISSION -> listOf("leave", "leave roughly", "leave refused")
                Want.OTHER -> listOf("done", "cancelled")
            }
            Wanted("The app asks for ${request.words}.", answers.map { "answer $it" })
        }
    }

    fun sum(): Long = on { phone.screen.sum() }

    fun png(): ByteArray = on { phone.screen.png() }

    fun jpeg(): ByteArray = on { phone.screen.jpeg() }

    /** Pixels as 0xAARRGGBB, row by row, and how many a row has. */
    fun pixels(): Pair<IntArray, Int> = on {
        val drawn = phone.screen.draw()
        val pixels = IntArray(drawn.width * drawn.height)
        drawn.getPixels(pixels, 0, drawn.width, 0, 0, drawn.width, drawn.height)
        pixels to drawn.width
    }

    @Suppress("UNCHECKED_CAST")
    private fun <T> on(act: () -> T): T = asker.ask(act) as T
}
