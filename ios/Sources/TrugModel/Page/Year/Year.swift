import Foundation
import Observation
import TrugCore

/// The year: what was found, when and where, as pictures drawn from the records.
@MainActor @Observable final class Year: Page {
    let title = Words.Year.title
    @ObservationIgnored private unowned let house: House
    private var asked: Asked
    private var read: Result<YearPage, any Error>?

    /// What the core is asked.
    private struct Asked: Codable, Equatable {
        var isByPlace = false
        var season: String?
        var row: String?
    }

    init(_ house: House, _ saved: Data?) {
        self.house = house
        asked = Kept.read(Asked.self, saved) ?? Asked()
    }

    func save() -> Data? { Kept.write(asked) }

    func shown() { look() }

    func left() {}

    func back() -> Bool {
        if asked.row == nil { return false }
        ask { $0.row = nil }
        return true
    }

    private func ask(_ change: (inout Asked) -> Void) {
        change(&asked)
        look()
    }

    private func look() {
        let asked = asked
        house.core.make {
            try $0.yearPage(by: asked.isByPlace ? .place : .fungus, season: asked.season, moreOf: asked.row)
        } then: { [weak self] answered in
            // Somebody has gone on meanwhile, and another answer is on its way.
            guard let self, asked == self.asked else { return }
            read = answered
            if case .success(let page) = answered {
                // A season or a row that is not there any more is not shown.
                self.asked.season = page.season
                self.asked.row = page.more?.row.id
            }
        }
    }

    // ---- What it shows

    var leaves: [String] { asked.row == nil ? ["year"] : ["year", "row"] }

    func leaf(_ at: Int) -> Leaf {
        switch read {
        case nil: .busy(title)
        case .failure(let error): .failed(title, error) { [weak self] in self?.look() }
        case .success(let page):
            if at > 0, let more = page.more {
                Leaf(said: title, body: lines(more, page.season), thumb: seasons(page))
            } else {
                Leaf(said: title, body: lines(page), thumb: seasons(page))
            }
        }
    }

    private var told: Telling { Telling(writing: house.writing) }

    /// The whole year: a row for each fungus or place, and how to read them.
    private func lines(_ page: YearPage) -> [Line] {
        var body = Column(.head(page.season ?? Words.Year.allSeasons))
        body.words(page.season == nil ? Words.Year.laidOver : Words.Year.oneSeason, .quiet)
        let ways = [Offered(id: "fungus", label: Words.Year.byFungus), Offered(id: "place", label: Words.Year.byPlace)]
        body.put(
            States.choice(ways, [asked.isByPlace ? "place" : "fungus"]) { [weak self] way, _ in self?.ask { $0.isByPlace = way == "place" }
            })
        if page.rows.isEmpty {
            body.words(page.season == nil ? Words.Year.empty : Words.Year.emptySeason)
            return body.lines
        }
        for row in [page.all] + page.rows {
            var line = Row(told.called(row.of), told.brief(row.sum), said: told.row(row)) { [weak self] in self?.ask { $0.row = row.id } }
            line.strip = told.strip(row.months)
            body.put(.row(line))
        }
        body.part(Words.Year.key)
        body.put(.mark(MarkKey(mark: .found(level: 4), words: Words.Year.keyFound)))
        body.put(.mark(MarkKey(mark: .nothing, words: Words.Year.keyNothing)))
        body.put(.mark(MarkKey(mark: .noted, words: Words.Year.keyNoted)))
        body.put(.mark(MarkKey(mark: .blank, words: Words.Year.keyBlank)))
        body.part(Words.Year.counts)
        for count in [
            Words.Year.countsNames, Words.Year.countsPlaces, Words.Year.countsLooks, Words.Year.countsTwice, Words.Year.countsCopies,
        ] { body.words(count, .quiet) }
        return body.lines
    }

    /// One row at full width: its months, each to be touched; first and last days; what it comes to.
    private func lines(_ more: YearRowMore, _ season: String?) -> [Line] {
        var body = Column(.head(told.called(more.row.of)))
        body.words(told.about(more.row.of), .latin)
        body.part(season ?? Words.Year.allSeasons)
        body.put(.months(MonthGrid(cells: more.row.months.map(cell))))
        if !more.runs.isEmpty {
            body.part(Words.Year.runs)
            runs(more, &body)
        }
        body.part(season.map { Words.Year.sumsOf(season: $0) } ?? Words.Year.sums)
        for (what, number) in told.sums(more.row.sum) { body.put(.amount(Amount(name: what, amount: number, limits: []))) }
        if more.row.sum.leftGrams != nil { body.words(Words.Year.countsLeft, .quiet) }
        if more.seasons.count > 1 {
            body.part(Words.Year.bySeason)
            for one in more.seasons { body.put(.row(row(one))) }
        }
        return body.lines
    }

    private func cell(_ month: YearMonth) -> MonthGrid.Cell {
        let isFound = month.came == .found
        let number = month.orMore ? Words.Year.many(number: Int(month.seen)) : String(month.seen)
        let open: @MainActor () -> Void = { [house] in house.go(Stop(.month, about: month.id)) }
        return MonthGrid.Cell(
            id: month.id, mark: month.mark, name: house.writing.monthBrief(Int(month.month)), number: isFound ? number : "",
            said: told.month(month), act: month.isTold ? open : nil)
    }

    /// First and last days: a line for each year, drawn below its dates on twelve equal months, so that one year can be held against
    /// another.
    private func runs(_ more: YearRowMore, _ body: inout Column) {
        let first = Int(more.turns)
        if first != 7 { body.words(Words.Year.turns(month: house.writing.month(first)), .quiet) }
        let letters = (0..<12).map { house.writing.monthLetter((first - 1 + $0) % 12 + 1) }
        for (at, run) in more.runs.enumerated() {
            let dates = told.dates(run)
            body.put(
                .run(
                    RunLine(
                        name: run.name, dates: dates, said: Words.Year.runSaid(year: run.name, dates: dates), days: run.days, end: run.end,
                        letters: at == more.runs.count - 1 ? letters : [])))
        }
    }

    /// What was taken and left in a season; it leads there.
    private func row(_ one: SeasonSum) -> Row {
        let numbers = [
            (Words.Year.columnFinds, String(one.sum.finds)), (Words.Year.columnTaken, told.whole(one.sum.grams)),
            (Words.Year.columnLeft, one.sum.leftGrams.map(told.whole) ?? Words.Year.noneKnown),
        ].map { Words.Year.told(what: $0, number: $1) }
        let said = Words.Year.monthSaid(month: one.season, what: Words.listed(numbers))
        return Row(one.season, Words.joined(numbers), said: said) { [weak self] in self?.ask { $0.season = one.season } }
    }

    /// The season before and the one after, and all of them. With one season there is nothing to choose.
    private func seasons(_ page: YearPage) -> [Line] {
        if page.seasons.count < 2 { return [] }
        let only = { (season: String) -> Print in
            .touch(Touch(Words.Year.only(season: season)) { [weak self] in self?.ask { $0.season = season } })
        }
        guard let at = page.season.flatMap(page.seasons.firstIndex) else { return Column(only(page.seasons[0])).lines }
        let beside = [at + 1, at - 1].filter(page.seasons.indices.contains).map { only(page.seasons[$0]) }
        var thumb = Column()
        thumb.beside(beside.first, beside.dropFirst().first)
        thumb.touch(Words.Year.allSeasons) { [weak self] in self?.ask { $0.season = nil } }
        return thumb.lines
    }
}
