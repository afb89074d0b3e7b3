import TrugCore

/// Who ate, the well included: each by name or initials, a child or not, how they feel, when and with what signs it began.
@MainActor final class Eaters {
    private unowned let bedside: Ill
    private let keep: @MainActor ([EaterNoted]) -> Void
    private lazy var name = Field(Words.Ill.name, .name)
    private var shown: [EaterNoted] = []
    /// The fields of their signs, by name: what is being typed in one stays.
    private var signs: [String: Field] = [:]

    init(_ bedside: Ill, keep: @escaping @MainActor ([EaterNoted]) -> Void) {
        self.bedside = bedside
        self.keep = keep
        name.done = { [unowned self] in add() }
    }

    /// Who is noted now.
    func show(_ eaters: [EaterNoted]) {
        shown = eaters
        signs = signs.filter { name, _ in eaters.contains { $0.name == name } }
        for eater in eaters {
            let field =
                signs[eater.name] ?? Field(Words.Ill.signs, .lines) { [unowned self] _, typed in change(eater.name) { $0.signs = typed } }
            field.show(eater.signs ?? "")
            signs[eater.name] = field
        }
    }

    func flush() {
        for field in signs.values { field.flush() }
        // A name that was typed is meant, with or without the button.
        add()
    }

    func print(into body: inout Column) {
        for eater in shown { print(eater, &body) }
        body.put(.field(name))
        body.touch(Words.Ill.add) { [self] in add() }
    }

    private func print(_ eater: EaterNoted, _ body: inout Column) {
        body.words(eater.name, .strong)
        let child = "child"
        let offered = Words.choices("feels") + [Offered(id: child, label: Words.Ill.child)]
        let chosen = Set([eater.feels] + (eater.child ? [child] : []))
        body.put(
            States.choice(offered, chosen, of: eater.name) { [self] word, isChosen in
                change(eater.name) {
                    if word == child { $0.child = isChosen } else { $0.feels = isChosen ? word : "unknown" }
                }
            })
        if eater.feels == "ill" {
            let begun = eater.firstSign.map { Words.Ill.firstSignAt(when: bedside.told($0.shown, now: nil)) } ?? Words.Ill.firstSign
            body.touch(begun) { [self] in
                bedside.house.askTime(Words.Ill.firstSign, from: eater.firstSign) { [self] at in change(eater.name) { $0.firstSign = at } }
            }
            body.put(signs[eater.name].map(Print.field))
        }
        body.touch(Words.Ill.takeOff(name: eater.name)) { [self] in keep(shown.filter { $0.name != eater.name }) }
    }

    private func add() {
        let typed = name.typed
        if typed.isEmpty || shown.contains(where: { $0.name.lowercased() == typed.lowercased() }) { return }
        name.forget("")
        keep(shown + [EaterNoted(name: typed, child: false, feels: "unknown", firstSign: nil, signs: nil)])
    }

    private func change(_ name: String, _ change: (inout EaterNoted) -> Void) {
        var eaters = shown
        for at in eaters.indices where eaters[at].name == name { change(&eaters[at]) }
        keep(eaters)
    }
}
