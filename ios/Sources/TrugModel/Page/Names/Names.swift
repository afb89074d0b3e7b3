import Foundation
import Observation
import TrugCore

/// A name is looked up: to be checked by the key, or on the word of somebody who knows.
@MainActor @Observable final class Names: Page {
    let title: String
    @ObservationIgnored private unowned let house: House
    @ObservationIgnored private let find: String
    @ObservationIgnored private let isToCheck: Bool
    private var how: String
    @ObservationIgnored private let who = Field(Words.Names.who)
    @ObservationIgnored private let names: Lookup

    /// A name is given once, however often it is touched.
    @ObservationIgnored private var isTaken = false

    private struct Remembered: Codable {
        var typed: String
        var how: String
        var who: String
    }

    init(_ house: House, _ find: String, isToCheck: Bool, _ saved: Data?) {
        self.house = house
        self.find = find
        self.isToCheck = isToCheck
        title = isToCheck ? Words.Names.think : Words.Names.know
        let remembered = Kept.read(Remembered.self, saved)
        how = remembered?.how ?? Self.ways[0]
        names = Lookup(house.core, begin: remembered?.typed ?? "") { [unowned house] in house.complain($0) }
        who.begin(remembered?.who ?? "")
    }

    func save() -> Data? { Kept.write(Remembered(typed: names.entry.text, how: how, who: who.text)) }

    func shown() {}

    func left() {}

    func back() -> Bool { false }

    let leaves = ["names"]

    func leaf(_ at: Int) -> Leaf {
        var body = Column(.field(names.entry))
        if isToCheck {
            body.words(Words.Names.thinkHelp)
        } else {
            body.words(Words.Names.how, .quiet)
            body.put(States.choice(Words.choices("how", of: Self.ways), [how]) { [weak self] way, _ in self?.how = way })
            if how == Self.told { body.put(.field(who)) }
        }
        names.lines(into: &body, orElse: asTyped) { [weak self] in self?.take($0.id) }
        return Leaf(said: title, body: body.lines)
    }

    /// A name that no pack knows is a name all the same; the key can do nothing with it.
    private func asTyped(_ name: String) -> Touch? {
        isToCheck ? nil : Touch(Words.Names.asTyped(name: name)) { [weak self] in self?.take(name) }
    }

    private func take(_ name: String) {
        if isToCheck {
            house.turnInto(Stop(.work, find: find, suspect: name))
            return
        }
        if isTaken { return }
        isTaken = true
        let told = how == Self.told && !who.typed.isEmpty ? who.typed : nil
        house.core.make { [find, how] in
            try $0.nameFind(id: find, name: name, how: how, sure: nil, who: told)
        } then: { [weak self] named in
            guard let self else { return }
            isTaken = false
            switch named {
            case .success: house.leave(self)
            case .failure(let error): house.complain(error)
            }
        }
    }

    private static let told = "told"

    /// The ways that are somebody's word; the key has its own page.
    private static let ways = ["sight", told, "spore-print", "microscope"]
}
