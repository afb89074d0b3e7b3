package trug.phone.page.map

import android.Manifest.permission.ACCESS_FINE_LOCATION
import android.animation.ValueAnimator
import android.view.KeyEvent
import android.view.View
import android.view.accessibility.AccessibilityNodeInfo
import kotlin.math.abs
import kotlin.math.hypot
import org.junit.Assert.assertEquals
import org.junit.Assert.assertFalse
import org.junit.Assert.assertNull
import org.junit.Assert.assertTrue
import org.junit.Test
import org.junit.runner.RunWith
import org.robolectric.RobolectricTestRunner
import org.robolectric.RuntimeEnvironment
import org.robolectric.Shadows.shadowOf
import org.robolectric.annotation.Config
import org.robolectric.annotation.GraphicsMode
import trug.phone.R
import trug.phone.app.Look
import trug.phone.app.Phone
import trug.phone.app.Place
import trug.phone.app.Stop

/** The map through the screen, over the real core: fingers, keys, screen readers, and bad days. */
@RunWith(RobolectricTestRunner::class)
@GraphicsMode(GraphicsMode.Mode.NATIVE)
@Config(sdk = [34, 35], qualifiers = "en-rGB-w360dp-h740dp-xhdpi")
class MapTest {
    private fun Phone.allow() = shadowOf(app).grantPermissions(ACCESS_FINE_LOCATION)

    private fun Phone.open(about: String? = null) {
        if (about == null) tap("Map") else activity.go(Stop(Place.MAP, about = about))
        settle()
    }

    private fun wood(look: Look = Look.LIGHT, stands: Boolean = true, check: (Phone, Hand) -> Unit) = Phone(look).use { phone ->
        phone.plantShaw()
        if (stands) {
            phone.allow()
            phone.open()
            phone.stand(SHAW.latitude, SHAW.longitude, 8f)
        } else {
            phone.open()
        }
        check(phone, Hand(phone))
    }

    private fun Phone.thing(name: String) = map.inView().first { it.name == name }

    private fun Phone.spot(name: String) = thing(name).let { sight.x(it.at.east) to sight.y(it.at.north) }

    private fun assertNear(expected: Double, found: Double, within: Double) = assertTrue("$found for $expected", abs(found - expected) <= within)

    @Test
    fun `an empty notebook says so, until the phone knows where it is`() = Phone().use { phone ->
        phone.open()
        phone.assertReads("Nothing to map yet.")
        assertTrue(phone.canTap("Use this phone’s position"))
        phone.draw("map-00-nothing")
        phone.assertTouchable()
        phone.allow()
        phone.back()
        phone.open()
        phone.assertReads("Waiting for a position")
        phone.stand(SHAW.latitude, SHAW.longitude, 8f)
        phone.assertReads("You: ")
        assertTrue(phone.map.contentDescription.contains("no patch in view"))
        phone.draw("map-01-only-here")
    }

    @Test
    fun `it opens about where one stands, with the nearest patch in view, and tells where that is`() = wood { phone, _ ->
        // Test places are 51.5 N 1.5 W: SU 34814 78011 by pyproj 3.7.2 and OSTN15 within 10 m (the National Grid of the place).
        phone.assertReads("You: SU 34")
        phone.assertReads("Grid north: 0.4° E of true north")
        assertTrue(phone.thing("Elders") is Thing.Patch)
        assertTrue(phone.map.contentDescription.toString(), phone.map.contentDescription.startsWith("Map, "))
        phone.draw("map-02-wood")
        phone.assertTouchable()
        assertTrue(phone.map.sheet!!.lines.isNotEmpty())
    }

    @Test
    fun `without a position it is about the patches, all of them`() = wood(stands = false) { phone, _ ->
        assertEquals(setOf("Elders", "Beech logs"), phone.map.inView().filterIsInstance<Thing.Patch>().map { it.name }.toSet())
        phone.assertReads("Trug does not know where you are")
        phone.assertReads("Middle of the map: SU")
        assertTrue(phone.canTap("Use this phone’s position"))
        assertFalse("nobody knows where that is", phone.canTap("Here"))
        phone.draw("map-03-no-position")
    }

