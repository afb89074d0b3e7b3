package trug.phone.everyone

import java.io.File
import java.util.concurrent.TimeUnit
import trug.core.AreaAsked
import trug.core.RuleAsked
import trug.core.startRestore
import trug.core.useRestored
import trug.phone.app.Phone
import trug.phone.app.Place
import trug.phone.app.Stop
import trug.phone.app.zone
import trug.phone.files.Documents
import trug.phone.job.Elsewhere

private fun Phone.settings(about: String? = null) {
    activity.go(Stop(Place.SETTINGS, about = about))
    settle()
}

private fun leaf(name: String, about: String?, before: (Phone) -> Unit = {}) = Scene("settings-$name") { phone ->
    // What a scene before this one left going.
    phone.app.errands.stop()
    phone.finish()
    phone.app.errands.seen()
    before(phone)
    phone.settings(about)
}

private fun rules(phone: Phone) {
    for ((kind, number, fungus) in listOf(Triple("count", "5", null), Triple("size", "25", "velvet-shank"), Triple("protected", "", "jelly-ear"))) {
        phone.core { it.addHouseRule(RuleAsked(kind, number, "day", "patch", fungus)) }
    }
}

/** "Lidgate Hanger" is invented, and its outline nobody's. */
private const val OUTLINE = """{"type": "Feature", "properties": {"name": "Lidgate Hanger"}, "geometry": {"type": "Polygon",
    "coordinates": [[[-1.51, 51.49], [-1.49, 51.49], [-1.49, 51.51], [-1.51, 51.51], [-1.51, 51.49]]]}}"""

private fun outline(phone: Phone) = File(phone.app.filesDir, "arriving/area.geojson").apply { parentFile?.mkdirs() }.writeText(OUTLINE)

private fun areas(phone: Phone) {
    outline(phone)
    val path = File(phone.app.filesDir, "arriving/area.geojson").path
    phone.core { it.addAreas(path, AreaAsked("Lidgate Hanger, the north side beyond the ride", true, null, "R. says so, until spring.")) }
    phone.core { it.addAreas(path, AreaAsked("Harrow Shaw", false, "scottish-code", null)) }
}

private fun finds(phone: Phone) = repeat(2) { phone.core { it.beginFind(null, "whole", null) } }

private fun made(phone: Phone): File {
    finds(phone)
    val file = File(phone.app.filesDir, "leaving/backup.zip").apply { parentFile?.mkdirs() }
    val job = phone.core { it.startBackup(file.path) }
    phone.app.errands.begin("backup") { it.wait(job) }
    phone.finish()
    return file
}

private fun ready(phone: Phone) {
    val (from, folder) = made(phone).path to phone.app.core.folder.path
    phone.app.errands.begin("restore") { it.wait(startRestore(from, folder, zone())) }
    phone.finish()
}

private fun aside(phone: Phone) {
    ready(phone)
    val folder = phone.app.core.folder
    phone.app.core.exchange({
        useRestored(folder.path)
        // The core reads the time from the phone's clock, which does not stand still.
        val aside = File("${folder.path}.aside")
        aside.listFiles().orEmpty().single().renameTo(File(aside, "2026-10-18T09-30-00Z"))
    }) {}
    phone.settle()
    phone.app.errands.seen()
}

/** A key that is the same on every day, out of the tests of core/src/seal. */
private fun key(phone: Phone) {
    phone.core { it.settings() }
    File(phone.app.core.folder, "identity.secret").writeText("AGE-SECRET-KEY-1QURSWPC8QURSWPC8QURSWPC8QURSWPC8QURSWPC8QURSWPC8QURSKMP32K\n")
}

/** Work that goes on as long as anybody looks at it, and no longer. */
private fun going(name: String): (Phone) -> Unit = { phone ->
    phone.app.errands.begin(name) { way ->
        val until = System.nanoTime() + TimeUnit.SECONDS.toNanos(LONG)
        while (!way.isStopped && System.nanoTime() < until) Thread.sleep(1)
        throw Documents.Stopped()
    }
}

private const val LONG = 30L
private const val LARGE = 2_300_000

private fun over(name: String, result: () -> Any): (Phone) -> Unit = { phone ->
    phone.app.errands.begin(name) { result() }
    phone.finish()
}

