package trug.phone.page.exchange

import android.content.ClipData
import android.content.ClipboardManager
import android.content.Intent
import android.os.Build
import android.view.View
import trug.core.KeyShown
import trug.core.PeerShown
import trug.core.PeersPage
import trug.phone.R
import trug.phone.draw.Field
import trug.phone.draw.Ink
import trug.phone.draw.part
import trug.phone.draw.put
import trug.phone.draw.row

/** The devices that this phone is paired with. */
internal fun devices(circle: Circle, page: PeersPage): View = circle.ink.column().apply {
    val ink = circle.ink
    part(ink, circle.words(R.string.exchange_devices))
    // With none yet, the way to pair one is at the thumb.
    if (page.peers.isEmpty()) return@apply put(ink, ink.words(circle.words(R.string.exchange_devices_none), colour = ink.quiet))
    page.peers.forEach { peer -> put(ink, row(ink, peer.name, peer.key?.fingerprint.orEmpty()) { circle.turn(Leaf.DEVICE, peer.id) }) }
    put(ink, ink.button(circle.words(R.string.exchange_pair)) { circle.turn(Leaf.PAIR) })
}

/** The key of this phone, to be handed to the others. */
internal fun ownKey(circle: Circle, own: KeyShown): View = circle.ink.column().apply {
    val ink = circle.ink
    part(ink, circle.words(R.string.exchange_key))
    put(ink, ink.words(circle.words(R.string.exchange_key_about), colour = ink.quiet))
    put(ink, key(ink, own))
    put(
        ink,
        ink.beside(
            ink.button(circle.words(R.string.exchange_key_copy)) { copy(circle, own) },
            ink.button(circle.words(R.string.exchange_key_send)) { send(circle, own) },
        ),
    )
}

private fun copy(circle: Circle, own: KeyShown) {
    val board = circle.ink.context.getSystemService(ClipboardManager::class.java)
    board.setPrimaryClip(ClipData.newPlainText(circle.words(R.string.exchange_key), own.text))
    // Newer phones say so themselves.
    if (Build.VERSION.SDK_INT < Build.VERSION_CODES.TIRAMISU) circle.house.complain(circle.words(R.string.exchange_key_copied))
}

private fun send(circle: Circle, own: KeyShown) {
    val send = Intent(Intent.ACTION_SEND).setType("text/plain").putExtra(Intent.EXTRA_TEXT, own.text)
    circle.ink.context.startActivity(Intent.createChooser(send, null))
}

/** A key, to be compared by its figures, and in groups, as long lines are read. */
private fun key(ink: Ink, key: KeyShown): View = ink.column(
    ink.words(key.fingerprint, bold = true).apply { fontFeatureSettings = "tnum" },
    ink.words(key.text.chunked(GROUP).joinToString(" "), colour = ink.quiet),
)

/** One paired device, and the way to trust it no longer. */
internal fun deviceLeaf(circle: Circle, peer: PeerShown): View = circle.ink.column(circle.ink.head(peer.name)).apply {
    val ink = circle.ink
    peer.key?.let { key ->
        put(ink, ink.words(circle.words(R.string.exchange_compare)), Ink.MARGIN)
        put(ink, key(ink, key))
    }
}

/** Another device is paired: its key, and what to call it. */
internal class Pairing(private val circle: Circle, private val paired: (String, String) -> Unit) {
    private val ink = circle.ink
    private val key = Field(ink, circle.words(R.string.exchange_their_key), Field.Kind.CODE) {}
    private val name = Field(ink, circle.words(R.string.exchange_their_name)) {}
    val view: View = ink.column(ink.words(circle.words(R.string.exchange_pair_about))).apply {
        listOf(key.view, name.view).forEach { put(ink, it, Ink.MARGIN) }
    }
    val thumb: View = ink.thumb(circle.words(R.string.exchange_pair_now)) { paired(key.text, name.text) }

    /** What was typed so far. */
    var typed: Pair<String, String>
        get() = key.text to name.text
        set(before) {
            key.show(before.first)
            name.show(before.second)
        }
}

private const val GROUP = 8
