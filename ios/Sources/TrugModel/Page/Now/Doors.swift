/// A way from the first page to another, by its name.
struct Door {
    let words: String
    let place: Place
}

extension Door {
    /// What hangs off the first page.
    static var all: [Door] { [] }
}