private fun checked(phone: Phone) {
    finds(phone)
    val job = phone.core { it.startCheck() }
    phone.app.errands.begin("check") { it.wait(job) }
    phone.finish()
}

private fun checkedBadly(phone: Phone) {
    val photo = File(phone.app.filesDir, "shot.jpg").apply { writeBytes(trug.phone.job.shot()) }
    phone.core { it.beginFind(photo.path, "whole", null) }
    File(phone.app.core.folder, "photos").walk().filter { it.isFile }.forEach { it.delete() }
    val job = phone.core { it.startCheck() }
    phone.app.errands.begin("check") { it.wait(job) }
    phone.finish()
}

/** What somebody fills in for a kind of rule. */
private fun filled(kind: String, fill: (Phone) -> Unit = {}) = Scene("settings-new-rule-${kind.filter(Char::isLetter).lowercase()}") { phone ->
    phone.settings("new-rule")
    phone.tap(kind)
    fill(phone)
}

internal val settingsScenes: List<Scene> = listOf(
    leaf("first", null),
    leaf("first-unread", null) { phone ->
        phone.die {
            phone.app.core.folder.deleteRecursively()
            phone.app.core.folder.writeText("in the way")
        }
    },
    leaf("look", "look"),
    leaf("codes", "codes"),
    leaf("codes-chosen", "codes") { phone -> phone.core { it.gatherUnder("pickers-1998", false) } },
    leaf("code", "code:pickers-1998"),
    leaf("code-not-in-force", "code:castilla-y-leon"),
    leaf("code-always", "code:common-practice"),
    leaf("house-empty", "house"),
    leaf("house", "house", ::rules),
    Scene("settings-rule") { phone ->
        rules(phone)
        val first = phone.core { it.house() }.rules.first().id
        phone.settings("rule:$first")
    },
    leaf("new-rule", "new-rule"),
    filled("No more than …") { it.type("5", "How many") },
    filled("At most a share"),
    filled("No more grams than …"),
    filled("A patch rests"),
    filled("None smaller than …") { phone ->
        phone.type("25", "Millimetres across")
        phone.type("velvet", "Name, English or Latin")
        phone.tapWhat("Velvet shank")
    },
    filled("Never one fungus") { it.type("jelly", "Name, English or Latin") },
    filled("At least … stay") { phone ->
        phone.type("0", "How many")
        phone.tap("Keep this rule")
    },
    leaf("areas-empty", "areas"),
    leaf("areas", "areas", ::areas),
    Scene("settings-area") { phone ->
        areas(phone)
        val first = phone.core { it.areas() }.first().id
        phone.settings("area:$first")
    },
    leaf("new-area", "new-area", ::outline),
    leaf("new-area-gone", "new-area"),
    leaf("eyes", "eyes"),
    leaf("own-key", "own-key", ::key),
    leaf("backup", "backup", ::finds),
    leaf("backup-going", "backup", going("backup")),
    leaf("backup-made", "backup") { phone ->
        finds(phone)
        // How large one is differs by its ids.
        File(phone.app.filesDir, "leaving/backup.zip").apply { parentFile?.mkdirs() }.writeBytes(ByteArray(LARGE))
    },
    leaf("backup-safe", "backup", over("carry") { trug.phone.page.settings.Backups.Carried.WHOLE }),
    leaf("backup-unproved", "backup", over("carry") { trug.phone.page.settings.Backups.Carried.UNREAD }),
    leaf("backup-failed", "backup", over("carry") { throw Elsewhere.noRoom() }),
    leaf("checked", "backup", ::checked),
    leaf("checked-badly", "backup", ::checkedBadly),
    leaf("restore", "restore"),
    leaf("restore-going", "restore", going("restore")),
    leaf("restore-ready", "restore", ::ready),
    leaf("restore-failed", "restore", over("restore") { throw java.io.IOException("torn") }),
    leaf("restore-aside", "restore", ::aside),
    Scene("settings-aside") { phone ->
        aside(phone)
        phone.settings("restore")
        phone.tapWhat("Set aside")
    },
    Scene("settings-aside-deleting") { phone ->
        aside(phone)
        phone.settings("restore")
        phone.tapWhat("Set aside")
        phone.tap("Delete it for good")
    },
    leaf("sources", "sources"),
    leaf("licences", "licences"),
    leaf("licence", "licence:MIT"),
)
