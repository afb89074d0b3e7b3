import TrugCore

/// The rest of a find, a row each: where, growing on, ages, note, patch.
@MainActor final class Rows: Section {
    private unowned let desk: Find

    init(_ desk: Find) {
        self.desk = desk
    }

    func print(_ page: FindPage, into body: inout Column) {
        body.put(.rule)
        row(Words.Find.where, Whereabouts.place(desk, page), .where, &body)
        row(Words.Find.grows, grows(page.fields), .grows, &body)
        let ages = Words.listed(
            page.fields.stages.map { Words.Find.ageCount(stage: Words.called("stages", $0.stage), number: Int($0.count)) })
        row(Words.Find.ages, ages.isEmpty ? Words.Find.agesNone : ages, .ages, &body)
        row(Words.Find.note, page.fields.note ?? Words.Find.noteNone, .note, &body)
        patch(page, &body)
        if !page.deleted {
            body.touch(Words.Share.find) { [desk] in desk.house.go(Stop(.share, find: desk.find)) }
            body.touch(Words.Find.delete) { [desk] in desk.act { [find = desk.find] in try $0.deleteFind(id: find) } }
        }
    }

    private func row(_ head: String, _ about: String, _ to: Part, _ body: inout Column) {
        body.put(.row(Row(head, about) { [desk] in desk.turn(to) }))
    }

    private func grows(_ fields: FindFields) -> String {
        let words = [
            fields.on.map { Words.called("on", $0) },
            fields.host,
            fields.ground.map { Words.called("ground", $0) },
            fields.growth.map { Words.called("growth", $0) },
        ]
        let listed = Words.listed(words + fields.hazards.map { Words.called("hazards", $0) })
        return listed.isEmpty ? Words.Find.growsNone : listed
    }

    private func patch(_ page: FindPage, _ body: inout Column) {
        body.part(Words.Find.patch)
        if let joined = page.patch { return body.words(Words.Find.patchIn(name: joined.name ?? Words.Find.patchUnnamed)) }
        for choice in page.patchChoices {
            let words = Words.Find.patchJoin(name: choice.name ?? Words.Find.patchUnnamed, metres: Writing.rounded(choice.metres ?? 0))
            body.touch(words) { [desk] in desk.act { [find = desk.find] in try $0.joinPatch(id: find, patch: choice.id) } }
        }
        if page.place != nil {
            body.touch(Words.Find.patchFound) { [desk] in desk.once { [find = desk.find] in try $0.foundPatch(id: find, name: nil) } }
        }
    }
}

/// Anything else, and who gathered it.
@MainActor final class Note: Section {
    private unowned let desk: Find
    private lazy var note = Field(Words.Find.noteNone, .lines) { [unowned desk] field, typed in
        desk.amend("note", typed) { field.refused() }
    }
    private lazy var by = Field(Words.Find.by) { [unowned desk] field, typed in desk.amend("by", typed) { field.refused() } }

    init(_ desk: Find) {
        self.desk = desk
    }

    func show(_ page: FindPage) {
        note.show(page.fields.note ?? "")
        by.show(page.fields.by ?? "")
    }

    func print(_ page: FindPage, into body: inout Column) {
        body.head(Words.Find.note)
        body.put(.field(note))
        body.put(.field(by))
    }

    func flush() {
        for field in [note, by] { field.flush() }
    }
}
