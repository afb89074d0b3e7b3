import Foundation
import TrugCore

/// Where it is: from this phone, or typed.
@MainActor final class Whereabouts: Section {
    private unowned let desk: Find
    private let typed = Field(Words.Find.whereTyped, .name)
    private var tried: String

    private struct Remembered: Codable {
        var typed: String
        var tried: String
    }

    init(_ desk: Find, _ saved: Data?) {
        self.desk = desk
        let before = Kept.read(Remembered.self, saved)
        tried = before?.tried ?? ""
        typed.begin(before?.typed ?? "")
        typed.done = { [unowned self] in set() }
    }

    func save() -> Data? { Kept.write(Remembered(typed: typed.typed, tried: tried)) }

    private func set() {
        let text = typed.typed
        tried = text
        desk.act { [find = desk.find] in try $0.placeFindAt(id: find, typed: text) }
    }

    /// What was typed and not set yet is meant all the same.
    func leave() {
        if !typed.typed.isEmpty, typed.typed != tried { set() }
    }

    func print(_ page: FindPage, into body: inout Column) {
        body.head(Words.Find.where)
        body.words(Self.place(desk, page), .strong)
        body.words(page.place.map { Words.called("got", $0.got) }, .quiet)
        let (house, find) = (desk.house, desk.find)
        if !house.position.isAllowed {
            body.touch(Words.Now.askPosition) { house.askPosition() }
        } else if let best = house.position.best {
            body.touch(Words.Find.whereHere(metres: Int((best.accuracyM ?? 0).rounded()))) { [self] in
                tried = typed.typed
                desk.act { try $0.placeFind(id: find, fix: best.fix) }
            }
        } else {
            body.words(Words.Now.noFix, .quiet)
        }
        body.put(.field(typed))
        body.touch(Words.Find.whereSet) { [self] in set() }
    }

    /// Where a find is, in words.
    static func place(_ desk: Find, _ page: FindPage) -> String {
        guard let place = page.place else { return Words.Find.whereNone }
        guard let accuracy = place.accuracyM else { return place.name }
        let within = Int(accuracy.rounded())
        return desk.better.isImproving(page)
            ? Words.Find.whereImproving(place: place.name, metres: within) : Words.Find.whereWithin(place: place.name, metres: within)
    }
}
