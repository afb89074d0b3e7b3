package trug.window

import java.awt.BorderLayout
import java.awt.Dimension
import java.awt.Graphics
import java.awt.Graphics2D
import java.awt.GraphicsEnvironment
import java.awt.RenderingHints
import java.awt.event.KeyAdapter
import java.awt.event.KeyEvent
import java.awt.event.MouseAdapter
import java.awt.event.MouseEvent
import java.awt.event.WindowAdapter
import java.awt.event.WindowEvent
import java.awt.image.BufferedImage
import java.util.concurrent.Executors
import javax.swing.JButton
import javax.swing.JFrame
import javax.swing.JLabel
import javax.swing.JPanel
import javax.swing.SwingUtilities
import javax.swing.Timer

/** The phone in a window of the desk, where the desk has a display. Escape goes back, F2 turns it, F3 and F4 make night and day. */
internal class Glass(private val phone: Remote) {
    // The window never waits for the phone: steps and looks are taken one after the other on a thread beside it.
    private val beside = Executors.newSingleThreadExecutor { Thread(it, "glass").apply { isDaemon = true } }
    private val frame = JFrame("Trug")
    private val strip = JPanel()
    private var wanted: Remote.Wanted? = null
    private var looking = false

    /** When somebody last did something, and how often the timer has rung. */
    @Volatile
    private var touched = 0L
    private var rung = 0

    fun show() {
        if (GraphicsEnvironment.isHeadless()) return
        SwingUtilities.invokeLater {
            frame.defaultCloseOperation = JFrame.DISPOSE_ON_CLOSE
            frame.addWindowListener(object : WindowAdapter() {
                override fun windowClosed(event: WindowEvent) = take("leave")
            })
            frame.add(pane, BorderLayout.CENTER)
            frame.add(strip, BorderLayout.SOUTH)
            frame.pack()
            frame.isVisible = true
            pane.requestFocusInWindow()
            Timer(EVERY) { look() }.start()
        }
    }

    private fun take(step: String) = beside.execute {
        touched = System.nanoTime()
        val failed = runCatching { phone.take(step) }.exceptionOrNull()
        SwingUtilities.invokeLater { frame.title = failed?.message ?: "Trug" }
    }

    private fun look() {
        val isCalm = System.nanoTime() - touched > LIVELY
        if (looking || (isCalm && rung++ % SELDOM != 0)) return
        looking = true
        beside.execute {
            val (pixels, width) = phone.pixels()
            val image = BufferedImage(width, pixels.size / width, BufferedImage.TYPE_INT_ARGB)
            image.setRGB(0, 0, width, image.height, pixels, 0, width)
            val wanted = phone.wanted()
            SwingUtilities.invokeLater {
                looking = false
                pane.show(image)
                ask(wanted)
            }
        }
    }

    private fun ask(now: Remote.Wanted?) {
        if (now == wanted) return
        wanted = now
        strip.removeAll()
        now?.let { strip.add(JLabel(it.words)) }
        for (answer in now?.answers.orEmpty()) {
            strip.add(JButton(answer.removePrefix("answer ")).apply { addActionListener { take(answer) } })
        }
        frame.pack()
    }

    private val pane = object : JPanel() {
        private var image: BufferedImage? = null
        private var scale = 1.0

        init {
            isFocusable = true
            focusTraversalKeysEnabled = false
            val mouse = object : MouseAdapter() {
                override fun mousePressed(event: MouseEvent) {
                    requestFocusInWindow()
                    take("down ${place(event)}")
                }

                override fun mouseDragged(event: MouseEvent) = take("move ${place(event)}")

                override fun mouseReleased(event: MouseEvent) = take("up ${place(event)}")
            }
            addMouseListener(mouse)
            addMouseMotionListener(mouse)
            addKeyListener(object : KeyAdapter() {
                override fun keyPressed(event: KeyEvent) = KEYS[event.keyCode]?.let(::take) ?: Unit

                override fun keyTyped(event: KeyEvent) {
                    if (!event.keyChar.isISOControl()) take("type ${event.keyChar}")
                }
            })
        }

        private fun place(event: MouseEvent) = "${event.x / scale} ${event.y / scale}"

        fun show(next: BufferedImage) {
            if (next.width != image?.width) {
                scale = minOf(1.0, toolkit.screenSize.height * SHARE / next.height)
                preferredSize = Dimension((next.width * scale).toInt(), (next.height * scale).toInt())
                frame.pack()
            }
            image = next
            repaint()
        }

        override fun paintComponent(graphics: Graphics) {
            super.paintComponent(graphics)
            val image = image ?: return
            (graphics as Graphics2D).setRenderingHint(RenderingHints.KEY_INTERPOLATION, RenderingHints.VALUE_INTERPOLATION_BILINEAR)
            graphics.drawImage(image, 0, 0, (image.width * scale).toInt(), (image.height * scale).toInt(), null)
        }
    }

    private companion object {
        /** Milliseconds between looks; every so manieth of them will do when nobody has touched it for so many nanoseconds. */
        const val EVERY = 33
        const val SELDOM = 10
        const val LIVELY = 3_000_000_000L
        const val SHARE = 0.85
        val KEYS = mapOf(
            KeyEvent.VK_ESCAPE to "back",
            KeyEvent.VK_F2 to "rotate",
            KeyEvent.VK_F3 to "night",
            KeyEvent.VK_F4 to "day",
            KeyEvent.VK_ENTER to "key enter",
            KeyEvent.VK_BACK_SPACE to "key delete",
            KeyEvent.VK_TAB to "key tab",
        )
    }
}
