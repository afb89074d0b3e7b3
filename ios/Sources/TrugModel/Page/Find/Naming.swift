import TrugCore

/// What it goes by so far, and the three ways to a name.
@MainActor final class Naming: Section {
    private unowned let desk: Find

    init(_ desk: Find) {
        self.desk = desk
    }

    func print(_ page: FindPage, into body: inout Column) {
        if page.deleted { body.words(Words.Find.deleted, .strong) }
        let name = page.name.name
        // What the key left open has no name yet, and is not what nobody has looked at.
        let isOpen = page.names.contains { !$0.withdrawn }
        body.head(name?.english ?? (isOpen ? Words.Now.waitsSettling : Words.Find.nameNone))
        body.words(name?.latin, .latin)
        if name != nil { body.words(page.name.how.map { Words.called("how", $0) } ?? Words.Find.nameOpen, .quiet) }
        checks(page, &body)
        for warning in page.warnings { body.words(warning.words) }
        if !page.names.isEmpty { body.touch(Words.Find.namesGiven) { [desk] in desk.turn(.names) } }
        // Where it is the next thing to do it stands at the thumb.
        if !Next(page).isWork { body.touch(Words.Find.workOut) { [self] in go(.work) } }
        body.beside(
            .touch(Touch(Words.Names.think) { [self] in go(.think) }),
            .touch(Touch(Words.Names.know) { [self] in go(.know) }))
    }

    private func go(_ place: Place) {
        desk.house.go(Stop(place, find: desk.find))
    }

    /// Somebody's word leaves the look-alikes to be checked, in view.
    private func checks(_ page: FindPage, _ body: inout Column) {
        if page.advice.checks.isEmpty { return }
        let names = page.advice.checks.map { $0.deadly ? Words.Work.dangerKilled(name: $0.name) : $0.name }
        body.put(.row(Row(Words.Find.checkEach, desk.house.writing.all(names)) { [desk] in desk.turn(.why) }))
    }
}

/// Every name that was given, the latest first, and by whom; each can be taken back.
@MainActor final class NamesGiven: Section {
    private unowned let desk: Find

    init(_ desk: Find) {
        self.desk = desk
    }

    func print(_ page: FindPage, into body: inout Column) {
        body.head(Words.Find.namesGiven)
        for given in page.names.reversed() { print(given, &body) }
    }

    private func print(_ given: NameGiven, _ body: inout Column) {
        let called = given.name?.english ?? Words.Find.nameNone
        body.words(called, .strong)
        let how = given.how.map { Words.called("how", $0) }
        let by = how.flatMap { how in given.who.map { Words.Find.nameBy(how: how, who: $0) } } ?? how ?? given.who
        body.words(Words.joined([by, given.withdrawn ? Words.Find.withdrawn : nil]), .quiet)
        if given.withdrawn { return }
        body.put(
            .touch(
                Touch(Words.Find.takeBack, said: Words.Find.takeBackOf(name: called)) { [desk] in
                    desk.act { [find = desk.find] in try $0.withdrawName(id: find, naming: given.id) }
                }))
    }
}