    @Test
    fun `a finger draws the land along, and the words follow`() = wood { phone, hand ->
        val before = phone.sight
        val words = phone.texts()
        hand.drag(300f, 300f, 500f, 220f)
        assertNear(before.east - 200 * before.scale, phone.sight.east, 25 * before.scale)
        assertNear(before.north - 80 * before.scale, phone.sight.north, 25 * before.scale)
        assertTrue("the middle is elsewhere", phone.texts() != words)
        phone.assertReads("Middle of the map: SU")
        phone.tap("Here")
        assertNear(0.0, phone.sight.east, before.scale)
        // Whoever walks on is followed, until they draw the map themselves.
        phone.pass(seconds = 2)
        phone.stand(51.5009, -1.5, 7f)
        assertNear(100.1, phone.sight.north, 1.0)
        phone.pass(seconds = 2)
        phone.stand(51.50095, -1.5, 6f)
        assertNear(100.1, phone.sight.north, 1.0)
        hand.drag(300f, 300f, 360f, 300f)
        val left = phone.sight
        phone.pass(seconds = 2)
        phone.stand(51.5030, -1.5, 5f)
        assertEquals(left, phone.sight)
    }

    @Test
    fun `pinching and tapping go in and out about the fingers`() = wood { phone, hand ->
        val before = phone.sight
        val (x, y) = 320f to 500f
        val land = before.east(x) to before.north(y)
        hand.pinch(x, y, 150f, 450f)
        assertTrue("${phone.sight.scale} of ${before.scale}", phone.sight.scale < before.scale / 2)
        assertNear(land.first, phone.sight.east(x), 30 * before.scale)
        assertNear(land.second, phone.sight.north(y), 30 * before.scale)
        hand.pinch(x, y, 450f, 150f)
        assertNear(before.scale, phone.sight.scale, before.scale * 0.3)
        val between = phone.sight
        hand.doubleTap(x, y)
        assertNear(between.scale / 2, phone.sight.scale, between.scale * 1e-6)
        hand.tapWithTwo(x, y)
        assertNear(between.scale, phone.sight.scale, between.scale * 1e-6)
        phone.tap("Closer in")
        assertNear(between.scale / 2, phone.sight.scale, between.scale * 1e-6)
        phone.tap("Farther out")
        assertNear(between.scale, phone.sight.scale, between.scale * 1e-6)
        repeat(40) { phone.tap("Farther out") }
        assertTrue(phone.sight.scale <= 1000.0)
        repeat(60) { phone.tap("Closer in") }
        assertTrue(phone.sight.scale > 0.001)
    }

    @Test
    fun `the grid has the step that fits, from a log to a country`() = wood { phone, _ ->
        var steps = emptySet<Int>()
        repeat(8) { phone.tap("Closer in") }
        repeat(20) {
            phone.map.sheet?.let { steps = steps + it.stepM.toInt() }
            phone.tap("Farther out")
            if (phone.sight.across in 2e5..4e5) phone.draw("map-04-county")
        }
        assertEquals(setOf(10, 100, 1_000, 10_000, 100_000), steps - 0)
        phone.draw("map-05-country")
        assertTrue(phone.map.sheet!!.squares.any { it.name == "SU" })
    }

    @Test
    fun `a flick runs on, and not where nothing is to move by itself`() = wood { phone, hand ->
        val scale = ValueAnimator::class.java.getMethod("setDurationScale", Float::class.javaPrimitiveType)
        try {
            val ran = listOf(1f, 0f).map { motion ->
                scale.invoke(null, motion)
                val before = phone.sight
                hand.flick(300f, 300f, 300f, 500f)
                (phone.sight.north - before.north) / before.scale
            }
            assertTrue("ran on by $ran", ran[0] > 250)
            assertNear(200.0, ran[1], 25.0)
            phone.assertReads("Middle of the map: SU")
        } finally {
            scale.invoke(null, 1f)
        }
    }

    @Test
    fun `a touch opens the page of what it is on, and the map is there again as it was left`() = wood { phone, hand ->
        val before = phone.sight
        val (x, y) = phone.spot("Elders")
        hand.tap(x + 8, y - 8)
        assertEquals(R.string.patch_title, phone.activity.page?.title)
        phone.back()
        // What is told below it may take another line from it.
        assertEquals(before.copy(height = phone.sight.height), phone.sight)
        phone.assertReads("Jelly ear · 110 m, 0° N · Looked")
        phone.draw("map-06-touched")
        hand.tap(phone.sight.width / 2f, phone.sight.height - 10f)
        assertNull(phone.map.chosen)
        val find = phone.map.inView().first { it is Thing.Find }
        hand.tap(phone.sight.x(find.at.east), phone.sight.y(find.at.north))
        assertEquals(R.string.find_title, phone.activity.page?.title)
        phone.back()
        assertEquals(R.string.map_title, phone.activity.page?.title)
    }

