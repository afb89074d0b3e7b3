/// A way from the first page to another, by its name.
struct Door {
    let words: String
    let place: Place
}

extension Door {
    /// What hangs off the first page.
    static var all: [Door] {
        [
            Door(words: Words.Search.title, place: .search),
            Door(words: Words.Map.title, place: .map),
            Door(words: Words.Year.title, place: .year),
            Door(words: Words.Share.title, place: .share),
            Door(words: Words.Receive.door, place: .receive),
            Door(words: Words.Exchange.door, place: .exchange),
        ]
    }
}
