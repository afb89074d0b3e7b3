import Foundation
import Observation
import TrugCore

/// What is on record and what is known, by words: however they are spelt, and as they are typed.
@MainActor @Observable final class Search: Page {
    let title = Words.Search.title
    @ObservationIgnored private unowned let house: House
    @ObservationIgnored private let entry = Field(Words.Search.hint, .name, opens: true)
    private var read: Result<SearchPage, any Error>?

    /// How many finds are shown at most.
    @ObservationIgnored private var most: UInt32

    private struct Remembered: Codable {
        var typed: String
        var most: UInt32
    }

    init(_ house: House, _ saved: Data?) {
        self.house = house
        let before = Kept.read(Remembered.self, saved)
        most = before?.most ?? Self.step
        entry.begin(before?.typed ?? "")
        entry.typing = { @MainActor [weak self] in self?.look(for: $0) }
    }

    func save() -> Data? { Kept.write(Remembered(typed: entry.text, most: most)) }

    func shown() { look() }

    func left() {}

    func back() -> Bool { false }

    /// Something else is typed.
    private func look(for _: String) {
        most = Self.step
        look()
    }

    private func look() {
        let (typed, most, here) = (entry.text, most, house.position.best?.fix)
        guard !entry.typed.isEmpty else {
            read = nil
            return
        }
        house.core.make {
            try $0.search(words: typed, here: here, most: most)
        } then: { [weak self] answered in
            // What was asked before says nothing of what is typed now.
            guard let self, typed == entry.text, most == self.most else { return }
            read = answered
        }
    }

    private func more() {
        most += Self.step
        look()
    }

    // ---- What it shows

    let leaves = ["search"]

    func leaf(_ at: Int) -> Leaf {
        var above = Column(.field(entry))
        var body = Column()
        var thumb = Column()
        switch read {
        case nil: body.words(entry.typed.isEmpty ? Words.Search.help : Words.App.busy, .quiet)
        case .failure(let error):
            body.words(Words.sentence(error))
            thumb.put(.touch(Touch(Words.App.tryAgain, .thumb) { [weak self] in self?.look() }))
        case .success(let page):
            let counts = counts(page)
            above.words(counts.isEmpty ? Words.Search.none : counts, .quiet)
            if counts.isEmpty { none(page.instead, &body) } else { found(page, &body) }
        }
        return Leaf(said: title, above: above.lines, body: body.lines, thumb: thumb.lines)
    }

    private func counts(_ page: SearchPage) -> String {
        let finds = page.finds.count + Int(page.moreFinds)
        let patches = page.patches.count + Int(page.morePatches)
        let kinds = page.kinds.count + Int(page.moreKinds)
        return Words.joined([
            finds > 0 ? Words.Search.countFinds(count: finds) : nil, patches > 0 ? Words.Search.countPatches(count: patches) : nil,
            kinds > 0 ? Words.Search.countKinds(count: kinds) : nil,
        ])
    }

    private func found(_ page: SearchPage, _ body: inout Column) {
        let found = Found(house: house)
        if !page.finds.isEmpty {
            head(Words.Search.finds, &body)
            found.finds(page.finds, left: page.moreFinds, &body) { [weak self] in self?.more() }
        }
        if !page.patches.isEmpty {
            head(Words.Search.patches, &body)
            found.patches(page.patches, left: page.morePatches, &body)
        }
        if !page.kinds.isEmpty {
            head(Words.Search.kinds, &body)
            found.kinds(page.kinds, left: page.moreKinds, &body)
        }
    }

    /// The first part needs no rule: the field is above it.
    private func head(_ words: String, _ body: inout Column) {
        if body.lines.isEmpty { body.put(.subhead(words)) } else { body.part(words) }
    }

    private func none(_ instead: String?, _ body: inout Column) {
        guard let instead else { return body.words(Words.Search.noneHelp) }
        body.words(Words.Search.meant)
        body.touch(instead) { [weak self] in self?.entry.type(instead) }
    }

    private static let step: UInt32 = 20
}
