package trug.phone.everyone

import trug.core.PatchNoted
import trug.phone.app.Phone
import trug.phone.app.Place
import trug.phone.app.Stop
import trug.phone.page.patch.Winters

/** Every state of the pages of patches, of a patch, and of the way back. */
internal val patchScenes = listOf(
    Scene("patches-none") { it.tap("Patches") },
    Scene("patches-no-position") { phone ->
        full(phone)
        phone.tap("Patches")
    },
    Scene("patches-waiting") { phone ->
        full(phone)
        Winters.allow(phone)
        phone.tap("Patches")
    },
    Scene("patches-near") { phone ->
        near(phone)
        phone.tap("Patches")
    },
    Scene("patches-by-kind") { phone ->
        near(phone)
        phone.tap("Patches")
        phone.tap("By kind")
    },
    Scene("patches-founding") { phone ->
        phone.tap("Patches")
        phone.tap("Found a patch")
        phone.type("velvet sh", "Name, English or Latin")
    },
    Scene("patches-founding-refused") { phone ->
        near(phone)
        phone.tap("Patches")
        phone.tap("Found a patch")
        phone.type("900", "It reaches, in m")
        phone.tap("Found it")
    },
    Scene("patches-on-today") { near(it) },
    Scene("patch") { at(it, Place.PATCH) },
    Scene("patch-never-looked") { phone ->
        val patch = Winters.another(phone, "Bank", 1.0)
        go(phone, Place.PATCH, patch)
    },
    Scene("patch-in-it") { phone ->
        val patch = full(phone)
        Winters.allow(phone)
        phone.stand(Winters.LATITUDE, Winters.LONGITUDE, 8f)
        go(phone, Place.PATCH, patch)
    },
    Scene("patch-looked") { phone ->
        at(phone, Place.PATCH)
        phone.tap("Looked: nothing there")
    },
    Scene("patch-noted-already") { phone ->
        at(phone, Place.PATCH)
        phone.tap("Some seen")
        phone.tap("Looked: nothing there")
    },
    Scene("patch-season") { phone ->
        at(phone, Place.PATCH)
        phone.tapWhat("${Winters.season(1)}. Show")
    },
    Scene("patch-earlier") { phone ->
        at(phone, Place.PATCH)
        phone.tapWhat("Note an earlier look")
    },
    Scene("patch-rest") { phone ->
        at(phone, Place.PATCH)
        phone.tapWhat("Rest, ")
    },
    Scene("patch-resting") { phone ->
        val patch = full(phone)
        phone.core { it.restPatch(patch, 14u) }
        go(phone, Place.PATCH, patch)
        phone.tapWhat("Rest, ")
    },
    Scene("patch-amend") { phone ->
        at(phone, Place.PATCH)
        phone.tapWhat("Name, kind, tree, ")
    },
    Scene("patch-where") { phone ->
        at(phone, Place.PATCH)
        phone.tapWhat("Where, ")
    },
    Scene("patch-merge") { phone ->
        at(phone, Place.PATCH)
        phone.tapWhat("The same as another patch")
    },
    Scene("patch-merge-none") { phone ->
        val patch = Winters.another(phone, "Bank", 1.0)
        go(phone, Place.PATCH, patch)
        phone.tapWhat("The same as another patch")
    },
    Scene("patch-merged") { phone ->
        val patch = full(phone)
        val other = Winters.another(phone, "Bent elder", 0.2)
        phone.core { it.mergePatches(other, patch) }
        go(phone, Place.PATCH, patch)
    },
    Scene("patch-deleted") { phone ->
        at(phone, Place.PATCH)
        phone.tap("Delete this patch")
    },
    Scene("patch-gone") { go(it, Place.PATCH, "01890a5d-ac96-774b-bcce-b302099a8057") },
    Scene("way-no-position") { at(it, Place.WAY) },
    Scene("way-waiting") { phone ->
        val patch = full(phone)
        Winters.allow(phone)
        go(phone, Place.WAY, patch)
    },
    Scene("way") { phone ->
        near(phone)
        go(phone, Place.WAY, checkNotNull(phone.core { it.now(trug.core.Fix(Winters.LATITUDE, Winters.LONGITUDE, 8.0)) }.patches.first().id))
    },
    Scene("way-in-it") { phone ->
        val patch = full(phone)
        Winters.allow(phone)
        phone.stand(Winters.LATITUDE, Winters.LONGITUDE, 8f)
        go(phone, Place.WAY, patch)
        phone.tap("Looked: nothing there")
    },
    Scene("way-rough") { phone ->
        val patch = full(phone)
        Winters.allow(phone)
        phone.stand(Winters.LATITUDE, Winters.LONGITUDE, 90f)
        go(phone, Place.WAY, patch)
    },
    Scene("way-old") { phone ->
        val patch = full(phone)
        Winters.allow(phone)
        phone.stand(Winters.LATITUDE + 0.002, Winters.LONGITUDE, 8f)
        go(phone, Place.WAY, patch)
        phone.pass(seconds = 60)
    },
    Scene("way-no-place") { phone ->
        go(phone, Place.WAY, phone.core { it.addPatch(PatchNoted("Nowhere", null, null, null, null)) })
    },
)

private fun full(phone: Phone): String {
    Winters.another(phone, "Bank by the old gate", north = 0.4)
    Winters.another(phone, "Beech", north = 2.0, kind = "chanterelle")
    return Winters.keep(phone)
}

/** The same, seen from near by. */
private fun near(phone: Phone) {
    full(phone)
    Winters.allow(phone)
    phone.stand(Winters.LATITUDE + 0.001, Winters.LONGITUDE, 8f)
}

private fun at(phone: Phone, place: Place) = go(phone, place, full(phone))

private fun go(phone: Phone, place: Place, patch: String) {
    phone.activity.go(Stop(place, about = patch))
    phone.settle()
}
