/// Words.
public struct Saying: Identifiable {
    /// How they are said.
    public enum Tone: Sendable {
        case plain
        case quiet
        case strong
        /// A Latin name.
        case latin
    }

    public let words: String
    public let tone: Tone
    public var id: String { words }
}

/// Words in a black edge, the same in every look. Touched, some say more.
public struct Band {
    public let lines: [Saying]
    /// A first line in the large type, where there is one.
    public var head: String?
    /// What a screen reader says of it, if more than its words.
    public var said: String?
    /// Whether the edge is black; else it is a line.
    public var isEdged = true
    public var act: (@MainActor () -> Void)?
}

/// Words that can be touched.
public struct Touch: Identifiable {
    /// How they stand out.
    public enum Weight: Sendable {
        case plain
        /// What most will want next.
        case filled
        /// The page's one next thing to do, as large as a gloved thumb.
        case thumb
        /// As large, and not the first thing.
        case tall
        /// It holds.
        case pressed

        public var isFilled: Bool { self == .filled || self == .thumb }
        public var isBold: Bool { isFilled || self == .pressed }
        public var isTall: Bool { self == .thumb || self == .tall }
    }

    public let words: String
    /// What a screen reader says.
    public let said: String
    public let weight: Weight
    public let act: @MainActor () -> Void
    public var id: String { said }

    init(_ words: String, said: String? = nil, _ weight: Weight = .plain, act: @escaping @MainActor () -> Void) {
        self.words = words
        self.said = said ?? words
        self.weight = weight
        self.act = act
    }
}

/// A row that can be touched: a word, something smaller about it, and a picture before it if there is one.
public struct Row: Identifiable {
    public let words: String
    public let about: String
    /// What must not be overlooked about it.
    public let mark: String?
    public let picture: String?
    /// Months drawn below it.
    public var strip: MonthStrip?
    public var id: String { said }
    public let said: String
    public let act: @MainActor () -> Void

    init(
        _ words: String, _ about: String = "", mark: String? = nil, picture: String? = nil, said: String? = nil,
        act: @escaping @MainActor () -> Void
    ) {
        self.words = words
        self.about = about
        self.mark = mark
        self.picture = picture
        self.said = said ?? Words.listed([words, about, mark])
        self.act = act
    }
}

/// A name and, lined up at the other edge, how much of it; below it what limits it.
public struct Amount {
    public let name: String
    public let amount: String
    public let limits: [String]
}

/// Something that lies some way off.
public struct Way {
    public let name: String
    public let words: String
    public let about: String
    /// Which way, in degrees clockwise from north, for an arrow on a page whose top is north; none if it is here.
    public let bearing: Double?
}

/// Something that can be chosen.
public struct Offered: Equatable, Identifiable, Sendable {
    public let id: String
    public let label: String
    /// Id of the line figure that shows it.
    public var figure: String?
    public var isChosen = false
    /// What it is a choice of, where a leaf has several lists with the same words.
    var of: String?

    /// What a screen reader says.
    public var said: String { of.map { Words.App.choiceOf(of: $0, choice: label) } ?? label }

    /// That figure.
    public var drawing: Figure? { figure.flatMap { Figure.all[$0] } }
}

/// A list to choose from, two side by side; with their figures where they have some.
public struct States {
    public let all: [Offered]
    /// One below the other, where only those that were chosen are left.
    public let isList: Bool
    public let act: @MainActor (String) -> Void

    /// Whether they are drawn, with their names below, or are words.
    public var isDrawn: Bool { !isList && all.contains { $0.figure != nil } }

    init(_ all: [Offered], isList: Bool = false, act: @escaping @MainActor (String) -> Void) {
        self.all = all
        self.isList = isList
        self.act = act
    }

    /// A list of words; what it is a choice of is said with each where a leaf has several lists with the same words. `act` is told what
    /// was touched, and whether that chooses it or gives it up.
    static func choice(
        _ offered: [Offered], _ chosen: Set<String>, of: String? = nil, act: @escaping @MainActor (String, Bool) -> Void
    ) -> Print {
        let all = offered.map { Offered(id: $0.id, label: $0.label, figure: $0.figure, isChosen: chosen.contains($0.id), of: of) }
        return .states(States(all) { act($0, !chosen.contains($0)) })
    }
}

/// A photo by what it shows, or a gap for one that is missing.
public struct PhotoCell: Identifiable {
    public let id: String
    public let picture: String?
    public let label: String
    public let said: String
    public let act: @MainActor () -> Void
}

/// A picture as wide as the page.
public struct Picture {
    public let path: String?
    public let said: String
}
