import Observation
import TrugCore

/// A field for a name, and the names that fit what is typed into it.
@MainActor @Observable final class Lookup {
    @ObservationIgnored private let core: Core
    @ObservationIgnored private let complain: @MainActor (any Error) -> Void
    @ObservationIgnored private let told: @MainActor (String) -> Void
    @ObservationIgnored private(set) var entry = Field(Words.Names.hint, .name, opens: true)
    private var found: (text: String, names: [NameShown])?
    @ObservationIgnored private var asked = ""

    init(
        _ core: Core, begin: String, complain: @escaping @MainActor (any Error) -> Void,
        told: @escaping @MainActor (String) -> Void = { _ in }
    ) {
        self.core = core
        self.complain = complain
        self.told = told
        entry.typing = { [weak self] in self?.typed($0) }
        entry.begin(begin)
        look()
    }

    private func typed(_ text: String) {
        told(text)
        look()
    }

    private func look() {
        let text = entry.text
        asked = text
        guard !entry.typed.isEmpty else {
            found = nil
            return
        }
        core.make {
            try $0.names(typed: text, most: 20)
        } then: { [weak self] names in
            guard let self, asked == text else { return }
            switch names {
            case .success(let names): found = (entry.typed, names)
            case .failure(let error): complain(error)
            }
        }
    }

    /// The names that fit, a row each; where none does, that, and what else is offered.
    func lines(into body: inout Column, orElse: (String) -> Touch? = { _ in nil }, chosen: @escaping @MainActor (NameShown) -> Void) {
        guard let found else { return }
        for name in found.names { body.put(.row(Row(name.english, name.latin) { chosen(name) })) }
        guard found.names.isEmpty else { return }
        body.words(Words.Names.none)
        body.put(orElse(found.text).map(Print.touch))
    }
}
