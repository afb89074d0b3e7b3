package trug.window

import java.util.concurrent.Callable
import java.util.function.Consumer
import org.junit.Test
import org.robolectric.RobolectricTestRunner
import org.robolectric.annotation.Config
import org.robolectric.annotation.GraphicsMode
import org.robolectric.annotation.LooperMode

/** What tests on the real framework have in common, and a phone on the desk with them: how the framework is set up. */
@Config(sdk = [34, 35])
@GraphicsMode(GraphicsMode.Mode.NATIVE)
@LooperMode(LooperMode.Mode.PAUSED)
class Ground {
    @Test
    fun stands() = Unit
}

/** Boots the framework of API level [api] in this process, the way a test would. */
class Boot(private val api: Int) : RobolectricTestRunner(Ground::class.java) {
    /**
     * Runs the host on the framework's main thread until it ends, and answers with its exit status. [tell] gets each line that
     * it has to say. Both are of the JDK: the framework has a class loader of its own, and shares no other class with ours.
     */
    fun run(arguments: List<String>, tell: Consumer<String>): Int {
        val method = children.first { it is RobolectricFrameworkMethod && it.sdk.apiLevel == api }
        val sandbox = getSandbox(method)
        configureSandbox(sandbox, method)
        return sandbox.runOnMainThread(
            Callable {
                val thread = Thread.currentThread()
                val before = thread.contextClassLoader
                thread.contextClassLoader = sandbox.robolectricClassLoader
                try {
                    beforeTest(sandbox, method, sandbox.bootstrappedClass<Any>(Ground::class.java).getMethod(method.method.name))
                    val inside = sandbox.bootstrappedClass<Any>(Inside::class.java)
                    inside.getMethod("run", List::class.java, Consumer::class.java).invoke(null, arguments, tell) as Int
                } finally {
                    finallyAfterTest(method)
                    thread.contextClassLoader = before
                }
            },
        )
    }
}

/** Where [Boot] comes in on the other side. */
object Inside {
    @JvmStatic
    fun run(arguments: List<String>, tell: Consumer<String>): Int = Host(Options.of(arguments), tell::accept).run()
}
