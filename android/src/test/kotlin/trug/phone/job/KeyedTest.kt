package trug.phone.job

import org.junit.Assert.assertEquals
import org.junit.Assert.assertFalse
import org.junit.Assert.assertTrue
import org.junit.Test
import org.junit.runner.RunWith
import org.robolectric.RobolectricTestRunner
import org.robolectric.annotation.Config
import org.robolectric.annotation.GraphicsMode
import trug.phone.page.work.Seen
import trug.phone.page.work.Wood

/** A find is photographed, worked out and kept, from page to page, with the process dying between. */
@RunWith(RobolectricTestRunner::class)
@GraphicsMode(GraphicsMode.Mode.NATIVE)
@Config(sdk = [34, 35], qualifiers = "w360dp-h740dp-xhdpi")
class KeyedTest {
    @Test
    fun `to settled, and to advice`() = Wood(begun = false).use { wood ->
        begin(wood)
        for (state in Seen.GLANCE) wood.tap(state)
        wood.tap("Go on")
        wood.answerFrom(Seen.TUFT + Seen.MORE) { wood.dieUnhurt() }
        wood.assertReads("Fits velvet shank")
        wood.dieUnhurt()
        wood.tap("Keep this")
        wood.assertReads("by the key")
        wood.type("7", "Seen")
        wood.tap("cap opened out")
        wood.type("35", "from mm")
        wood.assertReads("no more than 3 of these 7")
        wood.assertReads("Check on every one you cut")
        wood.draw("71-keyed-and-counted")
        assertFalse(wood.texts().any { Regex("(?i)edible|safe|good to eat").containsMatchIn(it) })
        wood.back()
        assertFalse("what is settled does not wait", wood.reads("To be settled"))
    }

    @Test
    fun `to a group`() = Wood(begun = false).use { wood ->
        begin(wood)
        wood.tap("a cup, saucer or disc")
        wood.tap("Go on")
        wood.answerFrom(Seen.ELF_CUP)
        wood.tap("Keep this")
        wood.draw("72-group-kept")
        assertEquals(true, wood.kept.name.settled)
        wood.assertReads("by the key")
    }

    @Test
    fun `to not settled, which waits, and is settled by its spores next day`() = Wood(begun = false).use { wood ->
        begin(wood)
        for (state in Seen.GLANCE) wood.tap(state)
        wood.tap("Go on")
        wood.answerFrom(Seen.TUFT, most = 10)
        wood.tapAnswers()
        wood.tap("Stop here")
        wood.assertReads("Not settled")
        wood.tap("Keep, and settle it later")
        assertFalse("kept, it is no longer the key that says so", wood.canTap("Keep, and settle it later"))
        wood.assertReads("Not settled")
        wood.assertReads("Leave these")
        wood.tap("For study: one more")
        wood.draw("73-not-settled")
        wood.back()
        wood.assertReads("To be settled")
        wood.assertReads("Spore print since today")
        wood.draw("74-today-waiting")
        wood.die()
        wood.tapWhat("Spore print")
        wood.tap("Work it out")
        val answered = wood.asking().asked.evidence.size
        assertTrue("its answers are still there", answered >= Seen.GLANCE.size)
        assertEquals("what takes a night is asked after first", "spore-print", wood.page().question?.character)
        wood.tap("white")
        assertEquals("spore-print", wood.asking().asked.evidence.last().character)
    }

    /** Photographed, and its page left for the key. */
    private fun begin(wood: Wood) {
        wood.tap("Photograph a find")
        wood.shoot(shot())
        wood.tap("Work it out")
    }
}
