import Foundation

/// One page: what it shows, what it remembers, and what Back does on it.
@MainActor public protocol Page: AnyObject {
    var title: String { get }

    /// The leaves that Back leads through, the one in front last; never none. Each by a name.
    var leaves: [String] { get }

    /// One of those leaves, ready to be drawn.
    func leaf(_ at: Int) -> Leaf

    /// It comes to the front, or to the front again: what it shows is read afresh.
    func shown()

    /// It leaves the front, or the phone does: what was typed is kept, and nothing is listened for.
    func left()

    /// One leaf back; false where the page itself is to be left.
    func back() -> Bool

    /// All that is needed to make it again.
    func save() -> Data?

    /// What was picked with one of the system's own pickers, which was asked under this name (`House.ask`).
    func answered(_ name: String, _ picked: URL)
}

extension Page {
    public func answered(_ name: String, _ picked: URL) {}
}

/// A page, and what it is about.
public struct Stop: Codable, Equatable, Sendable {
    public let place: Place
    public var find: String?
    public var suspect: String?
    /// What else it is about: a patch, a month, a taxon, a file; its page knows.
    public var about: String?
    /// Whether whoever holds the phone stands by the find: it was begun where they are, and now.
    public var isStanding = false

    public init(_ place: Place, find: String? = nil, suspect: String? = nil, about: String? = nil, isStanding: Bool = false) {
        self.place = place
        self.find = find
        self.suspect = suspect
        self.about = about
        self.isStanding = isStanding
    }
}

/// Every page there is. A new page is a line here and one in `make`.
public enum Place: String, Codable, CaseIterable, Sendable {
    case now
    case find
    case work
    case know
    case think
    case ill
    case year
    case month
    case map
    case share
    case search
    case kind
    case receive
    case exchange

    @MainActor func make(_ house: House, _ stop: Stop, _ saved: Data?) -> any Page {
        switch self {
        case .now: Now(house, saved)
        case .find: Find(house, stop.find ?? "", isStanding: stop.isStanding, saved)
        case .work: Work(house, stop.find, stop.suspect, saved)
        case .know: Names(house, stop.find ?? "", isToCheck: false, saved)
        case .think: Names(house, stop.find ?? "", isToCheck: true, saved)
        case .ill: Ill(house, saved)
        case .year: Year(house, saved)
        case .share: Share(house, stop.find, stop.about, saved)
        case .map: Map(house, stop.about, saved)
        case .search: Search(house, saved)
        case .kind: Kind(house, stop.about ?? "", saved)
        case .receive: Receive(house, stop.about.flatMap { URL(string: $0) }, saved)
        case .exchange: Exchange(house, saved)
        case .month: Month(house, stop.about ?? "", saved)
        }
    }
}

/// What pages remember, as data.
enum Kept {
    static func write(_ value: some Encodable) -> Data? { try? JSONEncoder().encode(value) }

    /// What cannot be read any more begins afresh.
    static func read<T: Decodable>(_ type: T.Type, _ data: Data?) -> T? { data.flatMap { try? JSONDecoder().decode(type, from: $0) } }
}
