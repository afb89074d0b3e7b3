import Foundation
import Observation
import TrugCore

/// The first page: the outing that is on, and all that hangs off it.
@MainActor @Observable final class Now: Page {
    let title = Words.Now.title
    @ObservationIgnored private unowned let house: House
    private var starting: Starting?
    private var read: Result<Told, any Error>?
    @ObservationIgnored private var readAt = ContinuousClock.now
    @ObservationIgnored private var isWaiting = false

    /// Whether what was read last was asked from somewhere.
    private var isPlaced = false

    /// What the core told.
    private struct Told: Sendable {
        let now: NowPage
        let opening: OpeningReport
    }

    private struct Remembered: Codable {
        var starting: String?
    }

    init(_ house: House, _ saved: Data?) {
        self.house = house
        if let before = Kept.read(Remembered.self, saved)?.starting { starting = begun(before) }
    }

    func save() -> Data? { Kept.write(Remembered(starting: starting?.place.text)) }

    func shown() {
        look()
        house.position.listen { [weak self] _ in
            guard let self else { return }
            if !isPlaced || ContinuousClock.now - readAt > .seconds(5) { look() }
        }
    }

    func left() { house.position.stop() }

    func back() -> Bool {
        guard starting != nil else { return false }
        starting = nil
        return true
    }

    private func look() {
        readAt = .now
        let here = house.position.best?.fix
        isPlaced = here != nil
        house.core.make {
            Told(now: try $0.now(here: here), opening: try $0.opening())
        } then: { [weak self] in
            self?.read = $0
        }
    }

    // ---- What it shows

    var leaves: [String] { starting == nil ? ["now"] : ["now", "starting"] }

    func leaf(_ at: Int) -> Leaf {
        if at > 0, let starting { return starting.leaf }
        switch read {
        case nil: return Leaf(said: title, body: Column(.saying(Saying(words: Words.App.busy, tone: .quiet))).lines, thumb: thumb)
        case .failure(let error): return .failed(title, error) { [weak self] in self?.look() }
        case .success(let told): return Leaf(said: title, body: body(told), thumb: thumb)
        }
    }

    private func body(_ told: Told) -> [Line] {
        let lines = Lines(now: told.now, writing: house.writing)
        var body = Column()
        for (head, said) in [(Words.Now.lost, told.opening.lost), (Words.Now.mended, told.opening.mended)] where !said.isEmpty {
            body.put(.subhead(head))
            for one in said { body.words(one.words) }
        }
        for line in lines.outing() { body.put(line) }
        outing(told.now.outing, &body)
        body.part(Words.Now.basket)
        for line in lines.basket() { body.put(line) }
        body.part(Words.Now.light)
        if let light = lines.light() { body.put(.saying(light)) } else { whereabouts(&body) }
        body.part(Words.Now.patches)
        if told.now.patches.isEmpty { body.words(noPatches, .quiet) }
        for patch in told.now.patches { body.put(.way(lines.patch(patch))) }
        if !told.now.waiting.isEmpty { body.part(Words.Now.waiting) }
        for waiting in told.now.waiting { body.put(.row(lines.waiting(waiting, open: open))) }
        body.part(Words.Now.finds)
        if told.now.finds.isEmpty { body.words(Words.Now.findsNone, .quiet) }
        for find in told.now.finds { body.put(.row(lines.find(find, open: open))) }
        body.part(Words.Now.more)
        for door in Door.all { body.touch(door.words) { [house] in house.go(Stop(door.place)) } }
        body.part(Words.App.look)
        let looks = Look.allCases.map { Offered(id: $0.rawValue, label: $0.words) }
        body.put(States.choice(looks, [house.look.rawValue]) { [house] name, _ in Look(rawValue: name).map { house.look = $0 } })
        return body.lines
    }

    private func outing(_ outing: OutingShown?, _ body: inout Column) {
        if outing == nil {
            body.touch(Words.Now.start) { [weak self] in self?.starting = self?.begun("") }
        } else {
            body.touch(Words.Now.end) { [weak self] in
                self?.once {
                    try $0.endOuting()
                } then: { _ in
                    self?.look()
                }
            }
        }
    }

    /// Where the phone is, as far as anybody may know; with the way to let Trug know.
    private func whereabouts(_ body: inout Column) {
        if house.position.isAllowed {
            body.words(Words.Now.noFix, .quiet)
        } else {
            body.words(Words.Now.noPosition, .quiet)
            body.touch(Words.Now.askPosition) { [house] in house.askPosition() }
        }
    }

    /// What is said where no patch is near.
    private var noPatches: String {
        if isPlaced { return Words.Now.patchesNone }
        return house.position.isAllowed ? Words.Now.noFix : Words.Now.noPosition
    }

    private var thumb: [Line] {
        var thumb = Column(.touch(Touch(Words.Now.photograph, .thumb) { [house] in house.photograph(Purpose(find: nil, role: "whole")) }))
        thumb.beside(
            .touch(Touch(Words.Now.without) { [weak self] in self?.begin() }),
            .touch(Touch(Words.Now.choose) { [house] in house.photograph(Purpose(find: nil, role: "whole"), choose: true) }))
        return thumb.lines
    }

    // ---- What is done on it

    private func open(_ find: String) { house.go(Stop(.find, find: find)) }

    /// A find without a photo.
    private func begin() {
        let here = house.position.best?.fix
        once {
            try $0.beginFind(photo: nil, role: "whole", fix: here)
        } then: { [house] in
            house.go(Stop(.find, find: $0.id, isStanding: true))
        }
    }

    private func begun(_ before: String) -> Starting {
        Starting(before) { [weak self] place, mayPick in self?.start(place, mayPick) }
    }

    /// The outing begins with its answer to "may I pick here?"; and the first one with whether the position may be used.
    private func start(_ place: String, _ mayPick: String) {
        let isFirst = once {
            try $0.startOuting(place: place, mayPick: mayPick)
        } then: { [weak self] _ in
            self?.starting = nil
            self?.look()
        }
        if isFirst, !house.position.isAllowed, !house.position.wasAsked { house.askPosition() }
    }

    /// What a second touch must not do again before the first is answered; whether this is the first.
    @discardableResult
    private func once<T: Sendable>(_ call: @escaping @Sendable (Book) throws -> T, then: @escaping @MainActor (T) -> Void) -> Bool {
        if isWaiting { return false }
        isWaiting = true
        house.core.make(call) { [weak self] answered in
            self?.isWaiting = false
            switch answered {
            case .success(let value): then(value)
            case .failure(let error): self?.house.complain(error)
            }
        }
        return true
    }
}

extension Leaf {
    /// Something is being asked of the core.
    @MainActor static func busy(_ said: String) -> Leaf {
        Leaf(said: said, body: Column(.saying(Saying(words: Words.App.busy, tone: .quiet))).lines)
    }

    /// What could not be read, and the way to try again.
    @MainActor static func failed(_ said: String, _ error: any Error, again: @escaping @MainActor () -> Void) -> Leaf {
        Leaf(
            said: said, body: Column(.saying(Saying(words: Words.sentence(error), tone: .plain))).lines,
            thumb: Column(.touch(Touch(Words.App.tryAgain, .thumb, act: again))).lines)
    }
}
