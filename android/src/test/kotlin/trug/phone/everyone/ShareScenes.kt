package trug.phone.everyone

import trug.core.FieldValue
import trug.core.Fix
import trug.core.JobInterface
import trug.core.JobReport
import trug.core.Progress
import trug.phone.app.Phone
import trug.phone.page.share.Document
import trug.phone.page.share.Held
import trug.phone.page.share.Underway
import trug.phone.page.share.addPhoto
import trug.phone.page.share.await
import trug.phone.page.share.gather
import trug.phone.page.share.preview

/** *Share* in each of its states. */
internal val shareScenes = listOf(
    Scene("share-empty") { phone -> phone.tap("Share") },
    Scene("share-what") { phone ->
        phone.gather(2)
        phone.tap("Share")
    },
    Scene("share-all-open") { phone ->
        phone.gather(2)
        phone.tap("Share")
        for (choice in listOf("The exact place", "Notes and surroundings", "My name", "Owner of a key")) phone.tap(choice)
    },
    Scene("share-days-of-patches") { phone ->
        phone.gather(2)
        phone.tap("Share")
        phone.tap("Some days")
        phone.tap("Patches for a map (GPX)")
    },
    Scene("share-mine") { phone ->
        phone.gather()
        phone.tap("Share")
        phone.tap("My other phones")
    },
    Scene("share-outings") { phone ->
        phone.gather()
        phone.core { it.startOuting("Lidgate Hanger", "own") }
        phone.core { it.beginFind(null, "whole", null) }
        phone.tap("Share")
        phone.tapWhat("Another outing")
    },
    Scene("share-patches") { phone ->
        val (first, second) = phone.gather(2)
        phone.core { it.foundPatch(first, "the old elder") }
        phone.core { it.foundPatch(second, null) }
        phone.tap("Share")
        phone.tap("A patch")
    },
    Scene("share-preview") { phone ->
        val find = phone.gather(2).first()
        phone.addPhoto(find, PHOTO)
        phone.tap("Share")
        phone.tap("Photos, as pictures alone")
        phone.preview()
    },
    Scene("share-preview-of-nothing") { phone ->
        phone.gather()
        phone.tap("Share")
        phone.tap("Patches for a map (GPX)")
        phone.tap("See what would leave")
        phone.await("Nothing would leave.")
    },
    Scene("share-preview-of-many") { phone -> many(phone) },
    Scene("share-square") { phone ->
        many(phone)
        phone.tapWhat("square SU32")
    },
    Scene("share-copy") { phone ->
        val find = phone.gather().single()
        phone.addPhoto(find, PHOTO)
        phone.tap("Share")
        phone.tap("Photos, as pictures alone")
        phone.preview()
        phone.tapWhat("Velvet shank")
        phone.await("This is all that the file says of it.")
    },
    Scene("share-copy-exact") { phone ->
        phone.gather()
        phone.tap("Share")
        phone.tap("The exact place")
        phone.preview()
        phone.tapWhat("Velvet shank")
        phone.await("Whoever gets the file can go there.")
    },
    Scene("share-preview-mine") { phone ->
        mine(phone)
    },
    Scene("share-sure") { phone ->
        mine(phone)
        phone.tap("Make the file")
    },
    Scene("share-passphrase") { phone ->
        seal(phone)
    },
    Scene("share-passphrase-differs") { phone ->
        seal(phone)
        phone.type("three wet boots", "Passphrase")
        phone.tap("Make the file")
    },
    Scene("share-busy") { phone ->
        phone.gather(2)
        phone.tap("Share")
        phone.preview()
        Held.of(phone.app.core).run {
            underway = Underway(checkNotNull(seen).what, Endless)
            seen = null
        }
        phone.turn()
        phone.await("Looking at photos: 132")
    },
    Scene("share-changed") { phone ->
        val find = phone.gather().single()
        phone.tap("Share")
        phone.preview()
        phone.core { it.amendFind(find, listOf(FieldValue("host", "ash"))) }
        phone.tap("Make the file")
        phone.await("What would leave is not what you were shown.")
        phone.await("Each of them")
    },
    Scene("share-no-key") { phone ->
        phone.gather()
        phone.tap("Share")
        phone.tap("Owner of a key")
        phone.type("age1nothing", "The key: trug1… or age1…")
        phone.preview()
        phone.tap("Make the file")
        phone.await("That is no key.")
    },
    Scene("share-made") { phone -> made(phone) },
    Scene("share-not-saved") { phone ->
        made(phone)
        phone.tap("Save")
        phone.pick(Document(phone, "full", fails = true).uri)
    },
    Scene("share-saved") { phone ->
        made(phone)
        phone.tap("Save")
        phone.pick(Document(phone).uri)
    },
    Scene("share-sent") { phone ->
        made(phone)
        phone.tap("Send")
    },
    Scene("share-gone") { phone ->
        made(phone)
        phone.app.filesDir.resolve("outbox").deleteRecursively()
        phone.tap("Send")
        phone.await("The file is not there any more.")
        phone.await("Each of them")
    },
    Scene("share-find-gone") { phone ->
        phone.core { it.startOuting("Harrow Shaw", "own") }
        phone.activity.go(trug.phone.app.Stop(trug.phone.app.Place.SHARE, about = "find 0199f3a0-0000-7000-8000-000000000000"))
        phone.await("is not in the notebook any more")
    },
)

private const val PHOTO = 7

/** Work that never comes to its end. */
private object Endless : JobInterface {
    override fun progress() = Progress(steps = 132u, doing = "looking at photos", over = false)

    override fun result(): JobReport? = null

    override fun cancel() = Unit
}

private fun many(phone: Phone) {
    phone.gather(2)
    phone.core { it.beginFind(null, "whole", Fix(51.02, -1.45, 6.0)) }
    phone.core { it.beginFind(null, "whole", null) }
    phone.tap("Share")
    phone.tap("All")
    phone.preview()
}

private fun mine(phone: Phone) {
    phone.gather()
    phone.tap("Share")
    phone.tap("My other phones")
    phone.tap("See what would leave")
    phone.await("For your own phones only.")
    phone.await("No photos.")
}

private fun seal(phone: Phone) {
    phone.gather()
    phone.tap("Share")
    phone.tap("With a passphrase")
    phone.preview()
    phone.tap("Make the file")
}

private fun made(phone: Phone) {
    phone.gather()
    phone.tap("Share")
    phone.preview()
    phone.tap("Make the file")
    phone.await("The file is made")
}
