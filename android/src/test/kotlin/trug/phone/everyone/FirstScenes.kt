package trug.phone.everyone

import android.Manifest.permission.ACCESS_FINE_LOCATION
import org.robolectric.Shadows.shadowOf
import trug.phone.app.Phone
import trug.phone.app.Place
import trug.phone.app.Stop
import trug.phone.job.shot
import trug.phone.page.work.Seen
import trug.phone.page.work.Wood

/** The first page, a find's and its leaves, and the looking up of names. */
internal val findScenes = listOf(
    Scene("now-empty") {},
    Scene("now-starting") { it.tap("Start an outing") },
    Scene("now-outing") { phone ->
        outing(phone)
        counted(phone)
        phone.type("4", "Taken")
        phone.type("62", "Weight in g")
        phone.back()
    },
    Scene("now-patches") { phone ->
        allow(phone)
        counted(phone)
        phone.tap("Found a patch here")
        phone.back()
        phone.stand(LATITUDE + NEAR, LONGITUDE, ACCURACY)
    },
    Scene("now-waiting") { phone ->
        named(phone)
        phone.type("1", "For study")
        phone.back()
    },
    Scene("find-new") { it.tap("Without a photo") },
    Scene("find-photo", ::photographed),
    Scene("find-named", ::named),
    Scene("find-counted", ::counted),
    Scene("find-leave") { phone ->
        counted(phone)
        phone.type("15", "from mm")
        phone.type("20", "to mm")
    },
    Scene("find-why") { phone ->
        counted(phone)
        phone.tapWhat("Show why.")
    },
    Scene("find-more-than-advised") { phone ->
        counted(phone)
        phone.type("7", "Taken")
    },
    Scene("find-refused") { phone ->
        counted(phone)
        phone.type("60", "from mm")
    },
    Scene("find-deleted") { phone ->
        named(phone)
        phone.tap("Delete this find")
    },
    Scene("find-grows") { phone ->
        named(phone)
        phone.tapWhat("Growing on")
    },
    Scene("find-note") { phone ->
        named(phone)
        phone.tapWhat("Note,")
    },
    Scene("find-names-given") { phone ->
        named(phone)
        phone.tap("Names given")
    },
    Scene("find-photo-shown") { phone ->
        photographed(phone)
        phone.tapWhat("Photo: ")
    },
    Scene("find-where") { phone ->
        allow(phone)
        named(phone)
        phone.tapWhat("Where")
    },
    Scene("names-know") { phone ->
        photographed(phone)
        phone.tap("I know it")
    },
    Scene("names-found") { phone ->
        photographed(phone)
        phone.tap("I know it")
        phone.type("velvit", "Name, English or Latin")
    },
)

/** The key, from its sheet to each of its ends. */
internal val keyScenes = listOf(
    keyScene("key-sheet") {},
    keyScene("key-sheet-tapped") { wood -> Seen.GLANCE.forEach(wood::tap) },
    keyScene("key-question", ::asked),
    keyScene("key-not-sure") { wood ->
        asked(wood)
        wood.tap("Not sure")
    },
    keyScene("key-others") { wood ->
        asked(wood)
        wood.tap("Another question")
    },
    keyScene("key-size") { wood ->
        asked(wood)
        wood.tap("Another question")
        wood.tap("Width, at a glance")
    },
    keyScene("key-answers") { wood ->
        asked(wood)
        wood.answerFrom(Seen.TUFT, most = 4)
        wood.tapAnswers()
    },
    keyScene("key-think") { it.tap("I think it is …") },
    keyScene("key-settled") { wood ->
        asked(wood)
        wood.answerFrom(Seen.TUFT + Seen.MORE)
    },
    keyScene("key-not-settled") { wood ->
        asked(wood)
        wood.answerFrom(Seen.TUFT, most = 10)
        wood.tapAnswers()
        wood.tap("Stop here")
    },
    keyScene("key-group") { wood ->
        wood.tap("a cup, saucer or disc")
        wood.tap("Go on")
        wood.answerFrom(Seen.ELF_CUP)
    },
    keyScene("key-unknown") { wood ->
        wood.tap("cap on a stem, with pores beneath")
        wood.tap("blue-green")
        wood.tap("Go on")
        wood.answerFrom(Seen.CHIMERA)
    },
)

/** The page for the bad day. */
internal val illScenes = listOf(
    Scene("ill-help") { it.tap("Someone is ill") },
    Scene("ill-countries") { phone ->
        phone.tap("Someone is ill")
        phone.tap(if (phone.canTap("Another country")) "Another country" else "Choose the country you are in")
    },
    Scene("ill-sources") { phone ->
        phone.tap("Someone is ill")
        phone.tap("Where the words come from")
    },
    Scene("ill-meal-new") { phone ->
        phone.tap("Someone is ill")
        phone.tap("Note a meal")
    },
    Scene("ill-meal", ::meal),
    Scene("ill-sheet") { phone ->
        meal(phone)
        phone.tap("For the doctor")
    },
)

private fun keyScene(name: String, play: (Wood) -> Unit) = Scene(name) { phone ->
    val find = phone.core { it.beginFind(null, "whole", null).id }
    phone.activity.go(Stop(Place.WORK, find))
    phone.settle()
    play(phone as Wood)
}

private fun asked(wood: Wood) {
    Seen.GLANCE.forEach(wood::tap)
    wood.tap("Go on")
}

internal fun outing(phone: Phone) {
    phone.tap("Start an outing")
    phone.type("Harrow Shaw")
    phone.tap("The owner said yes")
}

internal fun photographed(phone: Phone) {
    phone.tap("Photograph a find")
    phone.shoot(shot())
}

internal fun named(phone: Phone) {
    photographed(phone)
    phone.tap("I know it")
    phone.type("Velvet sha", "Name, English or Latin")
    phone.tap("Velvet shank")
}

internal fun counted(phone: Phone) {
    named(phone)
    phone.type("7", "Seen")
    phone.type("35", "from mm")
    phone.type("48", "to mm")
    phone.tap("cap opened out")
}

private fun meal(phone: Phone) {
    phone.core { book -> book.nameFind(book.beginFind(null, "whole", null).id, "velvet-shank", "sight", null, null) }
    phone.tap("Someone is ill")
    phone.tap("Note a meal")
    phone.type("Toast with a tuft from Harrow Shaw", "What was eaten, in your words")
    phone.tap("Cooked")
    phone.type("Ada", "Name or initials")
    phone.tap("Add")
}

/** The phone may tell where it is, which is in nobody's wood. */
internal fun allow(phone: Phone) {
    shadowOf(phone.app).grantPermissions(ACCESS_FINE_LOCATION)
    phone.turn()
    phone.stand(LATITUDE, LONGITUDE, ACCURACY)
}

private const val LATITUDE = 51.5
private const val LONGITUDE = -1.0
private const val ACCURACY = 8f

/** Some 100 m. */
private const val NEAR = 0.0009
