import TrugCore

/// A size in millimetres, or the least and the greatest.
@MainActor final class Size {
    private unowned let work: Work
    let from = Field(Words.Work.fromMm, .decimal)
    let to = Field(Words.Work.toMm, .decimal)
    private var character: String?

    init(_ work: Work) {
        self.work = work
        from.typing = { [unowned work] text in work.remember { $0.with { $0.draft.from = text } } }
        to.typing = { [unowned work] text in work.remember { $0.with { $0.draft.to = text } } }
        for field in [from, to] { field.done = { [unowned self] in tell() } }
    }

    /// What is remembered of the sizes that are being typed, or nothing for another question.
    func begin(_ asking: Asking) {
        if from.text != asking.draft.from { from.begin(asking.draft.from) }
        if to.text != asking.draft.to { to.begin(asking.draft.to) }
    }

    /// Tells the size, or says what is wrong with it.
    func tell() {
        guard let asked = work.question else { return }
        if let size = Asking.size(from.text, to.text) {
            work.turn { $0.answerSize(asked.character, size) }
        } else {
            work.house.complain(Words.Work.sizeWrong)
        }
    }
}

extension Work {
    /// One question: what to look at and why, its states, drawn; and at the thumb the ways round it.
    func questionLeaf(_ asking: Asking, _ page: KeyPage) -> Leaf {
        guard let question = page.question else { return .busy(title) }
        var body = Column(dangers(asking, page.strip))
        body.head(question.words)
        body.words(question.help)
        body.words(question.why, .quiet)
        if asking.draft.isUnsure, !question.states.isEmpty { body.words(Words.Work.notSureHelp, .strong) }
        if question.isSize {
            body.words(Words.Work.sizeHelp)
            body.beside(.field(size.from), .field(size.to))
        } else {
            body.put(.states(states(asking, question)))
        }
        var thumb = Column(ways(asking, question))
        let count = Words.Work.answers(count: page.answers.count)
        thumb.beside(
            page.others.isEmpty ? nil : .touch(Touch(Words.Work.another) { [weak self] in self?.turn { $0.turn(.others) } }),
            .touch(Touch(count) { [weak self] in self?.turn { $0.turn(.answers) } }))
        return Leaf(said: question.words, body: body.lines, thumb: thumb.lines)
    }

    private func states(_ asking: Asking, _ question: Question) -> States {
        var offered = question.unit == Question.month ? house.writing.months : question.states.map(Offered.init)
        if asking.draft.isUnsure {
            for at in offered.indices { offered[at].isChosen = asking.draft.states.contains(offered[at].id) }
        }
        return States(offered) { [weak self] state in self?.turn { $0.choose(question.character, state) } }
    }

    private func ways(_ asking: Asking, _ question: Question) -> Print {
        let none = question.effort == Question.night ? Words.Work.notYet : Words.Work.cannotTell
        let cannot = Touch(none) { [weak self] in self?.turn { $0.cannotTell(question.character) } }
        let doubt = Touch(Words.Work.notSure, asking.draft.isUnsure ? .pressed : .plain) { [weak self] in self?.turn { $0.doubt() } }
        var ways = Column(.touch(cannot), .touch(doubt))
        if question.isSize {
            ways.put(.touch(Touch(Words.Work.goOn, .filled) { [weak self] in self?.size.tell() }))
        } else if !asking.draft.states.isEmpty {
            ways.put(.touch(Touch(Words.Work.goOn, .filled) { [weak self] in self?.turn { $0.answerUnsure(question.character) } }))
        }
        return .beside(ways.lines)
    }

    /// The dangerous ones that are still possible, in a black-edged band with words: the first few by name, those that have killed
    /// before the rest; touched, each of them with how strongly it must be reckoned with.
    func dangers(_ asking: Asking, _ strip: [StillPossible]) -> Print? {
        if strip.isEmpty { return nil }
        let worst = strip.filter { $0.name.danger == .deadly } + strip.filter { $0.name.danger != .deadly }
        let brief = brief(worst)
        let touched: @MainActor () -> Void = { [weak self] in self?.turn { $0.with { $0.showsAllDangers.toggle() } } }
        guard asking.showsAllDangers else {
            return .band(Band(lines: [Saying(words: brief, tone: .strong)], said: Words.Work.dangerOpen(brief: brief), act: touched))
        }
        let lines = worst.map { Saying(words: Words.Work.dangerLine(name: $0.name.english, words: $0.words), tone: .plain) }
        return .band(
            Band(
                lines: [Saying(words: Words.Work.dangerHead, tone: .strong)] + lines, said: Words.Work.dangerFewer(brief: brief),
                act: touched))
    }

    private func brief(_ strip: [StillPossible]) -> String {
        let first = 3
        let names = strip.prefix(first).map {
            $0.name.danger == .deadly ? Words.Work.dangerKilled(name: $0.name.english) : $0.name.english
        }
        let rest = strip.count > first ? [Words.Work.dangerMore(count: strip.count - first)] : []
        return Words.Work.dangerBrief(names: house.writing.all(names + rest))
    }
}

extension Question {
    static let month = "month"
    static let night = "spore print"

    /// Whether it asks for millimetres.
    var isSize: Bool { !unit.isEmpty && unit != Self.month }
}
