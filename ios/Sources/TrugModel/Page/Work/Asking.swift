import TrugCore

/// The leaves that *Work it out* turns between.
enum WorkLeaf: String, Codable {
    case sheet, names, question, others, answers, end
}

/// An answer that is being given, and not told to the key yet.
struct Draft: Codable, Equatable {
    /// States between which the eye cannot choose.
    var states: [String] = []
    /// Whether its finder is not sure: then several states may be tapped before going on.
    var isUnsure = false
    /// The least size, as typed.
    var from = ""
    /// The greatest size, as typed.
    var to = ""
}

/// All that *Work it out* remembers: enough to draw it again after the process has died. Plain data; every touch is one of the
/// functions below, which say what is to be remembered next. The key's answer to `asked` is asked for again whenever it changes.
struct Asking: Equatable {
    var asked: KeyAsked
    var leaf: WorkLeaf = .sheet
    var draft = Draft()
    /// What was typed on the leaf of names.
    var typed = ""
    /// How the key ended when its end was last shown, so that going on is not interrupted again by the same.
    var shownEnd: Ending?
    /// Whether all of the dangerous ones are shown.
    var showsAllDangers = false

    /// As the key begins: on the sheet, unless more is known already than a glance and a month.
    static func begun(_ page: KeyPage) -> Asking {
        let isGlanced = page.sheet.contains { $0.states.contains(where: \.chosen) }
        let leaf: WorkLeaf = isGlanced || page.asked.suspect != nil ? .question : .sheet
        return Asking(asked: page.asked, leaf: leaf).told(page)
    }

    // ---- Answers

    /// A state of the sheet, tapped: seen, another instead, or not seen after all.
    func tap(_ character: String, _ state: String) -> Asking {
        let before = asked.evidence.last { $0.character == character }
        let others = asked.evidence.filter { $0.character != character }
        let seen = before?.states == [state] ? [] : [Self.seen(character, [state], isSure: true)]
        return with { $0.asked.evidence = others + seen }
    }

    /// A state of the question, tapped. Sure, it is the answer; not sure, it is one of those it could be.
    func choose(_ character: String, _ state: String) -> Asking {
        guard draft.isUnsure else { return answer(Self.seen(character, [state], isSure: true)) }
        let states = draft.states.contains(state) ? draft.states.filter { $0 != state } : draft.states + [state]
        return with { $0.draft.states = states }
    }

    /// The answer that was drafted.
    func answerUnsure(_ character: String) -> Asking { answer(Self.seen(character, draft.states, isSure: false)) }

    /// A size, in millimetres.
    func answerSize(_ character: String, _ size: ClosedRange<Double>) -> Asking {
        let to = size.upperBound > size.lowerBound ? size.upperBound : nil
        return answer(KeySeen(character: character, states: [], fromMm: size.lowerBound, toMm: to, sure: !draft.isUnsure))
    }

    /// It cannot be told: the key goes on to something else.
    func cannotTell(_ character: String) -> Asking { answer(Self.seen(character, [], isSure: true)) }

    private func answer(_ seen: KeySeen) -> Asking {
        with {
            $0.asked.evidence.append(seen)
            $0.asked.ask = nil
            $0.draft = Draft()
            $0.leaf = .question
        }
    }

    /// Not sure after all, or sure again.
    func doubt() -> Asking {
        with {
            $0.draft.isUnsure.toggle()
            $0.draft.states = []
        }
    }

    /// Another question, or another look at what was answered.
    func ask(_ character: String) -> Asking {
        with {
            $0.asked.ask = character
            $0.draft = Draft()
            $0.leaf = .question
        }
    }

    /// The answer at a place in the list is taken back.
    func takeBack(_ at: Int) -> Asking {
        with {
            if $0.asked.evidence.indices.contains(at) { $0.asked.evidence.remove(at: at) }
            $0.shownEnd = nil
        }
    }

    /// A name that its finder thinks of, or none any more.
    func suspect(_ name: String?) -> Asking {
        with {
            $0.asked.suspect = name
            $0.asked.ask = nil
            $0.leaf = .question
            $0.typed = ""
            $0.draft = Draft()
        }
    }

    // ---- Leaves

    /// Another leaf.
    func turn(_ to: WorkLeaf) -> Asking { with { $0.leaf = to } }

    /// One step back; none where the page itself is left.
    func back() -> Asking? {
        switch leaf {
        case .sheet: nil
        case .names: turn(asked.evidence.isEmpty && asked.suspect == nil ? .sheet : .question)
        case .others, .answers, .end: turn(.question)
        case .question: draft.isUnsure ? doubt() : turn(.sheet)
        }
    }

    /// The key has spoken: an end that was not shown yet is shown.
    func told(_ page: KeyPage) -> Asking {
        guard leaf == .question else { return with { $0.asked = page.asked } }
        let ending = page.verdict.ending
        let isEnd = [.settled, .group, .unknown].contains(ending)
        let isNew = isEnd && ending != shownEnd
        return with {
            $0.asked = page.asked
            $0.leaf = isNew || page.question == nil ? .end : .question
            $0.shownEnd = isEnd ? ending : nil
        }
    }

    func with(_ change: (inout Asking) -> Void) -> Asking {
        var other = self
        change(&other)
        return other
    }

    private static func seen(_ character: String, _ states: [String], isSure: Bool) -> KeySeen {
        KeySeen(character: character, states: states, fromMm: nil, toMm: nil, sure: isSure)
    }

    // ---- Sizes

    /// A size as typed into two fields, in whichever way the phone writes fractions; none if it is none.
    static func size(_ from: String, _ to: String) -> ClosedRange<Double>? {
        guard let least = millimetres(from) else { return nil }
        let isOne = to.allSatisfy(\.isWhitespace)
        guard let most = isOne ? least : millimetres(to), least <= most else { return nil }
        return least...most
    }

    private static func millimetres(_ text: String) -> Double? {
        Double(Writing.plain(text)).flatMap { $0 > 0 && $0 <= 2000 ? $0 : nil }
    }
}
