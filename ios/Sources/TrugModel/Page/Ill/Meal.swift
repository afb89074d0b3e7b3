import Foundation
import Observation
import TrugCore

/// One meal. It is kept as soon as it says what was eaten, and from then on with every touch.
@MainActor @Observable final class Meal {
    @ObservationIgnored private unowned let bedside: Ill
    @ObservationIgnored private let now: When
    @ObservationIgnored private let offered: [FindLine]
    @ObservationIgnored private let making: Making

    /// Its id, once it is kept.
    private(set) var id: String?
    private var kept: MealShown?
    private var noted: MealNoted

    @ObservationIgnored private lazy var what = field(Words.Ill.what, .lines) { $0.what = $1 }
    @ObservationIgnored private lazy var takenFor = field(Words.Ill.takenFor) {
        $0.takenFor = $1.split(separator: ",").map { $0.trimmingCharacters(in: .whitespaces) }.filter { !$0.isEmpty }
    }
    @ObservationIgnored private lazy var amount = field(Words.Ill.amount) { $0.amount = $1 }
    @ObservationIgnored private lazy var others = field(Words.Ill.others, .whole) { $0.others = UInt32($1) }
    @ObservationIgnored private lazy var left = field(Words.Ill.left, .lines) { $0.left = $1 }
    @ObservationIgnored private lazy var note = field(Words.Ill.note, .lines) { $0.note = $1 }
    @ObservationIgnored private lazy var eaters = Eaters(bedside) { [unowned self] eaters in keep { $0.eaters = eaters } }

    /// The id that a meal is given when it is first kept, where calls are made, one after the other.
    private final class Making: @unchecked Sendable {
        var id: String?
    }

    init(_ bedside: Ill, _ page: IllPage, _ meal: String?) {
        self.bedside = bedside
        now = page.now
        offered = page.finds
        making = Making()
        making.id = meal
        id = meal
        let before = page.meals.first { $0.id == meal }
        kept = before
        noted = before?.noted ?? .nothing
        fill()
    }

    /// Another look at the records: what is typed here and not kept yet stays.
    func show(_ page: IllPage) {
        if let meal = page.meals.first(where: { $0.id == id }) { show(meal) }
    }

    func flush() {
        for field in [what, takenFor, amount, others, left, note] { field.flush() }
        eaters.flush()
    }

    private func show(_ meal: MealShown) {
        kept = meal
        id = meal.id
        noted = meal.noted
        fill()
    }

    private func fill() {
        what.show(noted.what ?? "")
        takenFor.show(noted.takenFor.joined(separator: ", "))
        amount.show(noted.amount ?? "")
        others.show(noted.others.map { String($0) } ?? "")
        left.show(noted.left ?? "")
        note.show(noted.note ?? "")
        eaters.show(noted.eaters)
    }

    // ---- Keeping

    private func field(_ label: String, _ kind: Field.Kind = .text, _ set: @escaping (inout MealNoted, String) -> Void) -> Field {
        Field(label, kind) { [unowned self] _, typed in keep { set(&$0, typed) } }
    }

    private func keep(_ change: (inout MealNoted) -> Void) {
        var changed = noted
        change(&changed)
        if changed == noted { return }
        noted = changed
        fill()
        guard changed.saysWhat else { return }
        let meal = changed
        call(meal) { [making] book in
            let kept = try making.id.map { try book.amendMeal(id: $0, meal: meal) } ?? book.noteMeal(meal: meal)
            making.id = kept.id
            return kept
        }
    }

    private func call(_ changed: MealNoted?, _ make: @escaping @Sendable (Book) throws -> MealShown?) {
        bedside.house.core.make(make) { [weak self] answered in
            guard let self else { return }
            switch answered {
            case .success(nil): bedside.turn(.help)
            // What was touched since is on its way.
            case .success(let meal?): if changed == nil || changed == noted { show(meal) }
            // What was noted stays on the page, and goes along with the next touch.
            case .failure(let error): bedside.house.complain(error)
            }
        }
    }

    // ---- What it shows

    var leaf: Leaf {
        var body = Column(.field(what))
        finds(&body)
        if noted.saysWhat { rest(&body) }
        return Leaf(said: Words.Ill.meal, body: body.lines, thumb: thumb)
    }

    private func rest(_ body: inout Column) {
        body.part(Words.Ill.when)
        body.words(noted.at.map { bedside.told($0.shown, now: now) }, .strong)
        body.beside(
            .touch(Touch(Words.Ill.whenNow) { [weak self] in self?.keep { $0.at = At(Date()) } }),
            .touch(
                Touch(Words.Ill.whenOther) { [weak self] in
                    guard let self else { return }
                    bedside.house.askTime(Words.Ill.when, from: noted.at) { [weak self] at in self?.keep { $0.at = at } }
                }))
        body.part(Words.Ill.who)
        eaters.print(into: &body)
        body.put(.field(others))
        body.part(Words.Ill.how)
        body.put(.field(amount))
        choice("prepared", noted.prepared, of: Words.Ill.how, &body) { $0.prepared = $1 }
        body.part(Words.Ill.alcohol)
        choice("alcohol", noted.alcohol, of: Words.Ill.alcohol, &body) { $0.alcohol = $1 }
        body.part(Words.Ill.further)
        for field in [takenFor, left, note] { body.put(.field(field)) }
    }

    private func choice(
        _ field: String, _ chosen: String?, of: String, _ body: inout Column,
        _ set: @escaping @MainActor (inout MealNoted, String?) -> Void
    ) {
        body.put(
            States.choice(Words.choices(field), Set([chosen].compactMap { $0 }), of: of) { [weak self] word, isChosen in
                self?.keep { set(&$0, isChosen ? word : nil) }
            })
    }

    private func finds(_ body: inout Column) {
        var ids: Set<String> = []
        let all = ((kept?.finds ?? []) + offered).filter { ids.insert($0.id).inserted }
        if all.isEmpty { return }
        body.words(Words.Ill.finds, .quiet)
        let eaten = all.filter { noted.finds.contains($0.id) }
        let further = all.filter { !noted.finds.contains($0.id) }.prefix(noted.saysWhat ? 3 : 20)
        for find in eaten {
            body.put(row(find, Words.Ill.findEaten) { $0.finds.removeAll { $0 == find.id } })
        }
        for find in further {
            body.put(row(find, Words.Ill.findNot) { $0.finds.append(find.id) })
        }
    }

    private func row(_ find: FindLine, _ state: (String) -> String, _ change: @escaping @MainActor (inout MealNoted) -> Void) -> Print {
        let day = find.at.map { bedside.house.writing.day($0.day, now: now) } ?? Words.Ill.noTime
        return .row(Row(Lines.name(find.name), state(day), picture: find.thumbnail) { [weak self] in self?.keep(change) })
    }

    private var thumb: [Line] {
        guard kept != nil, let meal = id else {
            return Column(.saying(Saying(words: Words.Ill.keptSoon, tone: .quiet))).lines
        }
        var thumb = Column()
        thumb.beside(
            .touch(
                Touch(Words.App.undo) { [weak self] in
                    self?.flush()
                    self?.call(nil) { try $0.undoMeal(id: meal) }
                }),
            .touch(
                Touch(Words.Ill.sheet, .filled) { [weak self] in
                    self?.flush()
                    self?.bedside.turn(.sheet, about: meal)
                }))
        return thumb.lines
    }
}
