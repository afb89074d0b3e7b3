package trug.window

import java.io.File

/**
 * A walk through the app by script: a step a line as in [Steps], `#` before a remark, and `screen NAME` or `screen NAME: WORDS`
 * for a picture. Leaves each picture as `NAME.png` in [into], and a contact sheet of all as `sheet.png` and `index.html`.
 */
internal class Tour(private val phone: Phone, private val script: File, private val into: File, private val tell: (String) -> Unit) {
    /** A picture taken, and the steps that led to it from the one before. */
    class Picture(val name: String, val words: String, val steps: List<String>, val png: ByteArray)

    private val pictures = mutableListOf<Picture>()
    private val taken = mutableListOf<String>()

    /** @return 0, or 1 when a step could not be taken: the sheet then ends with what was on the screen */
    fun play(): Int {
        val steps = Steps(phone)
        into.mkdirs()
        val failed = script.readLines().asSequence().mapIndexedNotNull { at, line ->
            runCatching { take(steps, line.trim()) }.exceptionOrNull()?.let { at + 1 to it }
        }.firstOrNull()
        failed?.let { (line, why) ->
            keep("failed", "${script.name}, line $line: ${why.message}")
            tell("${script.name}, line $line: ${why.message ?: why}")
            tell("on the screen: ${phone.screen.texts()}")
            if (why !is StepFailed) tell(why.stackTraceToString())
        }
        Sheet(pictures, into).write()
        tell("${pictures.size} pictures in ${into.path}")
        return if (failed == null) 0 else 1
    }

    private fun take(steps: Steps, line: String) {
        if (line.isEmpty() || line.startsWith("#")) return
        val screen = line.removePrefix("screen ")
        if (screen != line) return keep(screen.substringBefore(':').trim(), screen.substringAfter(':', "").trim())
        steps.take(line)
        phone.settle()
        taken += line
    }

    private fun keep(name: String, words: String) {
        val picture = Picture(name, words, taken.toList(), phone.screen.png())
        pictures += picture
        taken.clear()
        into.resolve("$name.png").writeBytes(picture.png)
    }
}
