import TrugCore

extension Work {
    /// The sheet to begin with: what a glance shows. Each tap is told to the key, so that the sheet grows with what is known. Once a
    /// character is answered, only the answer is left in view, and what comes next moves up to the thumb.
    func sheetLeaf(_ page: KeyPage) -> Leaf {
        var body = Column(.head(Words.Work.sheet))
        for sheet in page.sheet {
            let chosen = sheet.states.filter(\.chosen)
            body.words(sheet.label, .strong)
            body.put(
                .states(
                    States((chosen.isEmpty ? sheet.states : chosen).map(Offered.init), isList: !chosen.isEmpty) { [weak self] state in
                        self?.turn { $0.tap(sheet.character, state) }
                    }))
        }
        let isSeen = page.sheet.contains { $0.states.contains(where: \.chosen) }
        var thumb = Column()
        thumb.beside(
            .touch(Touch(Words.Names.think) { [weak self] in self?.turn { $0.turn(.names) } }),
            .touch(
                Touch(isSeen ? Words.Work.goOn : Words.Work.skip, .filled) { [weak self] in self?.turn { $0.turn(.question).told(page) } }))
        return Leaf(said: title, body: body.lines, thumb: thumb.lines)
    }

    /// A name that its finder thinks of.
    func namesLeaf(_ asking: Asking) -> Leaf {
        var body = Column(.head(Words.Names.think))
        body.words(Words.Names.thinkHelp)
        if let names {
            body.put(.field(names.entry))
            names.lines(into: &body) { [weak self] name in self?.turn { $0.suspect(name.id) } }
        }
        let drop = Touch(Words.Work.suspectDrop) { [weak self] in self?.turn { $0.suspect(nil) } }
        var thumb = Column()
        thumb.beside(.touch(goBack), asking.asked.suspect == nil ? nil : .touch(drop))
        return Leaf(said: title, body: body.lines, thumb: thumb.lines)
    }

    /// Other questions, the best first, each with what looking costs.
    func othersLeaf(_ page: KeyPage) -> Leaf {
        var body = Column(.head(Words.Work.anotherHead))
        for other in page.others {
            let about = Words.joined([Words.called("effort", other.effort), other.afresh ? Words.Work.lookAgain : nil])
            body.put(.row(Row(other.label, about) { [weak self] in self?.turn { $0.ask(other.character) } }))
        }
        return Leaf(said: title, body: body.lines, thumb: Column(.touch(goBack)).lines)
    }

    /// What was answered, to be looked at again or taken back, and what still fits, with what speaks for and against it.
    func answersLeaf(_ page: KeyPage) -> Leaf {
        var body = Column(.head(Words.Work.answersHead))
        body.words(page.answers.isEmpty ? Words.Work.answersNone : Words.Work.answersHelp, page.answers.isEmpty ? .plain : .quiet)
        for (at, answer) in page.answers.enumerated() {
            body.beside(
                .row(
                    Row(answer.words, said: Words.Work.againOf(answer: answer.words)) { [weak self] in
                        self?.turn { $0.ask(answer.seen.character) }
                    }),
                .touch(
                    Touch(Words.Work.takeBack, said: Words.Work.backOf(answer: answer.words)) { [weak self] in
                        self?.turn { $0.takeBack(at) }
                    }))
        }
        body.touch(Words.Names.think) { [weak self] in self?.turn { $0.turn(.names) } }
        body.put(.rule)
        body.head(Words.Work.fitsHead)
        if page.fits.isEmpty { body.words(Words.Work.fitsNone) }
        for fits in page.fits {
            body.words(fits.name.english, .strong)
            body.words(fits.name.latin, .latin)
            for words in fits.words { body.words(words) }
        }
        var thumb = Column()
        thumb.beside(
            .touch(Touch(Words.Work.stop) { [weak self] in self?.turn { $0.turn(.end) } }),
            .touch(Touch(Words.Work.askOn, .filled) { [weak self] in self?.turn { $0.turn(.question).told(page) } }))
        return Leaf(said: title, body: body.lines, thumb: thumb.lines)
    }

    private var goBack: Touch { Touch(Words.App.back) { [weak self] in self?.turn { $0.back() ?? $0 } } }
}

extension Offered {
    init(_ state: StateOffered) {
        self.init(id: state.id, label: state.label, figure: state.figure, isChosen: state.chosen)
    }
}
