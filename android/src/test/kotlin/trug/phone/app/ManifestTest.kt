package trug.phone.app

import android.Manifest.permission
import android.content.Intent
import android.content.pm.ApplicationInfo
import android.content.pm.PackageManager
import android.net.Uri
import org.junit.Assert.assertEquals
import org.junit.Assert.assertFalse
import org.junit.Assert.assertTrue
import org.junit.Test
import org.junit.runner.RunWith
import org.robolectric.RobolectricTestRunner
import org.robolectric.RuntimeEnvironment
import org.robolectric.annotation.Config
import org.xmlpull.v1.XmlPullParser
import trug.phone.R

/** What the app may do, and what may leave it, as the framework itself reads its manifest. */
@RunWith(RobolectricTestRunner::class)
@Config(sdk = [34, 35])
class ManifestTest {
    private val app = RuntimeEnvironment.getApplication()

    @Test
    fun `it asks for the position, and for nothing else`() {
        val asked = app.packageManager.getPackageInfo(app.packageName, PackageManager.GET_PERMISSIONS).requestedPermissions
        assertEquals(setOf(permission.ACCESS_FINE_LOCATION, permission.ACCESS_COARSE_LOCATION), asked.orEmpty().toSet())
    }

    @Test
    fun `nobody may open its photos, nor the files on their way out, but whom it lets`() {
        val providers = app.packageManager.getPackageInfo(app.packageName, PackageManager.GET_PROVIDERS).providers.orEmpty()
        assertEquals(setOf("trug.phone.captures", "trug.phone.outbox"), providers.map { it.authority }.toSet())
        for (provider in providers) assertEquals(provider.authority, false to true, provider.exported to provider.grantUriPermissions)
    }

    @Test
    fun `other apps may start its one window, with a bundle or without, and nothing else`() {
        val info = app.packageManager.getPackageInfo(app.packageName, ALL_PARTS)
        val parts = listOf(info.activities, info.services, info.receivers, info.providers).flatMap { it.orEmpty().toList() }
        assertEquals(listOf(MainActivity::class.java.name), parts.filter { it.exported }.map { it.name })
    }

    @Test
    fun `it is offered for files that may be bundles, and for no others`() {
        val opens = { intent: Intent -> app.packageManager.queryIntentActivities(intent.setPackage(app.packageName), 0).isNotEmpty() }
        val document = Uri.parse("content://post/1")
        for (type in listOf("application/zip", "application/octet-stream")) {
            assertTrue(type, opens(Intent(Intent.ACTION_VIEW).setDataAndType(document, type)))
            assertTrue(type, opens(Intent(Intent.ACTION_SEND).setType(type)))
        }
        for (type in listOf("image/jpeg", "text/plain", "application/pdf")) {
            assertFalse(type, opens(Intent(Intent.ACTION_VIEW).setDataAndType(document, type)))
            assertFalse(type, opens(Intent(Intent.ACTION_SEND).setType(type)))
        }
        assertFalse("no addresses", opens(Intent(Intent.ACTION_VIEW, Uri.parse("https://example.org/bundle.zip")).addCategory(Intent.CATEGORY_BROWSABLE)))
    }

    @Test
    fun `the phone makes no backup of it`() =
        assertEquals(0, app.applicationInfo.flags and ApplicationInfo.FLAG_ALLOW_BACKUP)

    @Test
    fun `neither backup nor transfer takes anything along`() {
        val rules = app.resources.getXml(R.xml.nothing_leaves)
        val excluded = mutableMapOf<String, MutableSet<String>>()
        var way = ""
        while (rules.next() != XmlPullParser.END_DOCUMENT) {
            if (rules.eventType != XmlPullParser.START_TAG) continue
            when (rules.name) {
                "data-extraction-rules" -> Unit
                "cloud-backup", "device-transfer" -> way = rules.name
                "exclude" -> {
                    assertEquals(".", rules.getAttributeValue(null, "path"))
                    excluded.getOrPut(way, ::mutableSetOf) += rules.getAttributeValue(null, "domain")
                }
                else -> throw AssertionError("“${rules.name}” has no business here")
            }
        }
        assertEquals(mapOf("cloud-backup" to DOMAINS, "device-transfer" to DOMAINS), excluded)
    }

    private companion object {
        const val ALL_PARTS = PackageManager.GET_ACTIVITIES or PackageManager.GET_SERVICES or PackageManager.GET_RECEIVERS or PackageManager.GET_PROVIDERS

        /** All that there are, from memory. */
        val DOMAINS = setOf("root", "file", "database", "sharedpref", "external") +
            setOf("device_root", "device_file", "device_database", "device_sharedpref")
    }
}
