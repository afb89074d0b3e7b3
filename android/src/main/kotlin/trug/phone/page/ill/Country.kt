package trug.phone.page.ill

import android.content.Context
import android.telephony.TelephonyManager

/** The country that the phone stands in, as the network says; where there is none that of its card, or of its language. */
internal fun country(context: Context): String? {
    val phone = context.getSystemService(TelephonyManager::class.java)
    val language = context.resources.configuration.locales[0].country
    return listOf(phone?.networkCountryIso, phone?.simCountryIso, language).firstOrNull { !it.isNullOrBlank() }?.uppercase()
}
