package trug.window

import java.io.File
import java.net.HttpURLConnection
import java.net.InetAddress
import java.net.NetworkInterface
import java.net.Socket
import java.net.URI
import java.util.concurrent.CompletableFuture
import java.util.concurrent.LinkedBlockingQueue
import java.util.concurrent.TimeUnit
import javax.imageio.ImageIO
import org.junit.Assert.assertEquals
import org.junit.Assert.assertNotEquals
import org.junit.Assert.assertTrue
import org.junit.Rule
import org.junit.Test
import org.junit.rules.TemporaryFolder

/** The phone on the desk, started as its own program starts it, with a small app on it. */
class WindowTest {
    @get:Rule
    val folder = TemporaryFolder()

    @Test
    fun `a tour presses, types, answers and leaves its pictures`() {
        val (status, told) = tour(
            """
            # a remark
            screen first: before anything
            tap Photograph
            answer photo cap.jpg
            see Photo of 3 bytes
            tap Photograph
            die
            answer photo none
            see Not done
            camera gone
            tap Photograph
            see No camera
            tap A name
            type hazel, by the gate
            see hazel
            screen keyboard
            back
            position 52.93 0.26 7
            tap Where
            answer leave refused
            see Leave to 0
            tap Where
            answer leave
            see Within 7 m
            rotate
            see Within 7 m
            screen turned
            rotate
            tap Save
            answer document list.txt
            see Saved
            tap Ask
            screen dialog
            tap It rains
            see Rain
            tap Anew
            see Rain
            night
            screen night
            """,
        )
        assertEquals(told.toString(), 0, status)
        val out = folder.root.resolve("out")
        val taken = listOf("first", "keyboard", "turned", "dialog", "night")
        assertEquals((taken + "sheet").map { "$it.png" }.toSet() + "index.html", out.list()?.toSet())
        val pictures = taken.map { ImageIO.read(out.resolve("$it.png")) }
        val upright = 320 to 480
        assertEquals(listOf(upright, upright, 480 to 320, upright, upright), pictures.map { it.width to it.height })
        val colours = pictures.map { it.getRGB(0, 0, it.width, it.height, null, 0, it.width).toSet().size }
        assertTrue("a picture is empty: $colours", colours.all { it > 2 })
        assertTrue(folder.root.resolve("out/index.html").readText().contains("answer photo cap.jpg"))
        assertEquals("saved", folder.root.resolve("desk/list.txt").readText())
    }

    @Test
    fun `a step that cannot be taken ends the tour, with its line and what is on the screen`() {
        val (status, told) = tour("tap Photograph\nanswer leave\nscreen never")
        assertEquals(1, status)
        assertTrue(told.toString(), told.any { it.startsWith("steps, line 2: the app asks for a photograph") })
        assertTrue(told.toString(), told.any { "Nothing yet" in it })
        assertTrue(folder.root.resolve("out/failed.png").exists())
        assertTrue(!folder.root.resolve("out/never.png").exists())
    }

    @Test
    fun `the page shows the phone to whoever has the token, on this machine alone`() {
        val told = LinkedBlockingQueue<String>()
        val ended = CompletableFuture.supplyAsync { Boot(API).run(options("--no-swing"), told::add) }
        val address = generateSequence { told.poll(60, TimeUnit.SECONDS) }.first { it.startsWith("http") }
        try {
            pageHolds(address)
        } finally {
            post(address + "steps", "leave")
        }
        assertEquals(0, ended.get(60, TimeUnit.SECONDS))
    }

    private fun pageHolds(address: String) {
        val (host, port) = URI(address).let { it.host to it.port }
        assertEquals("127.0.0.1", host)
        val token = URI(address).path.trim('/')
        assertTrue(token, Regex("[0-9a-f]{32}").matches(token))
        for (wrong in listOf("", "screen.png", "${"0".repeat(32)}/", "${token.dropLast(1)}/screen.png", "${token}0/", "x/$token/")) {
            assertEquals(wrong, 403, get("http://$host:$port/$wrong").first)
        }
        assertEquals(403, post("http://$host:$port/steps", "leave").first)
        val addresses = NetworkInterface.getNetworkInterfaces().toList().flatMap { it.inetAddresses.toList() }
        for (other in addresses.filterNot { it.isLoopbackAddress } + InetAddress.getByName("127.0.0.2")) {
            assertTrue("reached by $other", runCatching { Socket(other, port).close() }.isFailure)
        }

        assertEquals(200, get(address).first)
        val before = get(address + "screen.png").second
        assertEquals(listOf(0x89, 'P'.code), before.take(2).map { it.toInt() and 0xff })
        assertEquals(200, post(address + "steps", "tap Ask").first)
        assertNotEquals(before.toList(), get(address + "screen.png").second.toList())
        assertEquals(200, post(address + "steps", "tap It rains\nsee Rain\ntap Photograph\nwait 100").first)
        assertTrue(String(get(address + "wanted").second).contains("answer photo cap.jpg"))
        val (status, words) = post(address + "steps", "answer leave")
        assertEquals(409 to "the app asks for a photograph", status to String(words))
        assertEquals(404, get(address + "other").first)
    }

    private fun tour(script: String): Pair<Int, List<String>> {
        folder.root.resolve("steps").writeText(script.trimIndent())
        val told = mutableListOf<String>()
        val into = folder.root.resolve("out").path
        return Boot(API).run(options("--tour", folder.root.resolve("steps").path, "--into", into), told::add) to told
    }

    private fun options(vararg more: String): List<String> {
        val (photos, documents) = listOf("camera", "desk").map { name -> folder.root.resolve(name).also(File::mkdirs) }
        photos.resolve("cap.jpg").writeText("cap")
        val activity = TrialActivity::class.java.name
        return listOf("--activity", activity, "--photos", photos.path, "--documents", documents.path, "--phone", PHONE) + more
    }

    private fun get(address: String) = answer(connection(address))

    private fun post(address: String, body: String) = answer(
        connection(address).apply {
            doOutput = true
            outputStream.use { it.write(body.toByteArray()) }
        },
    )

    private fun connection(address: String) = URI(address).toURL().openConnection() as HttpURLConnection

    private fun answer(connection: HttpURLConnection): Pair<Int, ByteArray> {
        val body = if (connection.responseCode < 400) connection.inputStream else connection.errorStream
        return connection.responseCode to (body?.readBytes() ?: ByteArray(0))
    }

    private companion object {
        const val API = 34

        /** Small, so that it is drawn quickly. */
        const val PHONE = "w320dp-h480dp-mdpi"
    }
}
