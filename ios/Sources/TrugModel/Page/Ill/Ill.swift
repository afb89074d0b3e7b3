import Foundation
import Observation
import TrugCore

/// The leaves of the page.
enum IllLeaf: String, Codable {
    case help, country, sources, sheet, meal
}

/// *Someone is ill*. What to do and whom to ring stand here before anything is loaded, and when the notebook will not open.
@MainActor @Observable final class Ill: Page {
    let title = Words.Ill.title
    @ObservationIgnored unowned let house: House
    private var at: IllLeaf
    private var country: String?
    @ObservationIgnored private var about: String?
    private(set) var read: Result<IllPage, any Error>?
    private var sheet: Result<DoctorSheet, any Error>?
    private var meal: Meal?

    private struct Remembered: Codable {
        var leaf: IllLeaf
        var country: String?
        var about: String?
    }

    init(_ house: House, _ saved: Data?) {
        self.house = house
        let before = Kept.read(Remembered.self, saved)
        at = before?.leaf ?? .help
        country = before?.country ?? house.system.country
        about = before?.about
        if at == .sheet { readSheet() }
    }

    func save() -> Data? { Kept.write(Remembered(leaf: at, country: country, about: meal?.id ?? about)) }

    func shown() { look() }

    func left() { meal?.flush() }

    func back() -> Bool {
        if at == .help { return false }
        meal?.flush()
        turn(.help)
        return true
    }

    /// Another leaf; `about` is the meal that it is about.
    func turn(_ to: IllLeaf, about: String? = nil) {
        house.complain(nil)
        at = to
        self.about = about
        meal = nil
        switch to {
        case .help, .meal:
            begin()
            look()
        case .sheet: readSheet()
        case .country, .sources: break
        }
    }

    /// Whom to ring is told for another country.
    func live(_ country: String) {
        self.country = country
        turn(.help)
    }

    private func look() {
        house.core.make {
            try $0.ill()
        } then: { [weak self] answered in
            self?.read = answered
            self?.begin()
        }
    }

    /// The meal is drawn as soon as its records are there; another look at them leaves what is typed.
    private func begin() {
        guard at == .meal, case .success(let page)? = read else { return }
        if let meal { meal.show(page) } else { meal = Meal(self, page, about) }
    }

    private func readSheet() {
        sheet = nil
        let asked = about
        house.core.make {
            try $0.doctorSheet(meal: asked)
        } then: { [weak self] answered in
            guard let self, at == .sheet, about == asked else { return }
            sheet = answered
        }
    }

    // ---- What it shows

    var leaves: [String] { at == .help ? [IllLeaf.help.rawValue] : [IllLeaf.help.rawValue, at.rawValue] }

    func leaf(_ index: Int) -> Leaf {
        let help = Help.page(country)
        return switch index == 0 ? .help : at {
        case .help: helpLeaf(help)
        case .country: countryLeaf(help)
        case .sources: sourcesLeaf(help)
        case .sheet: told(sheet, again: readSheet) { sheetLeaf($0) }
        case .meal: told(read, again: look) { _ in meal?.leaf ?? .busy(title) }
        }
    }

    private func told<T>(_ answered: Result<T, any Error>?, again: @escaping @MainActor () -> Void, leaf: (T) -> Leaf) -> Leaf {
        switch answered {
        case nil: .busy(title)
        case .failure(let error): .failed(title, error, again: again)
        case .success(let value): leaf(value)
        }
    }

    /// A day and an hour.
    func told(_ at: When, now: When?) -> String {
        Words.Ill.time(day: house.writing.day(at.day, now: now), hour: house.writing.hour(at))
    }
}
