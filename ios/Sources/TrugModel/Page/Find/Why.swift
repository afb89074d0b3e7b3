import TrugCore

/// Why the advice is what it is: every rule that spoke, with where it stands, and what to check on each one that is cut.
@MainActor final class Why: Section {
    private unowned let desk: Find
    private lazy var because = Field(Words.Find.notFollowed, .lines) { [unowned desk] _, why in
        desk.act { [find = desk.find] in try $0.sayWhy(id: find, because: why) }
    }

    init(_ desk: Find) {
        self.desk = desk
    }

    func print(_ page: FindPage, into body: inout Column) {
        let advice = page.advice
        body.words(advice.lookAgain.map { Words.Find.lookAgain(day: desk.house.writing.day($0, now: page.at)) })
        if let condition = page.condition {
            body.words(condition.words)
            for note in condition.notes { body.words(note, .quiet) }
        }
        if advice.specimen > 0 { body.words(Words.Find.whyMore(count: Int(advice.specimen))) }
        for reason in advice.reasons { print(reason, &body) }
        if !advice.checks.isEmpty {
            body.part(Words.Find.checkEach)
            for check in advice.checks { body.words(told(check)) }
            body.words(Words.Work.inDoubt, .strong)
        }
        all(Words.Find.conduct, advice.conduct, &body)
        all(Words.Find.idle, advice.idle, &body)
        if page.followed == false { body.put(.field(because)) }
    }

    func flush() { because.flush() }

    private func print(_ reason: ReasonShown, _ body: inout Column) {
        body.words(reason.words)
        if !reason.title.isEmpty { body.words(Words.Find.reasonOf(title: reason.title), .quiet) }
    }

    private func told(_ check: CheckShown) -> String {
        let marks = Words.listed(check.lookAt)
        return check.deadly ? Words.Find.checkDeadly(name: check.name, marks: marks) : Words.Find.checkLine(name: check.name, marks: marks)
    }

    private func all(_ head: String, _ reasons: [ReasonShown], _ body: inout Column) {
        if reasons.isEmpty { return }
        body.part(head)
        for reason in reasons { print(reason, &body) }
    }
}
