/// One leaf of a page, ready to be drawn: what stands above, what scrolls, and at the thumb what to do next.
public struct Leaf {
    /// What a screen reader says when it is turned to.
    public var said: String
    public var above: [Line] = []
    public var body: [Line] = []
    public var thumb: [Line] = []
    /// Whether the screen stays on while it is shown.
    public var staysOn = false
}

/// Something printed on a leaf, with an id that stays the same while the thing does.
public struct Line: Identifiable {
    public let id: String
    public let print: Print
}

/// What can be printed. Views draw each of them in one way, and know nothing else.
public enum Print {
    /// The large heading of a leaf.
    case head(String)
    /// A heading within it, below a rule.
    case part(String)
    /// The same without the rule.
    case subhead(String)
    case rule
    case saying(Saying)
    /// A black-edged band: danger, and what is to be left.
    case band(Band)
    case touch(Touch)
    case row(Row)
    case amount(Amount)
    case way(Way)
    case states(States)
    case field(Field)
    case counter(Counter)
    case photos([PhotoCell])
    case picture(Picture)
    case months(MonthGrid)
    case mark(MarkKey)
    case run(RunLine)
    case map(MapPlate)
    case square(SquareDrawn)
    /// Side by side, equally wide.
    case beside([Line])
    /// One below the other, as one line.
    case column([Line])
}

extension Print {
    /// What makes it the same thing when the leaf is printed again.
    @MainActor fileprivate var name: String {
        switch self {
        case .head: "head"
        case .part(let words), .subhead(let words): "part \(words)"
        case .rule: "rule"
        case .saying(let saying): "saying \(saying.words)"
        case .band: "band"
        case .touch(let touch): "touch \(touch.words)"
        case .row(let row): "row \(row.words)"
        case .amount(let amount): "amount \(amount.name)"
        case .way(let way): "way \(way.name)"
        case .states(let states): "states \(states.all.map(\.id).joined(separator: " "))"
        case .field(let field): "field \(field.label)"
        case .counter(let counter): "counter \(counter.label)"
        case .photos: "photos"
        case .square(let square): "square \(square.said)"
        case .map: "map"
        case .months: "months"
        case .mark(let key): "mark \(key.words)"
        case .run(let run): "run \(run.name)"
        case .picture(let picture): "picture \(picture.path ?? "")"
        case .beside(let lines): "beside \(lines.first?.id ?? "")"
        case .column(let lines): "column \(lines.first?.id ?? "")"
        }
    }
}

/// Lines, one below the other.
@MainActor struct Column {
    private(set) var lines: [Line] = []
    private var names: [String: Int] = [:]

    init(_ prints: Print?...) {
        for print in prints { put(print) }
    }

    /// Puts something below the rest; nothing for none.
    mutating func put(_ print: Print?) {
        guard let print else { return }
        let count = names[print.name, default: 0]
        names[print.name] = count + 1
        lines.append(Line(id: count == 0 ? print.name : "\(print.name) #\(count)", print: print))
    }

    mutating func head(_ words: String) { put(.head(words)) }

    mutating func part(_ words: String) { put(.part(words)) }

    /// Words; none where there are none.
    mutating func words(_ words: String?, _ tone: Saying.Tone = .plain) {
        if let words, !words.isEmpty { put(.saying(Saying(words: words, tone: tone))) }
    }

    mutating func touch(_ words: String, _ act: @escaping @MainActor () -> Void) { put(.touch(Touch(words, act: act))) }

    /// Side by side; what is none takes no room.
    mutating func beside(_ prints: Print?...) {
        let beside = Column(all: prints).lines
        if let only = beside.first, beside.count == 1 { put(only.print) } else if !beside.isEmpty { put(.beside(beside)) }
    }

    private init(all prints: [Print?]) {
        for print in prints { put(print) }
    }
}
