package trug.phone.everyone

import trug.core.YearBy
import trug.phone.app.Phone
import trug.phone.app.Place
import trug.phone.app.Stop
import trug.phone.page.year.found
import trug.phone.page.year.winters

/** The year and the month in every state. */
internal val yearScenes = listOf(
    Scene("year-empty") { it.tap("The year") },
    Scene("year-full") { phone ->
        phone.winters()
        phone.tap("The year")
    },
    Scene("year-nothing-in-season") { phone ->
        phone.winters()
        phone.tap("The year")
        phone.tap("Season ${phone.core { it.yearPage(YearBy.FUNGUS, null, null) }.seasons.first()}")
    },
    Scene("year-season") { phone ->
        phone.winters()
        phone.tap("The year")
        phone.tap("Season ${phone.core { it.yearPage(YearBy.FUNGUS, null, null) }.seasons.first()}")
        phone.tap("Season 2024/25")
    },
    Scene("year-places") { phone ->
        phone.winters()
        phone.tap("The year")
        phone.tap("By place")
    },
    Scene("year-row") { phone ->
        phone.winters()
        phone.tap("The year")
        phone.tapWhat("Velvet shank, ")
    },
    Scene("year-summer") { phone ->
        phone.winters()
        phone.tap("The year")
        phone.tapWhat("Chicken of the woods, ")
    },
    Scene("year-busy") { phone ->
        phone.winters()
        phone.activity.go(Stop(Place.YEAR))
    },
    Scene("month-full") { phone ->
        phone.winters()
        phone.tap("The year")
        phone.tapWhat("Velvet shank, ")
        phone.tapWhat("January: found")
    },
    Scene("month-many") { phone ->
        repeat(MANY) { phone.found("2024-10-05", "cep", "seen" to "1") }
        phone.tap("The year")
        phone.tapWhat("Cep, ")
        phone.tapWhat("October: found")
    },
    Scene("month-in-vain") { phone ->
        phone.winters()
        phone.tap("The year")
        phone.tapWhat("Velvet shank, ")
        phone.tapWhat("December: looked")
    },
    Scene("month-error") { phone -> phone.go(Stop(Place.MONTH, about = "no month")) },
)

private fun Phone.go(stop: Stop) {
    activity.go(stop)
    settle()
}

/** More than a month shows at first. */
private const val MANY = 62
