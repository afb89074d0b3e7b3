import TrugCore

/// What the year is told in.
struct Telling {
    let writing: Writing

    func called(_ of: YearOf) -> String {
        switch of {
        case .all: Words.Year.everything
        case .fungus(let name): name.english
        case .unnamed: Words.Now.noName
        case .patch(_, let name, let kind, let place): name ?? Words.listed([kind?.english ?? Words.Now.patchUnnamed, place])
        case .outing(let place): place
        case .elsewhere: Words.Year.elsewhere
        }
    }

    /// What a name alone does not say: of a fungus the Latin name, of a patch what grows there.
    func about(_ of: YearOf) -> String {
        switch of {
        case .fungus(let name): name.latin
        case .patch(_, let name, let kind, _): name == nil ? "" : kind?.english ?? ""
        default: ""
        }
    }

    /// A row in a few words.
    func brief(_ sum: YearSum) -> String {
        Words.joined([
            sum.finds > 0 ? Words.Year.finds(count: Int(sum.finds)) : Words.Year.notFound,
            sum.unsettled > 0 ? Words.Year.unsettled(count: Int(sum.unsettled)) : nil,
        ])
    }

    /// A row in full: every month that there is something to say of.
    func row(_ row: YearRow) -> String {
        let head = Words.Year.rowSaid(name: Words.listed([called(row.of), about(row.of)]), finds: brief(row.sum))
        return row.months.filter(\.isTold).map(month).reduce(head) { Words.Year.said(before: $0, next: $1) }
    }

    /// A month in full.
    func month(_ month: YearMonth) -> String {
        Words.Year.monthSaid(month: writing.month(Int(month.month), year: month.year.map(Int.init)), what: came(month))
    }

    private func came(_ month: YearMonth) -> String {
        let inVain = month.nothing > 0 ? Words.Year.inVain(count: Int(month.nothing)) : nil
        let seen = Int(month.seen)
        return switch month.came {
        case .found:
            Words.listed([
                month.year == nil ? Words.Year.foundIn(count: Int(month.lookedIn), found: Int(month.foundIn)) : nil,
                Words.Year.finds(count: Int(month.finds)),
                month.orMore ? Words.Year.seenMore(number: seen) : Words.Now.findSeen(count: seen),
                inVain,
            ])
        case .noted: Words.listed([Words.Year.noted, inVain])
        case .nothing: Words.listed([Words.Year.nothing, inVain])
        case .notLooked: Words.Year.notLooked
        case .ahead: Words.Year.ahead
        }
    }

    /// What a sum comes to: what is counted, and how many.
    func sums(_ sum: YearSum) -> [(String, String)] {
        let told: [(String, String)?] = [
            (Words.Year.sumFinds, String(sum.finds)),
            sum.unsettled > 0 ? (Words.Year.sumUnsettled, String(sum.unsettled)) : nil,
            (Words.Year.sumSeen, many(sum.seen)),
            (Words.Year.sumTaken, many(sum.taken)),
            sum.specimens > 0 ? (Words.Year.sumSpecimens, String(sum.specimens)) : nil,
            (Words.Year.sumLeft, many(sum.left)),
            (Words.Year.sumGrams, grams(sum.grams)),
            sum.unweighed > 0 ? (Words.Year.sumUnweighed, String(sum.unweighed)) : nil,
            sum.leftGrams.map { (Words.Year.sumLeftGrams, sum.leftOrMore ? Words.Year.orMore(number: grams($0)) : grams($0)) },
            sum.others.least > 0 ? (Words.Year.sumOthers, many(sum.others)) : nil,
            sum.othersGrams > 0 ? (Words.Year.sumOthersGrams, grams(sum.othersGrams)) : nil,
        ]
        return told.compactMap { $0 }
    }

    private func many(_ many: HowMany) -> String {
        guard let most = many.most else { return Words.Year.orMore(number: String(many.least)) }
        return most == many.least ? String(most) : Words.Year.between(least: String(many.least), most: String(most))
    }

    func grams(_ grams: Double) -> String { Words.Year.grams(grams: whole(grams)) }

    /// A number of grams without its unit; people's scales tell no less than one.
    func whole(_ grams: Double) -> String { writing.number(grams.rounded()) }

    func dates(_ run: YearRun) -> String {
        let (first, last) = (writing.day(run.first), writing.day(run.last))
        return run.isOn ? Words.Year.runOn(first: first, last: last) : Words.Year.run(first: first, last: last)
    }

    func strip(_ months: [YearMonth]) -> MonthStrip {
        MonthStrip(marks: months.map(\.mark), letters: months.map { writing.monthLetter(Int($0.month)) })
    }
}

extension YearMonth {
    /// Whether there is something to say of it.
    var isTold: Bool { came != .notLooked && came != .ahead }

    var mark: Mark {
        switch came {
        case .found: .found(level: Int(level))
        case .nothing: .nothing
        case .noted: .noted
        case .notLooked: .blank
        case .ahead: .ahead
        }
    }
}
