import Foundation
import Observation
import TrugCore

/// What Trug knows of a kind, what it is taken for, and what is on record of it.
@MainActor @Observable final class Kind: Page {
    let title = Words.Kind.title
    @ObservationIgnored private unowned let house: House
    @ObservationIgnored private let kind: String
    @ObservationIgnored private var most: UInt32
    private var isOpen: Bool
    private var read: Result<KindPage, any Error>?

    private struct Remembered: Codable {
        var most: UInt32
        var isOpen: Bool
    }

    init(_ house: House, _ kind: String, _ saved: Data?) {
        self.house = house
        self.kind = kind
        let before = Kept.read(Remembered.self, saved)
        most = before?.most ?? Self.step
        isOpen = before?.isOpen ?? false
    }

    func save() -> Data? { Kept.write(Remembered(most: most, isOpen: isOpen)) }

    func shown() { look() }

    func left() {}

    func back() -> Bool { false }

    private func look() {
        let (kind, most, here) = (kind, most, house.position.best?.fix)
        house.core.make {
            try $0.kindPage(name: kind, here: here, most: most)
        } then: { [weak self] in
            self?.read = $0
        }
    }

    private func more() {
        most += Self.step
        look()
    }

    // ---- What it shows

    let leaves = ["kind"]

    func leaf(_ at: Int) -> Leaf {
        switch read {
        case nil: .busy(title)
        case .failure(let error): .failed(title, error) { [weak self] in self?.look() }
        case .success(let page): Leaf(said: page.name.english, body: lines(page), thumb: thumb(page))
        }
    }

    private func lines(_ page: KindPage) -> [Line] {
        let found = Found(house: house)
        var body = Column(.head(page.name.english))
        if page.name.latin != page.name.english { body.words(page.name.latin, .latin) }
        if !page.also.isEmpty { body.words(Words.Kind.also(names: Words.listed(page.also))) }
        if !page.once.isEmpty { body.words(Words.Kind.once(names: Words.listed(page.once)), .quiet) }
        body.put(danger(page.name.danger))
        if !page.kin.isEmpty {
            body.part(Words.Kind.kin)
            found.kinds(page.kin, &body)
        }
        if !page.cautions.isEmpty { body.part(Words.Kind.cautions) }
        for caution in page.cautions { body.words(caution) }
        if !page.lookalikes.isEmpty { body.part(Words.Kind.takenFor) }
        for other in page.lookalikes { body.put(.row(row(other))) }
        body.part(Words.Search.finds)
        if page.finds.isEmpty { body.words(Words.Kind.findsNone, .quiet) }
        found.finds(page.finds, left: page.moreFinds, &body) { [weak self] in self?.more() }
        if !page.patches.isEmpty {
            body.part(Words.Search.patches)
            found.patches(page.patches, left: page.morePatches, &body)
        }
        shows(page, &body)
        return body.lines
    }

    /// What it is to people, in words: danger in its black-edged band, and never that anything is fit to eat.
    private func danger(_ danger: Danger) -> Print {
        let words =
            switch danger {
            case .deadly: Words.Kind.deadly
            case .harmful: Words.Kind.harmful
            case .inedible: Words.Kind.inedible
            case .gathered: Words.Kind.gathered
            case .notKnown: Words.Kind.notKnown
            }
        guard danger == .deadly || danger == .harmful else { return .saying(Saying(words: words, tone: .plain)) }
        return .band(Band(lines: [Saying(words: words, tone: .strong)]))
    }

    private func row(_ other: TakenFor) -> Row {
        let name =
            switch other.name.danger {
            case .deadly: Words.Work.dangerKilled(name: other.name.english)
            case .harmful: Words.Kind.nameHarms(name: other.name.english)
            default: other.name.english
            }
        let apart = Words.Kind.apart(first: other.first, second: other.against, words: other.apart)
        return Row(name, apart) { [house] in house.go(Stop(.kind, about: other.name.id)) }
    }

    private func shows(_ page: KindPage, _ body: inout Column) {
        if page.shows.isEmpty { return }
        body.part(Words.Kind.shows)
        if !isOpen { return body.touch(Words.Kind.showsOpen) { [weak self] in self?.isOpen = true } }
        for one in page.shows {
            body.words(one.what, .quiet)
            body.words(one.words)
        }
    }

    private func thumb(_ page: KindPage) -> [Line] {
        var thumb = Column(.saying(Saying(words: Words.Work.inDoubt, tone: .strong)))
        if page.name.danger != .notKnown {
            thumb.touch(Words.Kind.check) { [house, kind] in house.go(Stop(.work, suspect: kind)) }
        }
        return thumb.lines
    }

    private static let step: UInt32 = 10
}
