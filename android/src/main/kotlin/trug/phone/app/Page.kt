package trug.phone.app

import android.content.Intent
import android.net.Uri
import android.os.Bundle
import android.view.View
import trug.phone.camera.Purpose
import trug.phone.draw.Ink
import trug.phone.page.exchange.Exchange
import trug.phone.page.find.Find
import trug.phone.page.ill.Ill
import trug.phone.page.kind.Kind
import trug.phone.page.map.Map
import trug.phone.page.month.Month
import trug.phone.page.names.Names
import trug.phone.page.now.Now
import trug.phone.page.patch.Patch
import trug.phone.page.patches.Patches
import trug.phone.page.receive.Receive
import trug.phone.page.search.Search
import trug.phone.page.settings.settings
import trug.phone.page.share.Share
import trug.phone.page.way.Way
import trug.phone.page.work.Work
import trug.phone.page.year.Year
import trug.phone.position.Position

/** One page: what it shows, what it remembers, and what Back does on it. Only the page in front exists; the others are remembered. */
internal interface Page {
    /** Its title, a resource. */
    val title: Int
    val view: View

    /** It comes to the front, or to the front again: what it shows is read afresh. */
    fun shown() = Unit

    /** It leaves the front, or the phone does: what was typed is kept, and nothing is listened for. */
    fun left() = Unit

    /** One step back within the page; false where the page itself is to be left. */
    fun back(): Boolean = false

    /** Whether there is such a step. Asked on the first page only: further in, Back is Trug's anyway. */
    val hasStep: Boolean get() = false

    /** All that is needed to make it again. */
    fun save(into: Bundle) = Unit

    /** What was picked with the system's own picker, which was asked under this name ([House.ask]). It may have been asked by this page's
     * predecessor, in a process that is gone. */
    fun answered(name: String, picked: Uri) = Unit
}

/** The house around a page: what it may ask for. */
internal interface House {
    val ink: Ink
    val calls: Calls
    val aside: Aside
    val errands: Errands

    /** Long work of the core's. */
    val jobs: Jobs
    val position: Position

    /** Another page on top of this one. */
    fun go(to: Stop)

    /** Another page in place of this one. */
    fun turnInto(other: Stop)

    /** Back to the page before, if this one is in front. */
    fun leave(from: Page)

    /** Back to the first page, which Back leads nowhere from: what the other pages were about may not be there any more. */
    fun startAgain()

    /** [Page.hasStep] may be another now. */
    fun stepped()

    /** Starts the camera, or lets a photo be chosen. */
    fun photograph(purpose: Purpose, choose: Boolean = false)

    /** Asks whether the position may be used; the page is shown again with the answer. [Position.wasAsked] from then on. */
    fun askPosition()

    /** Asks one of the system's own pickers; [Page.answered] is told what was picked, if anything. */
    fun ask(picker: Intent, name: String)

    /** The look of every page. */
    var look: Look

    /** Sets how pages fit whoever holds the phone; they are drawn anew. */
    fun fit(set: Fit.() -> Unit)

    /** Something went wrong, or could not be done: said above the page until the next touch that does something. */
    fun complain(words: String?)
}

/** A page, and what it is about. */
internal data class Stop(
    val place: Place,
    val find: String? = null,
    val suspect: String? = null,
    /** What else it is about: a patch, a month, a taxon, a file; its page knows. */
    val about: String? = null,
    /** Whether whoever holds the phone stands by the find: it was begun where they are, and now. */
    val standing: Boolean = false,
)

/** Every page there is. A new page is a line here. */
internal enum class Place(val make: (House, Stop, Bundle?) -> Page) {
    ILL({ house, _, saved -> Ill(house, saved) }),
    NOW({ house, _, saved -> Now(house, saved) }),
    FIND({ house, stop, saved -> Find(house, checkNotNull(stop.find), stop.standing, saved) }),
    WORK({ house, stop, saved -> Work(house, stop.find, stop.suspect, saved) }),
    KNOW({ house, stop, saved -> Names(house, checkNotNull(stop.find), toCheck = false, saved) }),
    THINK({ house, stop, saved -> Names(house, checkNotNull(stop.find), toCheck = true, saved) }),
    SEARCH({ house, _, saved -> Search(house, saved) }),
    KIND({ house, stop, saved -> Kind(house, checkNotNull(stop.about), saved) }),
    PATCHES({ house, _, saved -> Patches(house, saved) }),
    PATCH({ house, stop, saved -> Patch(house, checkNotNull(stop.about), saved) }),
    WAY({ house, stop, saved -> Way(house, checkNotNull(stop.about), saved) }),
    MAP({ house, stop, saved -> Map(house, stop.about, saved) }),
    YEAR({ house, _, saved -> Year(house, saved) }),
    MONTH({ house, stop, saved -> Month(house, stop.about.orEmpty(), saved) }),
    SHARE({ house, stop, saved -> Share(house, stop, saved) }),
    RECEIVE({ house, stop, saved -> Receive(house, stop.about, saved) }),
    EXCHANGE({ house, _, saved -> Exchange(house, saved) }),
    SETTINGS({ house, stop, saved -> settings(house, stop.about, saved) }),
}