    @Test
    fun `keys move it, go in and out, and go from patch to patch`() = wood { phone, hand ->
        val before = phone.sight
        hand.key(KeyEvent.KEYCODE_DPAD_UP)
        assertNear(before.north + before.up / 4, phone.sight.north, before.scale)
        hand.key(KeyEvent.KEYCODE_DPAD_DOWN)
        hand.key(KeyEvent.KEYCODE_DPAD_LEFT)
        assertNear(before.east - before.across / 4, phone.sight.east, before.scale)
        hand.key(KeyEvent.KEYCODE_DPAD_RIGHT)
        hand.key(KeyEvent.KEYCODE_PLUS)
        assertNear(before.scale / 2, phone.sight.scale, 1e-9)
        hand.key(KeyEvent.KEYCODE_MINUS)
        hand.key(KeyEvent.KEYCODE_MINUS)
        val visible = phone.map.inView()
        assertTrue(visible.size >= 3)
        for (thing in visible) {
            hand.key(KeyEvent.KEYCODE_TAB)
            assertEquals(thing.id, phone.map.chosen?.id)
            phone.assertReads(thing.name)
        }
        hand.key(KeyEvent.KEYCODE_TAB, shift = true)
        assertEquals(visible[visible.size - 2].id, phone.map.chosen?.id)
        repeat(2) { hand.key(KeyEvent.KEYCODE_TAB) }
        assertNull("beyond the last, Tab goes on to the buttons", phone.map.chosen)
        hand.key(KeyEvent.KEYCODE_TAB)
        hand.key(KeyEvent.KEYCODE_ENTER)
        assertEquals(R.string.patch_title, phone.activity.page?.title)
    }

    @Test
    fun `a screen reader has a node for everything, and moves the map`() = wood { phone, _ ->
        shadowOf(phone.app.getSystemService(android.view.accessibility.AccessibilityManager::class.java)).setEnabled(true)
        val nodes = checkNotNull(phone.map.accessibilityNodeProvider)
        val host = checkNotNull(nodes.createAccessibilityNodeInfo(View.NO_ID))
        assertTrue(host.contentDescription.toString(), host.contentDescription.contains("1 patch in view") || host.contentDescription.contains("patches in view"))
        val labels = host.actionList.mapNotNull { it.label?.toString() }
        assertEquals(listOf("Move north", "Move south", "Move east", "Move west", "Closer in", "Farther out"), labels)
        assertEquals(phone.map.inView().size, host.childCount)
        val told = (1..host.childCount).mapNotNull { nodes.createAccessibilityNodeInfo(it) }
        val elders = told.single { it.contentDescription.startsWith("Elders") }
        assertTrue(elders.contentDescription.toString(), elders.contentDescription.contains("110 m, 0° N"))
        val box = android.graphics.Rect().also(elders::getBoundsInScreen)
        assertTrue(box.width() >= 48 * 2 && box.height() >= 48 * 2)
        val number = (1..host.childCount).first { nodes.createAccessibilityNodeInfo(it)?.contentDescription == elders.contentDescription }
        assertTrue(nodes.performAction(number, AccessibilityNodeInfo.ACTION_ACCESSIBILITY_FOCUS, null))
        assertTrue(checkNotNull(nodes.createAccessibilityNodeInfo(number)).isAccessibilityFocused)
        val before = phone.sight
        assertTrue(nodes.performAction(View.NO_ID, R.id.map_move_east, null))
        assertNear(before.east + before.across / 4, phone.sight.east, before.scale)
        assertTrue(nodes.performAction(View.NO_ID, R.id.map_farther, null))
        assertNear(before.scale * 2, phone.sight.scale, 1e-9)
        assertNull(nodes.createAccessibilityNodeInfo(999))
        assertTrue(nodes.performAction(number, AccessibilityNodeInfo.ACTION_CLICK, null))
        phone.settle()
        assertEquals(R.string.patch_title, phone.activity.page?.title)
    }

