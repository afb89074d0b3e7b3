package trug.window

import android.content.ComponentName
import android.content.Intent
import android.content.IntentFilter
import android.provider.MediaStore
import org.robolectric.RuntimeEnvironment
import org.robolectric.Shadows.shadowOf
import org.robolectric.util.ReflectionHelpers

/** The other apps on the phone, as far as ours can ask them for something; what nobody can do is refused, as on a device. */
internal object Others {
    // What the framework itself calls them; they are no part of its public interface.
    const val ASK_LEAVE = "android.content.pm.action.REQUEST_PERMISSIONS"
    const val LEAVE_NAMES = "android.content.pm.extra.REQUEST_PERMISSIONS_NAMES"
    const val LEAVE_RESULTS = "android.content.pm.extra.REQUEST_PERMISSIONS_RESULTS"
    const val LEAVE_WHO = "@android:requestPermissions:"

    private val camera = ComponentName("desk.camera", "desk.camera.Camera")
    private val rest = ComponentName("desk.rest", "desk.rest.Rest")
    private val actions = listOf(
        Intent.ACTION_CHOOSER,
        Intent.ACTION_CREATE_DOCUMENT,
        Intent.ACTION_DIAL,
        Intent.ACTION_GET_CONTENT,
        Intent.ACTION_OPEN_DOCUMENT,
        Intent.ACTION_SEND,
        Intent.ACTION_VIEW,
        android.provider.Settings.ACTION_APPLICATION_DETAILS_SETTINGS,
        android.provider.Settings.ACTION_LOCATION_SOURCE_SETTINGS,
    )

    private val packages get() = RuntimeEnvironment.getApplication().packageManager

    fun install() {
        shadowOf(RuntimeEnvironment.getApplication()).checkActivities(true)
        camera(isThere = true)
        install(rest, actions)
        val keeper = ReflectionHelpers.callInstanceMethod<String>(packages, "getPermissionControllerPackageName")
        install(ComponentName(keeper, "$keeper.Leave"), listOf(ASK_LEAVE))
    }

    fun camera(isThere: Boolean) {
        if (isThere) install(camera, listOf(MediaStore.ACTION_IMAGE_CAPTURE)) else shadowOf(packages).removeActivity(camera)
    }

    private fun install(app: ComponentName, actions: List<String>) {
        val packages = shadowOf(packages)
        packages.addActivityIfNotPresent(app)
        for (action in actions) {
            // A filter without a type fits no intent that has one, and the other way round; the same with schemes.
            packages.addIntentFilterForActivity(app, filter(action))
            packages.addIntentFilterForActivity(app, filter(action).apply { addDataType("*/*") })
            packages.addIntentFilterForActivity(app, filter(action).apply { SCHEMES.forEach(::addDataScheme) })
        }
    }

    private fun filter(action: String) = IntentFilter(action).apply {
        addCategory(Intent.CATEGORY_DEFAULT)
        addCategory(Intent.CATEGORY_OPENABLE)
    }

    private val SCHEMES = listOf("tel", "geo", "package")
}
