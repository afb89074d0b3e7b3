package trug.phone.app

import android.app.Application
import java.io.File
import trug.core.Book
import trug.core.Zone

/** The process: it has the one notebook, and does the slow work. */
class App : Application() {
    internal lateinit var core: Core
        private set

    /** Slow work beside it. */
    internal val aside = Aside()

    /** How the notebook is opened; another way for pictures that must be the same on every day. */
    internal var opens: (String, Zone) -> Book = { folder, zone -> Book.open(folder, zone) }

    /** Long work, which goes on from page to page. */
    internal lateinit var errands: Errands
        private set

    override fun onCreate() {
        super.onCreate()
        begin()
    }

    /** Begins with the notebook as a new process does. */
    internal fun begin() {
        // Work on the notebook that was open holds on to it.
        if (::errands.isInitialized) errands.close()
        errands = Errands()
        core = Core(File(filesDir, NOTEBOOK), opens)
    }

    override fun onTerminate() {
        errands.close()
        aside.close()
        core.close()
        super.onTerminate()
    }

    private companion object {
        const val NOTEBOOK = "notebook"
    }
}
