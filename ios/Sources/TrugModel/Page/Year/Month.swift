import Foundation
import Observation
import TrugCore

/// One month of one row of the year, or that month of every year: its finds, and the looks that found nothing.
@MainActor @Observable final class Month: Page {
    let title = Words.Month.title
    @ObservationIgnored private unowned let house: House
    @ObservationIgnored private let month: String
    @ObservationIgnored private var most: UInt32
    private var read: Result<MonthPage, any Error>?

    init(_ house: House, _ month: String, _ saved: Data?) {
        self.house = house
        self.month = month
        most = Kept.read(UInt32.self, saved) ?? 60
    }

    func save() -> Data? { Kept.write(most) }

    func shown() { look() }

    func left() {}

    func back() -> Bool { false }

    private func look() {
        let (month, most) = (month, most)
        house.core.make {
            try $0.monthPage(id: month, most: most)
        } then: { [weak self] answered in
            if most == self?.most { self?.read = answered }
        }
    }

    let leaves = ["month"]

    func leaf(_ at: Int) -> Leaf {
        switch read {
        case nil: .busy(title)
        case .failure(let error): .failed(title, error) { [weak self] in self?.look() }
        case .success(let page): Leaf(said: title, body: lines(page))
        }
    }

    private var told: Telling { Telling(writing: house.writing) }

    private func lines(_ page: MonthPage) -> [Line] {
        let name = house.writing.month(Int(page.month), year: page.year.map(Int.init))
        var body = Column(.head(page.year == nil ? Words.Month.ofEvery(month: name) : name))
        body.words(told.called(page.of), .quiet)
        if !page.finds.isEmpty {
            body.part(Words.Year.sums)
            for (what, number) in told.sums(page.sum) { body.put(.amount(Amount(name: what, amount: number, limits: []))) }
        }
        body.part(Words.Month.finds)
        if page.finds.isEmpty { body.words(Words.Month.findsNone) }
        for find in page.finds { body.put(.row(row(find))) }
        if page.more > 0 {
            body.touch(Words.Month.more(count: Int(page.more))) { [weak self] in
                self?.most += 200
                self?.look()
            }
        }
        if !page.looks.isEmpty { body.part(Words.Month.looks) }
        for look in page.looks {
            body.words(Words.joined([house.writing.day(look.day), told.called(look.at)]))
            body.words(look.came == .noted ? Words.Year.noted : Words.Year.nothing, .quiet)
        }
        return body.lines
    }

    private func row(_ find: FindLine) -> Row {
        let about = Words.joined([
            find.at.map { house.writing.day($0.day) }, find.seenLeast.map { Words.Now.findSeen(count: Int($0)) },
            find.taken.map { Words.Now.findTaken(count: Int($0)) }, find.name != nil && !find.settled ? Words.Find.nameOpen : nil,
        ])
        return Row(Lines.name(find.name), about, picture: find.thumbnail) { [house] in house.go(Stop(.find, find: find.id)) }
    }
}
