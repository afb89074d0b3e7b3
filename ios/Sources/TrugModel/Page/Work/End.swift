import TrugCore

extension Work {
    /// Where the key has come to, in the core's words, and what to do about it.
    func endLeaf(_ asking: Asking, _ page: KeyPage) -> Leaf {
        let verdict = page.verdict
        let isGroup = verdict.ending == .group
        var body = Column(dangers(asking, page.strip))
        body.head(verdict.title)
        if isGroup { body.words(Words.Work.endGroup) }
        for name in verdict.named {
            if isGroup { body.words(name.english, .strong) }
            body.words(name.latin, .latin)
        }
        if verdict.checks.isEmpty {
            // The first sentence of the body is the title again; the rest says the more.
            let title = "\(verdict.title). "
            body.words(verdict.body.hasPrefix(title) ? String(verdict.body.dropFirst(title.count)) : verdict.body)
        } else {
            list(Words.Work.endChecks, verdict.checks, &body)
            body.words(Words.Work.endChecksDo, .strong)
            body.words(Words.Work.inDoubt, .strong)
        }
        if verdict.ending == .notSettled { list(Words.Work.endInTheWay, verdict.inTheWay, &body) }
        list(Words.Work.endCautions, verdict.cautions, &body)
        if !page.answers.isEmpty {
            body.touch(Words.Work.answers(count: page.answers.count)) { [weak self] in self?.turn { $0.turn(.answers) } }
        }
        return Leaf(said: verdict.title, body: body.lines, thumb: thumb(page))
    }

    private func thumb(_ page: KeyPage) -> [Line] {
        let on = Touch(Words.Work.askOn) { [weak self] in self?.turn { $0.turn(.question) } }
        let isSettled = page.verdict.ending == .settled || page.verdict.ending == .group
        let kept: Print =
            if let keep {
                .touch(Touch(isSettled ? Words.Work.keep : Words.Work.keepOpen, .filled, act: keep))
            } else {
                .saying(Saying(words: Words.Work.noFind, tone: .quiet))
            }
        var thumb = Column()
        thumb.beside(page.question == nil ? nil : .touch(on), kept)
        return thumb.lines
    }

    private func list(_ head: String, _ items: [String], _ body: inout Column) {
        if items.isEmpty { return }
        body.part(head)
        for item in items { body.words(item) }
    }
}
