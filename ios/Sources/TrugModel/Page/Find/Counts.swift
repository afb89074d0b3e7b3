import TrugCore

/// How many there were, and how large.
@MainActor final class Counts: Section {
    private unowned let desk: Find
    private lazy var seen = Counter(Words.Find.seen) { [unowned desk] field, typed in desk.amend("seen", typed) { field.refused() } }
    private lazy var from = Field(Words.Find.fromMm, .decimal) { [unowned self] _, _ in size() }
    private lazy var to = Field(Words.Find.toMm, .decimal) { [unowned self] _, _ in size() }
    private var measure = "width"

    init(_ desk: Find) {
        self.desk = desk
    }

    func show(_ page: FindPage) {
        let fields = page.fields
        measure = page.condition?.measure ?? "width"
        let most = fields.seenMost == fields.seenLeast ? nil : fields.seenMost
        seen.field.show([fields.seenLeast, most].compactMap { $0.map { String($0) } }.joined(separator: "-"))
        let isHeight = measure == "height"
        let least = isHeight ? fields.heightLeastMm : fields.widthLeastMm
        let greatest = isHeight ? fields.heightMostMm : fields.widthMostMm
        // One number stays where it was typed.
        if least == greatest, from.typed.isEmpty, !to.typed.isEmpty { return to.show(written(greatest)) }
        from.show(written(least))
        to.show(written(greatest == least ? nil : greatest))
    }

    func print(_ page: FindPage, into body: inout Column) {
        body.part(Words.Find.howMany)
        body.put(.counter(seen))
        body.words(page.condition?.measure == "height" ? Words.Find.height : Words.Find.width)
        body.beside(.field(from), .field(to))
    }

    func flush() {
        for field in [seen.field, from, to] { field.flush() }
    }

    private func written(_ number: Double?) -> String { number.map(desk.house.writing.number) ?? "" }

    private func size() {
        let typed = [from, to].map { Writing.plain($0.typed) }.filter { !$0.isEmpty }
        desk.amend(measure, typed.joined(separator: "-")) { [from, to] in [from, to].forEach { $0.refused() } }
    }
}

/// What shows how old they are: the signs that this fungus has.
@MainActor final class Signs: Section {
    private unowned let desk: Find
    private var chosen: [String] = []

    init(_ desk: Find) {
        self.desk = desk
    }

    func show(_ page: FindPage) {
        chosen = page.signs.filter(\.chosen).map(\.id)
    }

    func print(_ page: FindPage, into body: inout Column) {
        if page.signs.isEmpty { return }
        body.part(Words.Find.signs)
        let offered = page.signs.map { Offered(id: $0.id, label: $0.words) }
        body.put(States.choice(offered, Set(page.signs.filter(\.chosen).map(\.id))) { [self] sign, _ in touch(sign) })
    }

    /// Two touches may be quicker than one answer.
    private func touch(_ sign: String) {
        chosen = chosen.contains(sign) ? chosen.filter { $0 != sign } : chosen + [sign]
        desk.amend("signs", chosen.joined(separator: ","))
    }
}

/// What was taken, and what stays.
@MainActor final class Taking: Section {
    private unowned let desk: Find
    private lazy var taken = Counter(Words.Find.taken) { [unowned desk] field, typed in desk.amend("taken", typed) { field.refused() } }
    private lazy var grams = Field(Words.Find.grams, .decimal) { [unowned desk] field, typed in
        desk.amend("grams", Writing.plain(typed)) { field.refused() }
    }
    private lazy var study = Counter(Words.Find.specimens) { [unowned desk] field, typed in
        desk.amend("specimens", typed) { field.refused() }
    }

    init(_ desk: Find) {
        self.desk = desk
    }

    func show(_ page: FindPage) {
        taken.field.show(page.fields.taken.map { String($0) } ?? "")
        study.field.show(page.fields.specimens.map { String($0) } ?? "")
        grams.show(page.fields.grams.map(desk.house.writing.number) ?? "")
    }

    func print(_ page: FindPage, into body: inout Column) {
        let fields = page.fields
        body.part(Words.Find.taken)
        body.put(.counter(taken))
        body.words(fields.seenLeast.map { Words.Find.left(number: max(0, Int($0) - Int(fields.taken ?? 0) - Int(fields.specimens ?? 0))) })
        body.put(.field(grams))
        body.put(.counter(study))
    }

    func flush() {
        for field in [taken.field, grams, study.field] { field.flush() }
    }
}

/// How many of each age, where they are mixed.
@MainActor final class Ages: Section {
    private unowned let desk: Find
    private lazy var counters = Words.choices("stages").map { stage in
        (stage.id, Counter(stage.label) { [unowned self] _, _ in keep() })
    }

    init(_ desk: Find) {
        self.desk = desk
    }

    func show(_ page: FindPage) {
        for (stage, counter) in counters {
            counter.field.show(page.fields.stages.first { $0.stage == stage }.map { String($0.count) } ?? "")
        }
    }

    func print(_ page: FindPage, into body: inout Column) {
        body.head(Words.Find.ages)
        for (_, counter) in counters { body.put(.counter(counter)) }
    }

    func flush() {
        for (_, counter) in counters { counter.field.flush() }
    }

    private func keep() {
        let counted = counters.compactMap { stage, counter in
            Int(counter.field.typed).flatMap { $0 > 0 ? "\(stage)=\($0)" : nil }
        }
        desk.amend("stages", counted.joined(separator: ", ")) { [counters] in counters.forEach { $0.1.field.refused() } }
    }
}
