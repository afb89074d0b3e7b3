package trug.phone.everyone

import trug.core.FieldValue
import trug.phone.app.Phone
import trug.phone.page.search.winter

/** Search and the page of a kind in all their states. */
internal val searchScenes = listOf(
    Scene("search-empty") { phone -> phone.tap("Search") },
    Scene("search-all") { phone -> searched(phone, "velvet shank") },
    Scene("search-nearly") { phone -> searched(phone, "elder") },
    Scene("search-none") { phone -> searched(phone, "zzzzqqqq") },
    Scene("search-meant") { phone -> searched(phone, "hharroww") },
    Scene("search-kinds") { phone -> searched(phone, "amanita") },
    Scene("search-more") { phone ->
        phone.core { book ->
            repeat(22) {
                val find = book.beginFind(null, "whole", null)
                book.amendFind(find.id, listOf(FieldValue("note", "By the weir, where the path goes down to the second stile and the old wall ends $it")))
            }
        }
        searched(phone, "weir", isEmpty = false)
    },
    Scene("kind-gathered") { phone -> kind(phone, "flammulina", "Flammulina velutipes") },
    Scene("kind-open") { phone ->
        kind(phone, "flammulina", "Flammulina velutipes")
        phone.tap("Show all that is known of it")
    },
    Scene("kind-deadly") { phone -> kind(phone, "amanita phalloides", "Amanita phalloides") },
    Scene("kind-group") { phone -> kind(phone, "hedgehogs", "Hydnum repandum and") },
)

private fun searched(phone: Phone, words: String, isEmpty: Boolean = true) {
    if (isEmpty) winter(phone)
    phone.tap("Search")
    phone.type(words)
}

private fun kind(phone: Phone, words: String, latin: String) {
    searched(phone, words)
    phone.tapWhat(latin)
}
