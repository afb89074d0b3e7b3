package trug.phone.page.settings

import android.content.ActivityNotFoundException
import android.content.Intent
import android.os.Bundle
import trug.core.OwnKey
import trug.phone.R
import trug.phone.app.House
import trug.phone.draw.Ink
import trug.phone.draw.part
import trug.phone.draw.put

/** The notebook's own public key: to be passed on as text, and compared. */
internal class OwnKeyLeaf(house: House, saved: Bundle?) : Leaf(house, R.string.own_key_title, saved) {
    init {
        busy()
    }

    override fun shown() = ask({ it.ownKey() }, ::draw)

    private fun draw(key: OwnKey) {
        val body = ink.column(ink.words(words(R.string.own_key_help)))
        body.part(ink, words(R.string.own_key_line))
        body.put(ink, selectable(key.line))
        body.part(ink, words(R.string.own_key_figures))
        body.put(ink, selectable(key.fingerprint).apply { fontFeatureSettings = LINED_UP })
        body.part(ink, words(R.string.own_key_age))
        body.put(ink, selectable(key.age))
        show(body, ink.thumb(words(R.string.own_key_share)) { share(key.line) })
    }

    private fun selectable(text: String) = ink.words(text).apply {
        setTextIsSelectable(true)
        minHeight = ink.dp(Ink.TARGET)
    }

    private fun share(line: String) {
        val text = Intent(Intent.ACTION_SEND).setType("text/plain").putExtra(Intent.EXTRA_TEXT, line)
        try {
            context.startActivity(Intent.createChooser(text, words(R.string.own_key_share)))
        } catch (_: ActivityNotFoundException) {
            house.complain(words(R.string.own_key_share_none))
        }
    }

    private companion object {
        const val LINED_UP = "tnum"
    }
}
