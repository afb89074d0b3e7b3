package trug.window

import java.awt.GraphicsEnvironment
import java.lang.reflect.InvocationTargetException
import kotlin.system.exitProcess

/** The phone in a window; `android/window/run` starts it. */
fun main(arguments: Array<String>) {
    // Asked before the framework comes up: it declares that there is no display, and the answer given first holds.
    GraphicsEnvironment.isHeadless()
    val status = try {
        val options = Options.of(arguments.toList())
        Boot(options.api).run(arguments.toList(), ::println)
    } catch (wrong: IllegalArgumentException) {
        System.err.println("${wrong.message}: see android/window/run --help")
        WRONG_USE
    } catch (failed: InvocationTargetException) {
        // The framework's threads would keep a program alive that is at its end.
        failed.targetException.printStackTrace()
        BROKEN
    }
    exitProcess(status)
}

private const val BROKEN = 1
private const val WRONG_USE = 2
