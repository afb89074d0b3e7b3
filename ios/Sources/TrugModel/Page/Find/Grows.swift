import TrugCore

/// What it grows on, by which tree, in what ground, and how.
@MainActor final class Grows: Section {
    private unowned let desk: Find
    private var unfit: [String] = []
    private var sureness: String?
    private lazy var host = Field(Words.Find.host) { [unowned self] field, typed in tree(typed, sureness) { field.refused() } }
    private lazy var habitat = Field(Words.Find.habitat) { [unowned desk] field, typed in desk.amend("habitat", typed) { field.refused() } }

    init(_ desk: Find) {
        self.desk = desk
    }

    func show(_ page: FindPage) {
        unfit = page.fields.hazards
        sureness = page.fields.hostSure
        host.show(page.fields.host ?? "")
        habitat.show(page.fields.habitat ?? "")
    }

    func print(_ page: FindPage, into body: inout Column) {
        let fields = page.fields
        body.head(Words.Find.grows)
        choice("on", fields.on, &body)
        body.part(Words.Find.host)
        body.put(.field(host))
        body.words(Words.Find.hostSure, .quiet)
        let sure = fields.host == nil ? nil : fields.hostSure
        body.put(
            States.choice(Words.choices("host-sure"), Set([sure].compactMap { $0 })) { [self] how, isChosen in
                sureness = isChosen ? how : nil
                tree(host.typed, sureness)
            })
        body.part(Words.Find.growth)
        choice("growth", fields.growth, &body)
        body.part(Words.Find.ground)
        choice("ground", fields.ground, &body)
        body.part(Words.Find.hazards)
        body.put(States.choice(Words.choices("hazards"), Set(fields.hazards)) { [self] hazard, _ in touch(hazard) })
        body.put(.field(habitat))
    }

    func flush() {
        for field in [host, habitat] { field.flush() }
    }

    private func choice(_ field: String, _ chosen: String?, _ body: inout Column) {
        body.put(
            States.choice(Words.choices(field), Set([chosen].compactMap { $0 })) { [desk] word, isChosen in
                desk.amend(field, isChosen ? word : nil)
            })
    }

    /// Two touches may be quicker than one answer.
    private func touch(_ hazard: String) {
        unfit = unfit.contains(hazard) ? unfit.filter { $0 != hazard } : unfit + [hazard]
        desk.amend("hazards", unfit.joined(separator: ","))
    }

    /// How the core reads how sure somebody is of a tree.
    private func tree(_ tree: String, _ how: String?, refused: @escaping @MainActor () -> Void = {}) {
        let mark = ["guess": "?", "sure": "!"][how ?? ""] ?? ""
        desk.amend("host", tree.isEmpty ? nil : tree + mark, refused: refused)
    }
}
