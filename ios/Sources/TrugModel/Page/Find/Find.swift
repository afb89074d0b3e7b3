import Foundation
import Observation
import TrugCore

/// The leaves of a find.
enum Part: String, Codable {
    case all, why, photo, roles, names, ages, `where`, grows, note
}

/// Something that a leaf shows. It is made once; what it shows changes with the find.
@MainActor protocol Section: AnyObject {
    /// What is on record now, for the fields.
    func show(_ page: FindPage)

    /// Its lines.
    func print(_ page: FindPage, into body: inout Column)

    /// Keeps what is typed and not kept yet.
    func flush()

    /// Its leaf is left for another.
    func leave()

    /// What it remembers besides what is kept.
    func save() -> Data?
}

extension Section {
    func show(_ page: FindPage) {}
    func flush() {}
    func leave() { flush() }
    func save() -> Data? { nil }
}

/// A find. Everything on it is kept at once, and the core answers every touch with the whole find as it then is: its advice stays
/// in view above while counts are typed below.
@MainActor @Observable final class Find: Page {
    let title = Words.Find.title
    @ObservationIgnored unowned let house: House
    @ObservationIgnored let find: String
    @ObservationIgnored private(set) var better: Better
    private var part: Part
    private var photo: String?
    private var read: FindPage?
    private var failed: (any Error)?
    /// Those of the first leaf, and those of the leaf that stands before it.
    private var first: [any Section] = []
    private var further: [any Section] = []
    @ObservationIgnored private var latest = 0
    @ObservationIgnored private var waiting = 0

    /// Nothing is listened for behind another page: whoever has walked on must not take the find along.
    @ObservationIgnored private var inFront = false
    @ObservationIgnored private var remembered: Data?

    private struct Remembered: Codable {
        var part: Part
        var photo: String?
        var section: Data?
    }

    init(_ house: House, _ find: String, isStanding: Bool, _ saved: Data?) {
        self.house = house
        self.find = find
        let before = Kept.read(Remembered.self, saved)
        part = before?.part ?? .all
        photo = before?.photo
        remembered = before?.section
        better = Better(house.position, find, isStanding: isStanding)
        better.quietly = { [weak self] in self?.quietly($0) }
    }

    func save() -> Data? {
        Kept.write(Remembered(part: part, photo: photo, section: remembered ?? further.lazy.compactMap { $0.save() }.first))
    }

    // ---- Coming and going

    func shown() {
        inFront = true
        // It may be listened for otherwise now: its owner may have been asked.
        better.stop()
        quietly { [find] in try $0.findPage(id: find) }
    }

    func left() {
        inFront = false
        for section in first + further { section.flush() }
        better.stop()
    }

    func back() -> Bool {
        if part == .all { return false }
        turn(.all)
        return true
    }

    /// Another leaf.
    func turn(_ to: Part, photo: String? = nil) {
        for section in first + further { section.leave() }
        further = []
        part = to
        self.photo = photo
        if let read { show(read) }
    }

    // ---- What is done to it

    /// Sets a field, or empties it.
    func amend(_ field: String, _ value: String?, refused: @escaping @MainActor () -> Void = {}) {
        let value = value?.isEmpty == true ? nil : value
        act({ [find] in try $0.amendFind(id: find, values: [FieldValue(field: field, value: value)]) }, refused: refused)
    }

    /// Anything else that the core does to the find.
    func act(_ call: @escaping @Sendable (Book) throws -> FindPage, refused: @escaping @MainActor () -> Void = {}) {
        waiting += 1
        make(call) { [weak self] isDone in
            guard let self else { return }
            waiting -= 1
            if !isDone { refused() } else if inFront { house.complain(nil) }
        }
    }

    /// The same, where a second touch would do it twice, or to what nobody has seen yet: not while an answer is awaited.
    func once(_ call: @escaping @Sendable (Book) throws -> FindPage) {
        if waiting > 0 { return }
        for section in first + further { section.flush() }
        act(call)
    }

    /// The same, where nobody asked for it: what was said of the last touch goes on being said.
    func quietly(_ call: @escaping @Sendable (Book) throws -> FindPage) {
        make(call) { _ in }
    }

    private func make(_ call: @escaping @Sendable (Book) throws -> FindPage, then: @escaping @MainActor (Bool) -> Void) {
        latest += 1
        let number = latest
        house.core.make(call) { [weak self] answered in
            guard let self else { return }
            switch answered {
            case .success(let page):
                read = page
                then(true)
            case .failure(let error):
                if read == nil { failed = error } else { house.complain(error) }
                then(false)
            }
            // A slower answer never overtakes quicker fingers; after a refusal what is on record is shown again.
            if number == latest, let read { show(read) }
        }
    }

    private func show(_ page: FindPage) {
        // A photo that was taken off has no leaf any more.
        if part == .photo, !page.photos.contains(where: { $0.id == photo }) {
            part = .all
            further = []
        }
        if first.isEmpty { first = [Photos(self), Naming(self), Counts(self), Signs(self), Taking(self), Rows(self)] }
        if further.isEmpty { further = sections(part) }
        for section in first + further { section.show(page) }
        if inFront { better.watch(page, always: part == .where) }
    }

    private func sections(_ part: Part) -> [any Section] {
        switch part {
        case .all: []
        case .why: [Why(self)]
        case .photo: [OnePhoto(self, photo)]
        case .roles: [Roles(self)]
        case .names: [NamesGiven(self)]
        case .ages: [Ages(self)]
        case .where: [Whereabouts(self, remembered.take())]
        case .grows: [Grows(self)]
        case .note: [Note(self)]
        }
    }

    // ---- What it shows

    var leaves: [String] { part == .all ? [Part.all.rawValue] : [Part.all.rawValue, part.rawValue] }

    func leaf(_ at: Int) -> Leaf {
        guard let read else {
            return failed.map { .failed(title, $0) { [weak self] in self?.shown() } } ?? .busy(title)
        }
        var body = Column()
        // While a swipe shows where it leads, the first leaf is seen beneath the other.
        for section in at == 0 ? first : further { section.print(read, into: &body) }
        let shown = at == 0 ? .all : part
        return Leaf(said: title, above: Column(advice(read, shown)).lines, body: body.lines, thumb: thumb(read, shown))
    }

    /// The advice, the answer first: always in view. Touched, it says why. At length where the rest of it is read.
    private func advice(_ page: FindPage, _ part: Part) -> Print {
        let isWhy = part == .why
        let first = Saying(words: isWhy ? page.advice.firstLine : page.advice.brief, tone: .strong)
        let lines = isWhy ? [first] : [first, Saying(words: Words.Find.why, tone: .plain)]
        return .band(
            Band(
                lines: lines, said: Words.Find.whyOpen(advice: page.advice.firstLine), isEdged: page.advice.kind == .leave
            ) { [weak self] in self?.turn(.why) })
    }

    /// The last thing taken back, and the one thing to do next.
    private func thumb(_ page: FindPage, _ part: Part) -> [Line] {
        let undo = Touch(Words.App.undo, .tall) { [weak self, find] in self?.once { try $0.undo(id: find) } }
        let next = part == .all ? Next(page).touch(self, page) : Touch(Words.App.done, .thumb) { [weak self] in self?.turn(.all) }
        var thumb = Column()
        thumb.beside(page.canUndo ? .touch(undo) : nil, .touch(next))
        return thumb.lines
    }
}

extension Optional {
    /// What was there, which then is there no more.
    fileprivate mutating func take() -> Wrapped? {
        defer { self = nil }
        return self
    }
}
