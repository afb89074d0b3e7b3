package trug.phone.page.patches

import org.junit.Assert.assertEquals
import org.junit.Assert.assertFalse
import org.junit.Assert.assertTrue
import org.junit.Test
import org.junit.runner.RunWith
import org.robolectric.RobolectricTestRunner
import org.robolectric.annotation.Config
import org.robolectric.annotation.GraphicsMode
import trug.core.PatchOrder
import trug.phone.app.Phone
import trug.phone.page.patch.Winters

/** All patches, ordered, with the way there or without one; and one founded by hand. */
@RunWith(RobolectricTestRunner::class)
@GraphicsMode(GraphicsMode.Mode.NATIVE)
@Config(sdk = [34, 35], qualifiers = "w360dp-h740dp-xhdpi")
class PatchesTest {
    @Test
    fun `without a position the places stand, and it is said why`() = Phone(at = Winters.NOW).use { phone ->
        Winters.keep(phone)
        phone.tap("Patches")
        phone.assertReads("Without a position there are places here")
        phone.assertReads("SU 6950 7836")
        phone.draw("p11-no-position")
        phone.assertTouchable()
        phone.tap("Use this phone’s position")
        Winters.allow(phone)
        phone.assertReads("Waiting for a position")
        phone.stand(Winters.LATITUDE, Winters.LONGITUDE + 0.01, 8f)
        assertFalse(phone.reads("Waiting for a position"))
        // 0.01 degrees of longitude at 51.5 degrees north are 694.6 m (from memory, and by GeographicLib).
        phone.assertReads("690 m, 270° W")
    }

    @Test
    fun `by kind, under the name of each, and the order is remembered`() = Phone(at = Winters.NOW).use { phone ->
        Winters.keep(phone)
        Winters.another(phone, "Bank", north = 1.0)
        Winters.another(phone, "Beech", north = 2.0, kind = "chanterelle")
        phone.tap("Patches")
        phone.tap("By kind")
        phone.draw("p12-by-kind")
        assertEquals(listOf("Chanterelle", "Beech", "Velvet shank", "Old elder", "No kind noted", "Bank"), heads(phone))
        phone.back()
        phone.pullBattery()
        phone.tap("Patches")
        assertEquals(listOf("Chanterelle", "Beech", "Velvet shank", "Old elder", "No kind noted", "Bank"), heads(phone))
    }

    @Test
    fun `a patch is founded here and now, and dying keeps what was typed`() = Phone(at = Winters.NOW).use { phone ->
        Winters.allow(phone)
        phone.tap("Patches")
        phone.assertReads("No patch yet.")
        phone.draw("p13-none")
        phone.stand(Winters.LATITUDE, Winters.LONGITUDE, 6f)
        phone.tap("Found a patch")
        phone.type("Bent elder", "What you call it")
        phone.type("velvet sh", "Name, English or Latin")
        hurt(phone)
        phone.tap("Velvet shank")
        phone.type("15", "It reaches, in m")
        hurt(phone)
        phone.stand(Winters.LATITUDE, Winters.LONGITUDE, 6f)
        phone.assertReads("Its middle is here, ± 6 m")
        phone.draw("p14-founding")
        phone.assertTouchable()
        phone.tapTwice("Found it")
        phone.assertReads("Bent elder")
        phone.assertReads("You are in it.")
        val patch = phone.core { it.patchesPage(null, PatchOrder.NEAR) }.patches.single()
        assertEquals(listOf("Bent elder", "velvet-shank", 15.0, 6.0), listOf(patch.name, patch.kind?.id, patch.reachM, patch.place?.accuracyM))
        phone.back()
        assertTrue("back to the list, not to the founding", phone.canTap("Found a patch"))
    }

    @Test
    fun `what cannot be founded is said, and stays`() = Phone(at = Winters.NOW).use { phone ->
        phone.tap("Patches")
        phone.tap("Found a patch")
        phone.assertReads("Without a place there is no way back to it.")
        phone.type("900", "It reaches, in m")
        phone.type("nowhere", "Grid reference or degrees")
        phone.tap("Found it")
        phone.assertReads("That is no place.")
        phone.type("SU 387 147", "Grid reference or degrees")
        phone.tap("Found it")
        phone.assertReads("That cannot be kept: a patch reaches 500 m at most")
        phone.draw("p15-refused")
        phone.type("50", "It reaches, in m")
        phone.type("Tawny oyster", "Name, English or Latin")
        phone.tap("Keep “Tawny oyster” as it is typed")
        phone.tap("Found it")
        val patch = phone.core { it.patchesPage(null, PatchOrder.NEAR) }.patches.single()
        assertEquals(listOf("Tawny oyster", "SU 387 147", 50.0), listOf(patch.kind?.english, patch.place?.name, patch.reachM))
    }

    @Test
    fun `today's patches, and a find's, open their page`() = Phone(at = Winters.NOW).use { phone ->
        Winters.keep(phone)
        Winters.allow(phone)
        phone.stand(Winters.LATITUDE + 0.001, Winters.LONGITUDE, 8f)
        phone.draw("p16-today")
        phone.assertTouchable()
        phone.tapWhat("Old elder, 110 m, 180° S")
        phone.assertReads("Season by season")
    }

    private fun heads(phone: Phone): List<String> =
        setOf("Chanterelle", "Beech", "Velvet shank", "Old elder", "No kind noted", "Bank").let { known -> phone.texts().filter { it in known } }

    private fun hurt(phone: Phone) {
        val read = phone.texts()
        phone.die()
        assertEquals(read, phone.texts())
        phone.turn()
        assertEquals(read, phone.texts())
    }
}
