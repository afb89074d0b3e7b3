package trug.phone.page.work

import android.os.Bundle
import org.junit.Assert.assertEquals
import trug.core.FindPage
import trug.core.KeyPage
import trug.phone.app.Look
import trug.phone.app.Phone
import trug.phone.app.Place
import trug.phone.app.Stop

/** A find in a wood, and the key to it. */
internal class Wood(look: Look = Look.LIGHT, find: String? = null, begun: Boolean = true, at: Long? = null) : Phone(look, at = at) {
    private val given = find ?: if (begun) core { it.beginFind(null, "whole", null).id } else null

    /** The find in hand: the one that was begun, else the latest. */
    val find: String get() = given ?: core { it.now(null).finds.first().id }
    val work: Work get() = activity.page as Work

    /** The find as it was kept. */
    val kept: FindPage get() = find.let { id -> core { it.findPage(id) } }

    fun open(suspect: String? = null) {
        activity.go(Stop(Place.WORK, find, suspect))
        settle()
    }

    fun tapAnswers() = tap(texts().first { it.endsWith("so far") })

    /** Answers whatever is asked from what is seen, and "can't tell" to the rest, until the key comes to an end. */
    fun answerFrom(seen: Map<String, String>, most: Int = 30, afterEach: () -> Unit = {}) {
        repeat(most) {
            if (asking().leaf == Leaf.END) return
            val question = page().question ?: return
            val isNew = asking().asked.evidence.none { it.character == question.character }
            val state = question.states.find { isNew && it.id == seen[question.character] }
            tap(state?.label ?: if (question.effort == "spore print") "Not yet" else "Can’t tell")
            afterEach()
        }
    }

    /** What the page remembers. */
    fun asking(): Asking = Bundle().also(work::save).let { checkNotNull(Kept.get(it)) }

    /** What the key says to that. */
    fun page(): KeyPage = asking().asked.let { asked -> core { it.keyStep(asked) } }

    /** The process dies, and the phone is turned, and nothing is lost. */
    fun dieUnhurt() {
        val (remembered, read) = asking() to texts()
        for (harm in listOf({ die() }, { turn() })) {
            harm()
            assertEquals(remembered, asking())
            assertEquals(read, texts())
        }
    }
}
