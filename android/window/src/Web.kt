package trug.window

import com.sun.net.httpserver.HttpExchange
import com.sun.net.httpserver.HttpServer
import java.net.InetAddress
import java.net.InetSocketAddress
import java.security.MessageDigest
import java.security.SecureRandom
import java.util.concurrent.Executors
import org.json.JSONArray
import org.json.JSONObject

/**
 * The phone on a page of this machine: bound to the loopback address alone, and only for whoever knows the token in [address],
 * which is drawn anew at every start. Everything else is refused, whatever it asks for.
 */
internal class Web(private val phone: Remote, port: Int) : AutoCloseable {
    private val token = ByteArray(TOKEN).also(SecureRandom()::nextBytes).joinToString("") { "%02x".format(it) }
    private val server = HttpServer.create(InetSocketAddress(InetAddress.getByAddress(LOOPBACK), port), 0)
    private val threads = Executors.newCachedThreadPool { Thread(it, "page").apply { isDaemon = true } }

    val address = "http://${server.address.address.hostAddress}:${server.address.port}/$token/"

    init {
        server.executor = threads
        server.createContext("/") { exchange -> exchange.use(::serve) }
        server.start()
    }

    private fun serve(exchange: HttpExchange) {
        val (given, what) = exchange.requestURI.path.removePrefix("/").let { it.substringBefore('/') to it.substringAfter('/', "") }
        if (!MessageDigest.isEqual(given.toByteArray(), token.toByteArray())) {
            return exchange.send(REFUSED, PLAIN, "The address lacks its token.")
        }
        try {
            when (exchange.requestMethod to what) {
                "GET" to "" -> exchange.send(OK, "text/html; charset=utf-8", page)
                "GET" to "screen" -> changed(exchange)
                "GET" to "screen.png" -> exchange.send(OK, "image/png", phone.png())
                "GET" to "wanted" -> exchange.send(OK, "application/json", wanted().toString().toByteArray())
                "POST" to "steps" -> {
                    exchange.requestBody.reader().readLines().filter { it.isNotBlank() }.forEach(phone::take)
                    exchange.send(OK, PLAIN, "")
                }
                else -> exchange.send(MISSING, PLAIN, "There is no such page.")
            }
        } catch (failed: StepFailed) {
            exchange.send(FAILED, PLAIN, failed.message.orEmpty())
        }
    }

    /** The screen once it is another than the one whose sum the asker has, or nothing after a while. */
    private fun changed(exchange: HttpExchange) {
        val seen = exchange.requestURI.query?.toLongOrNull()
        val until = System.nanoTime() + AWHILE
        var sum = phone.sum()
        while (sum == seen && System.nanoTime() < until) {
            Thread.sleep(LOOK)
            sum = phone.sum()
        }
        exchange.responseHeaders.add("X-Sum", sum.toString())
        if (sum == seen) exchange.send(SAME, PLAIN, "") else exchange.send(OK, "image/jpeg", phone.jpeg())
    }

    private fun wanted(): JSONObject {
        val wanted = phone.wanted() ?: return JSONObject()
        return JSONObject().put("words", wanted.words).put("answers", JSONArray(wanted.answers))
    }

    private fun HttpExchange.send(status: Int, type: String, text: String) = send(status, type, text.toByteArray())

    private fun HttpExchange.send(status: Int, type: String, body: ByteArray) {
        responseHeaders.add("Content-Type", type)
        responseHeaders.add("Cache-Control", "no-store")
        responseHeaders.add("Referrer-Policy", "no-referrer")
        sendResponseHeaders(status, if (body.isEmpty()) NOTHING else body.size.toLong())
        if (body.isNotEmpty()) responseBody.write(body)
    }

    override fun close() {
        server.stop(0)
        threads.shutdownNow()
    }

    private companion object {
        val LOOPBACK = byteArrayOf(127, 0, 0, 1)
        const val TOKEN = 16
        const val OK = 200
        const val SAME = 204
        const val REFUSED = 403
        const val MISSING = 404
        const val FAILED = 409
        const val NOTHING = -1L
        const val PLAIN = "text/plain; charset=utf-8"

        /** Milliseconds between looks, nanoseconds in all. */
        const val LOOK = 50L
        const val AWHILE = 2_000_000_000L

        val page: ByteArray by lazy { checkNotNull(Web::class.java.getResourceAsStream("/window.html")).use { it.readBytes() } }
    }
}

private inline fun HttpExchange.use(serve: (HttpExchange) -> Unit) = try {
    serve(this)
} finally {
    close()
}
