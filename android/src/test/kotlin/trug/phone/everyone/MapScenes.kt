package trug.phone.everyone

import android.Manifest.permission.ACCESS_FINE_LOCATION
import org.robolectric.Shadows.shadowOf
import trug.phone.app.Phone
import trug.phone.app.Place
import trug.phone.app.Stop
import trug.phone.page.map.SHAW
import trug.phone.page.map.Thing
import trug.phone.page.map.fenceShaw
import trug.phone.page.map.map
import trug.phone.page.map.plantShaw

private fun Phone.openMap() {
    activity.go(Stop(Place.MAP))
    settle()
}

private fun Phone.standInShaw() {
    shadowOf(app).grantPermissions(ACCESS_FINE_LOCATION)
    openMap()
    stand(SHAW.latitude, SHAW.longitude, 8f)
}

/** The map in every state. */
internal val mapScenes = listOf(
    Scene("map-nothing") { it.openMap() },
    Scene("map-nothing-waiting") { phone ->
        shadowOf(phone.app).grantPermissions(ACCESS_FINE_LOCATION)
        phone.openMap()
    },
    Scene("map-only-here") { it.standInShaw() },
    Scene("map-no-position") { phone ->
        phone.plantShaw()
        phone.openMap()
    },
    Scene("map-wood") { phone ->
        phone.plantShaw()
        phone.standInShaw()
    },
    Scene("map-areas") { phone ->
        phone.plantShaw()
        phone.fenceShaw()
        phone.standInShaw()
        phone.map.open(phone.map.inView().first { it is Thing.Area })
        phone.settle()
    },
    Scene("map-country") { phone ->
        phone.plantShaw()
        phone.standInShaw()
        repeat(16) { phone.tap("Farther out") }
    },
)
