extension Words {
    /// What one of the core's words is called; the word itself where it has no name yet.
    static func called(_ field: String, _ word: String) -> String {
        choices[field]?.first { $0.word == word }.map { Catalogue.say($0.key) } ?? word
    }

    /// The words of a closed list, each with what it is called.
    static func choices(_ field: String, of words: [String]? = nil) -> [Offered] {
        (words ?? choices[field]?.map(\.word) ?? []).map { Offered(id: $0, label: called(field, $0)) }
    }

    /// Things said of one thing, in one line.
    static func joined(_ parts: [String?]) -> String { fold(parts) { App.joined(first: $0, second: $1) } }

    /// A plain list of things.
    static func listed(_ things: [String?]) -> String { fold(things) { App.listed(first: $0, second: $1) } }

    private static func fold(_ parts: [String?], _ pattern: (String, String) -> String) -> String {
        let said = parts.compactMap { $0 }.filter { !$0.isEmpty }
        guard let first = said.first else { return "" }
        return said.dropFirst().reduce(first, pattern)
    }
}
