package trug.phone.app

import android.app.Application
import java.io.File

/** The process: it has the one notebook. */
class App : Application() {
    internal lateinit var core: Core
        private set

    override fun onCreate() {
        super.onCreate()
        begin()
    }

    /** Begins with the notebook as a new process does. */
    internal fun begin() {
        core = Core(File(filesDir, NOTEBOOK))
    }

    override fun onTerminate() {
        core.close()
        super.onTerminate()
    }

    private companion object {
        const val NOTEBOOK = "notebook"
    }
}
