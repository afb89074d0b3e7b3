import TrugCore

/// What was found, as rows that open: used by search, and by the page of a kind.
@MainActor struct Found {
    let house: House
    private var writing: Writing { house.writing }

    /// Finds, those that are only nearly as asked for under a line that says so; below them the way to more.
    func finds(_ finds: [FindFound], left: UInt32, _ body: inout Column, more: @escaping @MainActor () -> Void) {
        rows(finds, \.nearly, &body) { .row(find($0)) }
        if left > 0 { body.touch(Words.Search.moreFinds(count: Int(left)), more) }
    }

    /// Patches, likewise.
    func patches(_ patches: [PatchFound], left: UInt32, _ body: inout Column) {
        rows(patches, \.nearly, &body, patch)
        if left > 0 { body.words(Words.Search.more(count: Int(left)), .quiet) }
    }

    /// Kinds, of which the pages of their own tell more.
    func kinds(_ kinds: [NameShown], left: UInt32 = 0, _ body: inout Column) {
        for one in kinds { body.put(.row(kind(one))) }
        if left > 0 { body.words(Words.Search.more(count: Int(left)), .quiet) }
    }

    private func rows<T>(_ found: [T], _ nearly: (T) -> Bool, _ body: inout Column, _ print: (T) -> Print) {
        let first = found.firstIndex(where: nearly)
        for (at, one) in found.enumerated() {
            if at == first { body.words(Words.Search.nearly, .quiet) }
            body.put(print(one))
        }
    }

    private func find(_ found: FindFound) -> Row {
        let find = found.find
        let about = Words.joined([
            find.name.flatMap(danger), find.name != nil && !find.settled ? Words.Find.nameOpen : nil, find.at.map { writing.day($0.day) },
            found.host, found.outing, found.patch, found.passage,
        ])
        return Row(Lines.name(find.name), about, picture: find.thumbnail) { [house] in house.go(Stop(.find, find: find.id)) }
    }

    /// Until patches have a page of their own here, they are told and do not open.
    private func patch(_ found: PatchFound) -> Print {
        let kind = found.kind?.english
        let name = found.name ?? kind ?? Words.Now.patchUnnamed
        let about = Words.joined([
            kind == name ? nil : kind, found.host, found.on.map { Words.called("on", $0) },
            found.metres.map { writing.way($0, found.bearing) }, found.restsUntil.map { Words.Now.rests(day: writing.day($0)) },
        ])
        return .column(Column(.saying(Saying(words: name, tone: .strong)), .saying(Saying(words: about, tone: .quiet))).lines)
    }

    private func kind(_ kind: NameShown) -> Row {
        let about = Words.joined([kind.latin == kind.english ? nil : kind.latin, danger(kind)])
        return Row(kind.english, about) { [house] in house.go(Stop(.kind, about: kind.id)) }
    }

    /// What is said beside a dangerous name; nothing else is said of any.
    private func danger(_ name: NameShown) -> String? {
        switch name.danger {
        case .deadly: Words.Kind.killed
        case .harmful: Words.Kind.harms
        default: nil
        }
    }
}
