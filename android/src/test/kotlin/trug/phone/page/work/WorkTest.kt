package trug.phone.page.work

import org.junit.Assert.assertEquals
import org.junit.Assert.assertFalse
import org.junit.Assert.assertTrue
import org.junit.Test
import org.junit.runner.RunWith
import org.robolectric.RobolectricTestRunner
import org.robolectric.annotation.Config
import org.robolectric.annotation.GraphicsMode
import trug.core.Zone
import trug.phone.app.Look

/** Whole sessions at the key, through the page, against the real core. What fits what is a fact of the trade (common practice). */
@RunWith(RobolectricTestRunner::class)
@GraphicsMode(GraphicsMode.Mode.NATIVE)
@Config(sdk = [34, 35], qualifiers = "w360dp-h740dp-xhdpi")
class WorkTest {
    @Test
    fun `a tuft without its spores is not settled, with the funeral bell in the way and its spores as the way out`() = Wood().use { wood ->
        wood.open()
        wood.draw("01-sheet")
        for (state in Seen.GLANCE) wood.tap(state)
        wood.assertTouchable()
        wood.draw("02-sheet-tapped")
        wood.tap("Go on")
        wood.draw("03-question")
        assertTrue(wood.texts().first(), wood.texts().first().startsWith("Could still be") && "(has killed)" in wood.texts().first())
        wood.answerFrom(Seen.TUFT, most = 10) { wood.assertTouchable() }
        wood.tapAnswers()
        wood.assertTouchable()
        wood.draw("07-answers")
        wood.tap("Stop here")
        wood.assertTouchable()
        wood.draw("08-end")
        assertEquals("Not settled", wood.texts()[1])
        val bell = wood.texts().first { it.startsWith("Funeral bell") }
        assertTrue(bell, bell.contains("is not spoken against. Look at:") && bell.contains("spore print"))
        wood.tap("Keep, and settle it later")
        assertEquals(listOf("key" to false), wood.kept.let { kept -> kept.names.map { it.how to kept.name.settled } })
    }

    @Test
    fun `with everything seen it is settled, and kept with its checks`() = Wood().use { wood ->
        wood.open()
        wood.tap("I think it is …")
        wood.type("velv")
        wood.assertTouchable()
        wood.draw("09-names")
        wood.tap("Velvet shank")
        wood.draw("10-suspect")
        wood.answerFrom(Seen.TUFT + Seen.MORE)
        wood.assertTouchable()
        wood.draw("11-settled")
        assertEquals("Fits velvet shank", wood.texts().first())
        assertTrue(wood.texts().any { it.startsWith("Funeral bell: spore print") })
        assertTrue(wood.reads("If in any doubt, leave it."))
        assertFalse("nothing says that it may be eaten", wood.texts().any { Regex("(?i)edible|safe|good to eat").containsMatchIn(it) })
        wood.tap("Keep this")
        assertEquals("velvet-shank" to true, wood.kept.name.let { it.name?.id to it.settled })
    }

    @Test
    fun `elf cups are a group`() = Wood().use { wood ->
        wood.open()
        wood.tap("a cup, saucer or disc")
        wood.tap("Go on")
        wood.answerFrom(Seen.ELF_CUP)
        wood.draw("12-group")
        assertTrue(wood.texts().toString(), wood.reads("a group"))
        assertTrue(wood.texts().toString(), wood.texts().containsAll(listOf("Scarlet elf cup", "Ruby elf cup")))
        wood.tap("Keep this")
        assertEquals(true, wood.kept.name.settled)
    }

    @Test
    fun `what fits nothing is said to fit nothing`() = Wood().use { wood ->
        wood.open()
        wood.tap("cap on a stem, with pores beneath")
        wood.tap("blue-green")
        wood.tap("Go on")
        wood.answerFrom(Seen.CHIMERA)
        wood.assertTouchable()
        wood.draw("13-unknown")
        assertTrue(wood.texts().toString(), wood.texts().any { it == "Nothing that Trug knows fits well" })
        assertTrue(wood.reads("Photograph the underside and the dug-out base, and ask someone who knows. Leave it."))
        wood.tap("Keep, and settle it later")
        assertEquals(false, wood.kept.name.settled)
    }

