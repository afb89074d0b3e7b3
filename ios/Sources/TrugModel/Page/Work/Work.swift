import Foundation
import Observation
import TrugCore

/// *Work it out*: turns between its leaves, and asks the key whenever an answer changes, which keeps the answers beside the find.
/// What else is remembered is in `Asking`. Only the answer to the latest question put to the key is shown, so slow answers never
/// overtake quick fingers.
@MainActor @Observable final class Work: Page {
    let title = Words.Work.title
    @ObservationIgnored unowned let house: House
    @ObservationIgnored private let find: String?
    @ObservationIgnored private let suspect: String?
    private(set) var asking: Asking?
    private var page: KeyPage?
    var question: Question? { page?.question }
    private var failed: (any Error)?
    @ObservationIgnored private var latest = 0
    @ObservationIgnored private var isWaiting = false
    @ObservationIgnored private(set) lazy var size = Size(self)
    private(set) var names: Lookup?

    init(_ house: House, _ find: String?, _ suspect: String?, _ saved: Data?) {
        self.house = house
        self.find = find
        self.suspect = suspect
        asking = Kept.read(Asking.self, saved)
        begin()
    }

    func save() -> Data? { asking.flatMap(Kept.write) }

    func shown() {}

    func left() {}

    func back() -> Bool {
        guard let before = asking?.back() else { return false }
        turn { _ in before }
        return true
    }

    // ---- The key

    private func begin() {
        failed = nil
        let (remembered, find, suspect) = (asking, find, suspect)
        ask {
            if let asked = remembered?.asked { try $0.keyStep(asked: asked) } else { try $0.keyBegin(find: find, suspect: suspect) }
        } then: { [weak self] answered in
            switch answered {
            case .success(let page):
                self?.asking = remembered ?? .begun(page)
                self?.show(page)
            case .failure(let error): self?.failed = error
            }
        }
    }

    /// A touch: what is remembered next. If that changes what the key is told, the key is asked, and then the leaf drawn.
    func turn(_ next: (Asking) -> Asking) {
        guard let before = asking else { return }
        // A second tap on a question that is answered already is no second answer.
        if isWaiting, before.leaf != .sheet { return }
        house.complain(nil)
        let after = next(before)
        asking = after
        guard after.asked != before.asked else {
            if let page { show(page) }
            return
        }
        let (find, asked) = (find, after.asked)
        ask {
            if let find { try $0.keyGoOn(find: find, asked: asked) } else { try $0.keyStep(asked: asked) }
        } then: { [weak self] answered in
            guard let self else { return }
            switch answered {
            case .success(let page):
                asking = asking?.told(page)
                show(page)
            case .failure(let error):
                asking = before
                house.complain(error)
            }
        }
    }

    /// The same, where the view shows it already: letters in a field.
    func remember(_ next: (Asking) -> Asking) {
        asking = asking.map(next)
    }

    /// Keeps what the key says with the find; none where there is no find.
    var keep: (@MainActor () -> Void)? {
        guard let find else { return nil }
        return { [weak self] in self?.keep(with: find) }
    }

    private func keep(with find: String) {
        // Kept once, however often it is touched.
        guard let asked = asking?.asked, !isWaiting else { return }
        ask {
            try $0.keyKeep(find: find, asked: asked)
        } then: { [weak self] answered in
            guard let self else { return }
            switch answered {
            case .success: house.leave(self)
            case .failure(let error): house.complain(error)
            }
        }
    }

    private func ask<T: Sendable>(_ call: @escaping @Sendable (Book) throws -> T, then: @escaping @MainActor (Result<T, any Error>) -> Void)
    {
        latest += 1
        let number = latest
        isWaiting = true
        house.core.make(call) { [weak self] answered in
            guard let self, number == latest else { return }
            isWaiting = false
            then(answered)
        }
    }

    private func show(_ page: KeyPage) {
        self.page = page
        guard let asking else { return }
        size.begin(asking)
        if asking.leaf != .names {
            names = nil
        } else if names == nil {
            names = Lookup(house.core, begin: asking.typed) { [weak self] in
                self?.house.complain($0)
            } told: { [weak self] typed in
                self?.remember { $0.with { $0.typed = typed } }
            }
        }
    }

    // ---- What it shows

    /// What was asked before, leaf by leaf, the first leaf first.
    private var steps: [Asking] {
        guard let asking else { return [] }
        // A doubt is taken back by Back, and is no leaf of its own: the question stands where it stood.
        return sequence(first: asking) { $0.back() }.reduce(into: []) { steps, before in
            if steps.last?.leaf != before.leaf { steps.append(before) }
        }.reversed()
    }

    var leaves: [String] {
        asking == nil ? [WorkLeaf.sheet.rawValue] : steps.map(\.leaf.rawValue)
    }

    func leaf(_ at: Int) -> Leaf {
        guard let page, steps.indices.contains(at) else {
            return failed.map { .failed(title, $0) { [weak self] in self?.begin() } } ?? .busy(title)
        }
        let asking = steps[at]
        return switch asking.leaf {
        case .sheet: sheetLeaf(page)
        case .names: namesLeaf(asking)
        case .question: questionLeaf(asking, page)
        case .others: othersLeaf(page)
        case .answers: answersLeaf(page)
        case .end: endLeaf(asking, page)
        }
    }
}
