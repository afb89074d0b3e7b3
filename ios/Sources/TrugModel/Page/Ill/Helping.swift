import TrugCore

extension Ill {
    /// What to do: the first words, whom to ring, what to do and not to do; then what the notebook knows of meals.
    func helpLeaf(_ help: HelpPage) -> Leaf {
        var body = Column(.band(Band(lines: [Saying(words: help.lead, tone: .strong)], head: help.head)))
        body.put(.subhead(help.here?.name ?? help.noCountry))
        for number in help.here?.numbers ?? [] { body.put(.row(row(number))) }
        body.touch(Help.otherCountry) { [weak self] in self?.turn(.country) }
        body.words(help.unreviewed, .quiet)
        for section in help.sections {
            body.part(section.title)
            for line in section.lines { body.words(line.words) }
        }
        body.part(Words.Ill.meals)
        meals(&body)
        if let here = help.here {
            body.part(Words.Ill.numbersFrom)
            for number in here.numbers { body.words(from(number), .quiet) }
        }
        body.touch(Words.Ill.sources) { [weak self] in self?.turn(.sources) }
        return Leaf(said: title, body: body.lines, thumb: thumb(help))
    }

    /// At the thumb: the emergency number, the doctor's sheet, a meal to note.
    private func thumb(_ help: HelpPage) -> [Line] {
        let first =
            if let emergency = help.here?.numbers.first {
                Touch(Words.Ill.ring(number: emergency.number), .thumb) { [house] in house.ring(emergency.number) }
            } else {
                Touch(Words.Ill.chooseCountry, .thumb) { [weak self] in self?.turn(.country) }
            }
        var thumb = Column(.touch(first))
        thumb.beside(
            .touch(Touch(Words.Ill.sheet) { [weak self] in self?.turn(.sheet) }),
            .touch(Touch(Words.Ill.noteMeal) { [weak self] in self?.turn(.meal) }))
        return thumb.lines
    }

    /// A number, touched to ring it, with who answers. Where it comes from stands at the end: it must not push down what to do.
    private func row(_ line: NumberToRing) -> Row {
        Row(Words.Ill.ring(number: line.number), line.words, mark: line.unchecked) { [house] in house.ring(line.number) }
    }

    /// A number, and where it comes from.
    private func from(_ line: NumberToRing) -> String {
        Words.Ill.numberFrom(number: line.number, sources: line.sources.map(told).joined(separator: " "))
    }

    private func told(_ source: HelpSource) -> String {
        source.seen.map { Words.Ill.source(citation: source.citation, day: house.writing.day($0)) } ?? source.citation
    }

    private func meals(_ body: inout Column) {
        switch read {
        case nil: body.words(Words.App.busy, .quiet)
        case .failure(let error):
            body.words(Words.Ill.mealsCannot)
            body.words(Words.sentence(error), .quiet)
        case .success(let page):
            if page.meals.isEmpty { body.words(Words.Ill.mealsNone, .quiet) }
            for meal in page.meals {
                let eaten = meal.at.map { told($0, now: page.now) } ?? Words.Ill.noTime
                body.put(.row(Row(Self.called(meal), eaten) { [weak self] in self?.turn(.meal, about: meal.id) }))
            }
        }
    }

    /// What a meal goes by in a list.
    static func called(_ meal: MealShown) -> String {
        if let what = meal.what { return what }
        let listed = Words.listed((meal.finds.compactMap(\.name) + meal.takenFor).map(\.english))
        return listed.isEmpty ? Words.Ill.meal : listed
    }

    /// Every country that is here.
    func countryLeaf(_ help: HelpPage) -> Leaf {
        var body = Column(.head(Words.Ill.chooseCountry))
        body.words(help.noCountry)
        for country in help.countries {
            body.put(.row(Row(country.name, country.numbers.first?.number ?? "") { [weak self] in self?.live(country.code) }))
        }
        return Leaf(said: title, body: body.lines)
    }

    /// Where each line of the page comes from.
    func sourcesLeaf(_ help: HelpPage) -> Leaf {
        var body = Column(.head(Words.Ill.sources))
        body.words(help.unreviewed)
        for line in help.sections.flatMap(\.lines) {
            body.words(line.words)
            for source in line.sources { body.words(told(source), .quiet) }
        }
        return Leaf(said: title, body: body.lines)
    }

    /// The sheet that is held up to a doctor: the core's words, and the photos. The screen stays on while it is shown.
    func sheetLeaf(_ sheet: DoctorSheet) -> Leaf {
        var body = Column(.head(Words.Ill.sheet))
        for passage in sheet.passages {
            body.part(passage.title)
            for line in passage.lines { body.words(line) }
            for (at, path) in passage.photos.enumerated() {
                body.put(.picture(Picture(path: path, said: Words.Ill.photo(number: at + 1, what: passage.title))))
            }
        }
        return Leaf(said: Words.Ill.sheet, body: body.lines, staysOn: true)
    }
}
