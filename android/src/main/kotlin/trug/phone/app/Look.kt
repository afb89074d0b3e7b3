package trug.phone.app

import android.content.Context
import trug.phone.R

/** How pages look. Red for night keeps eyes used to the dark. */
internal enum class Look(val theme: Int, val words: Int) {
    PHONE(R.style.Trug, R.string.app_look_phone),
    LIGHT(R.style.Trug_Light, R.string.app_look_light),
    DARK(R.style.Trug_Dark, R.string.app_look_dark),
    RED(R.style.Trug_Red, R.string.app_look_red),
    ;

    companion object {
        private const val FILE = "look"
        private const val LOOK = "look"
        private const val BEFORE = "before"

        /** The look that was chosen last. */
        fun of(context: Context): Look {
            val name = context.getSharedPreferences(FILE, Context.MODE_PRIVATE).getString(LOOK, null)
            return entries.find { it.name == name } ?: PHONE
        }

        fun choose(context: Context, look: Look) {
            val before = of(context).takeIf { it != RED && look == RED }
            val edit = context.getSharedPreferences(FILE, Context.MODE_PRIVATE).edit().putString(LOOK, look.name)
            before?.let { edit.putString(BEFORE, it.name) }
            edit.apply()
        }

        /** The look before red for night. */
        fun beforeRed(context: Context): Look {
            val name = context.getSharedPreferences(FILE, Context.MODE_PRIVATE).getString(BEFORE, null)
            return entries.find { it.name == name } ?: PHONE
        }
    }
}
