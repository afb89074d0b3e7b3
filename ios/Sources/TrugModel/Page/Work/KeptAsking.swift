import TrugCore

/// `Asking` as it is kept for a process that dies.
extension Asking: Codable {
    private enum Name: String, CodingKey {
        case suspect, evidence, ask, leaf, draft, typed, shownEnd, showsAllDangers
    }

    init(from decoder: any Decoder) throws {
        let kept = try decoder.container(keyedBy: Name.self)
        asked = KeyAsked(
            suspect: try kept.decodeIfPresent(String.self, forKey: .suspect),
            evidence: try kept.decode([Seen].self, forKey: .evidence).map(\.seen),
            ask: try kept.decodeIfPresent(String.self, forKey: .ask))
        leaf = try kept.decode(WorkLeaf.self, forKey: .leaf)
        draft = try kept.decode(Draft.self, forKey: .draft)
        typed = try kept.decode(String.self, forKey: .typed)
        shownEnd = try kept.decodeIfPresent(String.self, forKey: .shownEnd).flatMap(Self.ending)
        showsAllDangers = try kept.decode(Bool.self, forKey: .showsAllDangers)
    }

    func encode(to encoder: any Encoder) throws {
        var kept = encoder.container(keyedBy: Name.self)
        try kept.encodeIfPresent(asked.suspect, forKey: .suspect)
        try kept.encode(asked.evidence.map(Seen.init), forKey: .evidence)
        try kept.encodeIfPresent(asked.ask, forKey: .ask)
        try kept.encode(leaf, forKey: .leaf)
        try kept.encode(draft, forKey: .draft)
        try kept.encode(typed, forKey: .typed)
        try kept.encodeIfPresent(shownEnd.map { String(describing: $0) }, forKey: .shownEnd)
        try kept.encode(showsAllDangers, forKey: .showsAllDangers)
    }

    private static func ending(_ name: String) -> Ending? {
        [Ending.open, .settled, .group, .notSettled, .unknown].first { String(describing: $0) == name }
    }

    private struct Seen: Codable {
        let character: String
        let states: [String]
        let from: Double?
        let to: Double?
        let sure: Bool

        init(_ seen: KeySeen) {
            character = seen.character
            states = seen.states
            from = seen.fromMm
            to = seen.toMm
            sure = seen.sure
        }

        var seen: KeySeen { KeySeen(character: character, states: states, fromMm: from, toMm: to, sure: sure) }
    }
}