    @Test
    fun `what was looked at outlives turning and death`() = wood { phone, hand ->
        hand.drag(300f, 300f, 420f, 380f)
        phone.tap("Closer in")
        hand.key(KeyEvent.KEYCODE_TAB)
        assertEquals("Elders", phone.map.chosen?.name)
        val before = phone.sight
        for (harm in listOf({ phone.turn() }, { phone.die() })) {
            harm()
            phone.settle()
            assertNear(before.east, phone.sight.east, 1.0)
            assertNear(before.north, phone.sight.north, 1.0)
            assertNear(before.scale, phone.sight.scale, before.scale * 1e-9)
            assertEquals("Elders", phone.map.chosen?.name)
        }
    }

    @Test
    fun `far away it is laid afresh about where it is looked at, and goes on showing that`() = wood { phone, hand ->
        repeat(7) { phone.tap("Farther out") }
        val before = phone.sight
        val words = phone.texts().first { it.startsWith("Middle of the map") }
        hand.drag(600f, 300f, 100f, 300f)
        hand.drag(600f, 300f, 100f, 300f)
        assertTrue("laid about what is in the middle", hypot(phone.sight.east, phone.sight.north) < 1000)
        assertTrue(phone.texts().none { it == words })
        // The patches have gone west by as much as the land was drawn.
        val elders = phone.map.things!!.patches.first { it.name == "Elders" }
        assertNear(-1000 * before.scale, elders.at.east, 60 * before.scale)
        phone.turn()
        val again = phone.map.things!!.patches.first { it.name == "Elders" }
        assertNear(phone.sight.x(elders.at.east).toDouble(), phone.sight.x(again.at.east).toDouble(), 2.0)
    }

    @Test
    fun `it opens on the patch that it was opened for`() = Phone().use { phone ->
        val elders = phone.plantShaw()
        phone.open(elders)
        assertEquals(elders, phone.map.chosen?.id)
        assertNear(phone.sight.width / 2.0, phone.spot("Elders").first.toDouble(), 2.0)
        phone.assertReads("Elders")
    }

    @Test
    fun `closed ground is hatched and named, ruled ground is edged, and both are told of`() = wood { phone, hand ->
        phone.fenceShaw()
        for (look in listOf(Look.DARK, Look.RED, Look.LIGHT)) {
            phone.activity.look = look
            phone.settle()
            phone.draw("map-07-areas-${look.name.lowercase()}")
        }
        // Well away from every mark, within.
        hand.tap(phone.sight.x(-80.0), phone.sight.y(20.0))
        phone.assertReads("Lidgate Hanger: closed")
        phone.assertReads("around you")
        hand.tap(phone.sight.x(90.0), phone.sight.y(150.0))
        phone.assertReads("Harrow Common: ")
        assertEquals(2, phone.map.inView().count { it is Thing.Area })
        // So close in that neither its middle nor its edge is in view, it is still told that one stands in it.
        phone.tap("Here")
        repeat(6) { phone.tap("Closer in") }
        assertEquals(listOf("Lidgate Hanger: closed"), phone.map.inView().filterIsInstance<Thing.Area>().map { it.name })
        phone.draw("map-07-areas-within")
    }

    @Test
    @Config(qualifiers = "w320dp-h533dp-xhdpi")
    fun `it has room on a small screen in the largest type`() {
        RuntimeEnvironment.setFontScale(2f)
        wood { phone, _ ->
            phone.draw("map-08-small-large")
            phone.assertTouchable()
            assertTrue(phone.map.height >= 176 * 2)
        }
    }

    @Test
    @Config(qualifiers = "w740dp-h360dp-land-xhdpi")
    fun `it has room on a phone on its side, the buttons at the thumb`() = wood { phone, _ ->
        phone.draw("map-09-side")
        phone.assertTouchable()
        assertTrue(phone.map.width > 400 * 2 && phone.map.height >= 176 * 2)
    }

    @Test
    @Config(qualifiers = "ar-rXB-ldrtl-w360dp-h740dp-xhdpi")
    fun `where reading begins at the right, so do figures and the scale, and east stays to the right`() = wood { phone, _ ->
        phone.draw("map-10-right-to-left")
        assertTrue(phone.map.layoutDirection == View.LAYOUT_DIRECTION_RTL)
        val (logs, elders) = phone.thing("Beech logs") to phone.thing("Elders")
        assertTrue(phone.sight.x(logs.at.east) > phone.sight.x(elders.at.east))
    }
}
