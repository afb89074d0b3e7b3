package trug.window

import android.Manifest.permission.ACCESS_COARSE_LOCATION
import android.Manifest.permission.ACCESS_FINE_LOCATION
import android.app.Activity
import android.app.AlertDialog
import android.content.ActivityNotFoundException
import android.content.Intent
import android.content.pm.PackageManager.PERMISSION_GRANTED
import android.location.LocationManager
import android.net.Uri
import android.os.Bundle
import android.provider.MediaStore
import android.widget.Button
import android.widget.EditText
import android.widget.LinearLayout
import android.widget.TextView
import java.io.File

/** An app of one page that asks others for everything that a phone on the desk has to answer. */
class TrialActivity : Activity() {
    private lateinit var said: TextView
    private val target: Uri get() = Uri.fromFile(File(cacheDir, "photo.jpg"))

    override fun onCreate(saved: Bundle?) {
        super.onCreate(saved)
        said = TextView(this).apply { text = saved?.getString(SAID) ?: "Nothing yet" }
        setContentView(
            LinearLayout(this).apply {
                orientation = LinearLayout.VERTICAL
                addView(said)
                addView(EditText(context).apply { hint = "A name" })
                addView(button("Photograph") { photograph() })
                addView(button("Where") { requestPermissions(arrayOf(ACCESS_FINE_LOCATION, ACCESS_COARSE_LOCATION), WHERE) })
                addView(button("Save") { startActivityForResult(saving(), SAVE) })
                addView(button("Ask") { ask() })
                addView(button("Anew") { recreate() })
            },
        )
    }

    override fun onSaveInstanceState(out: Bundle) {
        super.onSaveInstanceState(out)
        out.putString(SAID, said.text.toString())
    }

    private fun button(words: String, act: () -> Unit) = Button(this).apply {
        text = words
        isAllCaps = false
        setOnClickListener { act() }
    }

    private fun photograph() = try {
        startActivityForResult(Intent(MediaStore.ACTION_IMAGE_CAPTURE).putExtra(MediaStore.EXTRA_OUTPUT, target), PHOTO)
    } catch (_: ActivityNotFoundException) {
        said.text = "No camera"
    }

    private fun saving() = Intent(Intent.ACTION_CREATE_DOCUMENT).addCategory(Intent.CATEGORY_OPENABLE).setType("text/plain")
        .putExtra(Intent.EXTRA_TITLE, "list.txt")

    private fun ask() {
        AlertDialog.Builder(this).setMessage("Is it raining?").setPositiveButton("It rains") { _, _ -> said.text = "Rain" }.show()
    }

    @Deprecated("as the app has it, on the plain framework")
    override fun onActivityResult(code: Int, result: Int, data: Intent?) {
        if (result != RESULT_OK) {
            said.text = "Not done"
        } else if (code == PHOTO) {
            said.text = "Photo of ${File(checkNotNull(target.path)).length()} bytes"
        } else {
            contentResolver.openOutputStream(checkNotNull(data?.data)).use { checkNotNull(it).write("saved".toByteArray()) }
            said.text = "Saved"
        }
    }

    override fun onRequestPermissionsResult(code: Int, permissions: Array<String>, results: IntArray) {
        said.text = "Leave to ${results.count { it == PERMISSION_GRANTED }}"
        if (results.none { it == PERMISSION_GRANTED }) return
        getSystemService(LocationManager::class.java).requestLocationUpdates(LocationManager.GPS_PROVIDER, 0, 0f) { fix ->
            said.text = "Within ${fix.accuracy.toInt()} m"
        }
    }

    private companion object {
        const val SAID = "said"
        const val PHOTO = 1
        const val WHERE = 2
        const val SAVE = 3
    }
}
