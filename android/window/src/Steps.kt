package trug.window

import android.view.KeyEvent

/** A step that could not be taken, and why. */
internal class StepFailed(why: String) : Exception(why)

/**
 * The language of tours, of the page and of the window: a step a line.
 *
 * | step | what it does |
 * |---|---|
 * | `tap WORDS`, `hold WORDS` | touches what reads so, begins so or has it somewhere, brought into sight first |
 * | `tap A | B` | touches the first of them that is there |
 * | `repeat TIMES STEP` | as long as the step can be taken |
 * | `down X Y`, `move X Y`, `up X Y` | a finger, in pixels of the screen |
 * | `swipe up`, `down`, `left`, `right` | a finger across the screen |
 * | `type WORDS`, `empty` | into the field that has the focus |
 * | `key NAME` | `enter`, `delete`, `tab` or `menu` |
 * | `back`, `rotate`, `night`, `day`, `font PER CENT` | |
 * | `answer photo NAME`, `photo none`, `photo empty` | for the camera: taken, not taken, taken but nothing written |
 * | `answer document NAME`, `document none` | chosen or made, not chosen |
 * | `answer folder`, `folder none` | the desk's one folder is chosen to be kept, or none |
 * | `open NAME` | another app hands this document over |
 * | `answer leave`, `leave roughly`, `leave refused` | for the question for a permission |
 * | `answer done`, `answer cancelled` | for any other app |
 * | `position LATITUDE LONGITUDE METRES`, `position none`, `off`, `on` | where the phone is, to so many metres |
 * | `camera gone`, `camera there` | whether any app takes photographs |
 * | `die` | the system takes the process, and starts it again |
 * | `wait MILLISECONDS`, `see WORDS`, `miss WORDS` | until it reads so; until it does not |
 */
internal class Steps(private val phone: Phone) {
    /** @throws StepFailed when it could not be taken */
    fun take(line: String) {
        val rest = line.substringAfter(' ', "").trim()
        when (val verb = line.substringBefore(' ')) {
            "tap" -> touch(rest, long = false)
            "repeat" -> repeat(rest)
            "hold" -> touch(rest, long = true)
            "down" -> point(rest, phone.hands::down)
            "move" -> point(rest, phone.hands::move)
            "up" -> point(rest, phone.hands::up)
            "swipe" -> way(rest).let { (right, down) -> phone.hands.swipe(right, down) }
            "type" -> phone.hands.type(rest)
            "empty" -> phone.hands.empty()
            "key" -> phone.hands.key(KEYS[rest] ?: throw StepFailed("no key is called “$rest”: ${KEYS.keys}"))
            "back" -> phone.hands.back()
            "rotate" -> phone.turn()
            "night" -> phone.night(isNight = true)
            "day" -> phone.night(isNight = false)
            "font" -> phone.font(number(rest) / PERCENT)
            "answer" -> answer(rest)
            "open" -> phone.answers.open(rest)
            "position" -> position(rest)
            "camera" -> Others.camera(isThere = one(rest, "gone", "there") == "there")
            "die" -> phone.die()
            "wait" -> phone.idle(number(rest).toLong())
            "see" -> if (!phone.await { phone.hands.reads(rest) }) throw StepFailed("nothing reads “$rest”")
            "miss" -> if (!phone.await { !phone.hands.reads(rest) }) throw StepFailed("it still reads “$rest”")
            else -> throw StepFailed("no step is called “$verb”")
        }
    }

    private fun repeat(rest: String) {
        val (times, step) = rest.split(' ', limit = 2).takeIf { it.size == 2 } ?: throw StepFailed("how often, and what?")
        for (at in 0 until number(times).toInt()) {
            // The first has to be possible: else nothing would ever tell that the words have changed.
            runCatching { take(step) }.onFailure { if (at == 0 || it !is StepFailed) throw it else return }
            phone.settle()
        }
    }

    private fun touch(words: String, long: Boolean) {
        phone.await { phone.answers.request == null && phone.hands.reads(words) }
        phone.hands.touch(words, long)
    }

    private fun answer(rest: String) {
        if (!phone.await { phone.answers.request != null }) throw StepFailed("the app asks for nothing")
        val name = rest.substringAfter(' ', "")
        when (rest.substringBefore(' ')) {
            "photo" -> when (name) {
                "none", "empty" -> phone.answers.noPhoto(saysSo = name == "none")
                else -> phone.answers.photo(name)
            }
            "document" -> phone.answers.document(name.takeUnless { it == "none" })
            "folder" -> phone.answers.folder(name != "none")
            "leave" -> phone.answers.leave { name == "" || (name == "roughly" && it.endsWith("COARSE_LOCATION")) }
            else -> phone.answers.other(done = one(rest, "done", "cancelled") == "done")
        }
    }

    private fun position(rest: String) {
        when (rest) {
            "none" -> phone.position.lost()
            "off", "on" -> phone.position.switch(rest == "on")
            else -> {
                val (latitude, longitude, metres) = numbers(rest, THREE)
                phone.position.at(latitude, longitude, metres.toFloat())
            }
        }
    }

    private fun point(rest: String, act: (Float, Float) -> Unit) = numbers(rest, 2).let { (x, y) -> act(x.toFloat(), y.toFloat()) }

    private fun way(rest: String): Pair<Int, Int> = when (rest) {
        "up" -> 0 to -1
        "down" -> 0 to 1
        "left" -> -1 to 0
        "right" -> 1 to 0
        else -> throw StepFailed("up, down, left or right, not “$rest”")
    }

    private fun one(rest: String, vararg of: String) =
        rest.takeIf { it in of } ?: throw StepFailed("${of.joinToString(" or ")}, not “$rest”")

    private fun number(rest: String) = numbers(rest, 1).single().toFloat()

    private fun numbers(rest: String, many: Int): List<Double> {
        val numbers = rest.split(' ').mapNotNull(String::toDoubleOrNull)
        return numbers.takeIf { it.size == many } ?: throw StepFailed("$many numbers are wanted, not “$rest”")
    }

    private companion object {
        const val PERCENT = 100f
        const val THREE = 3
        val KEYS = mapOf(
            "enter" to KeyEvent.KEYCODE_ENTER,
            "delete" to KeyEvent.KEYCODE_DEL,
            "tab" to KeyEvent.KEYCODE_TAB,
            "menu" to KeyEvent.KEYCODE_MENU,
        )
    }
}