    @Test
    fun `the process dies at every step and nothing is lost`() = Wood().use { wood ->
        wood.open()
        for (state in Seen.GLANCE) {
            wood.tap(state)
            wood.dieUnhurt()
        }
        wood.tap("I think it is …")
        wood.type("velv")
        wood.dieUnhurt()
        wood.tap("Velvet shank")
        wood.dieUnhurt()
        wood.tap("Not sure")
        wood.dieUnhurt()
        val states = checkNotNull(wood.page().question).states
        wood.tap(states[0].label)
        wood.tap(states[1].label)
        wood.dieUnhurt()
        assertEquals(states.take(2).map { it.id }, wood.asking().draft.states)
        wood.draw("06-not-sure")
        assertTrue(wood.work.back())
        assertEquals("back from a doubt is the question", Leaf.QUESTION to false, wood.asking().let { it.leaf to it.draft.unsure })
        wood.settle()
        wood.tap("Not sure")
        wood.tap(states[0].label)
        wood.tap(states[1].label)
        wood.tap("Go on")
        wood.dieUnhurt()
        wood.tap("Another question")
        wood.draw("05-others")
        wood.dieUnhurt()
        wood.tap("Width, at a glance")
        wood.draw("14-size")
        wood.type("18", field = 0)
        wood.type("25", field = 1)
        wood.dieUnhurt()
        wood.tap("Go on")
        assertEquals(18.0 to 25.0, wood.asking().asked.evidence.last().let { it.fromMm to it.toMm })
        wood.tapAnswers()
        wood.dieUnhurt()
        wood.tap("Stop here")
        wood.dieUnhurt()
        val given = wood.asking().asked.evidence
        wood.tap("Keep, and settle it later")
        assertEquals(given, wood.core { it.keyBegin(wood.find, null) }.asked.evidence)
    }

    @Test
    fun `with the battery gone, nothing saved, the answers are still beside the find`() = Wood().use { wood ->
        wood.open()
        for (state in Seen.GLANCE) wood.tap(state)
        val given = wood.asking().asked.evidence
        wood.pullBattery()
        wood.open()
        assertEquals(given, wood.asking().asked.evidence)
        assertEquals("what is known already is not asked again", Leaf.QUESTION, wood.asking().leaf)
    }

    @Test
    fun `answers are taken back and looked at again`() = Wood().use { wood ->
        wood.open()
        wood.tap(Seen.GLANCE[0])
        wood.tap(Seen.GLANCE[0])
        assertTrue("a second tap takes it back", wood.asking().asked.evidence.none { it.character == "form" })
        for (state in Seen.GLANCE) wood.tap(state)
        wood.tap("Go on")
        wood.tapAnswers()
        val count = wood.asking().asked.evidence.size
        wood.tap("Take back: Colour: orange")
        assertEquals(count - 1, wood.asking().asked.evidence.size)
        wood.tap("How they grow: in tufts, joined at the base. Look again.")
        assertEquals("growth", wood.page().question?.character)
        wood.draw("15-again")
        wood.tap("singly")
        assertEquals(listOf("tuft", "single"), wood.asking().asked.evidence.filter { it.character == "growth" }.map { it.states.single() })
        assertTrue(wood.work.back())
        assertFalse("from the sheet, back leaves the page", wood.work.back())
    }

    @Test
    fun `a size that is none is not told`() = Wood().use { wood ->
        wood.open()
        wood.tap("Skip all")
        wood.tap("Another question")
        wood.tap("Thickness of the stem, at a glance")
        for ((from, to) in listOf("" to "", "0" to "", "30" to "20", "9999" to "")) {
            wood.type(from, 0)
            wood.type(to, 1)
            wood.tap("Go on")
            assertTrue("$from to $to", wood.reads("Give millimetres above 0, the least first."))
        }
        wood.type("2.5", 0)
        wood.type("", 1)
        wood.tap("Go on")
        assertEquals(2.5, wood.asking().asked.evidence.last().fromMm)
    }

    @Test
    fun `where the core answers with an error it is said in words, and can be tried again`() = Wood().use { wood ->
        wood.core { it.pause() }
        wood.open()
        assertEquals(listOf("The notebook is at rest. Try again.", "Try again"), wood.texts())
        wood.draw("16-error")
        wood.core { it.resume(Zone("Europe/London", 0)) }
        wood.tap("Try again")
        assertTrue(wood.reads("Tap what you see"))
    }

    @Test
    fun `a find that is gone is an error too`() = Wood(find = "01999999-9999-7999-8999-999999999999").use { wood ->
        wood.open()
        assertTrue(wood.texts().toString(), wood.reads("is not in the notebook any more"))
    }

    @Test
    fun `in the dark it is the same`() = Wood(Look.DARK).use { wood ->
        wood.open()
        for (state in Seen.GLANCE) wood.tap(state)
        wood.draw("17-dark-sheet")
        wood.tap("Go on")
        wood.draw("18-dark-question")
    }

    @Test
    @Config(sdk = [34], fontScale = 2f)
    fun `at twice the size everything can still be touched`() = Wood().use { wood ->
        wood.open()
        for (state in Seen.GLANCE) wood.tap(state)
        wood.assertTouchable()
        wood.draw("19-large-sheet")
        wood.tap("Go on")
        wood.assertTouchable()
        wood.draw("20-large-question")
        wood.tapAnswers()
        wood.assertTouchable()
        wood.draw("21-large-answers")
    }
}
