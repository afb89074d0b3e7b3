import TrugCore

extension Receive {
    /// The copies of other people's finds, each in a line.
    func list(_ body: inout Column) {
        guard let copies else { return body.words(Words.App.busy, .quiet) }
        body.part(Words.Copy.head)
        if copies.isEmpty { body.words(Words.Copy.none, .quiet) }
        for copy in copies {
            let about = Words.joined([when(copy), copy.recorder, copy.place?.name])
            body.put(
                .row(
                    Row(called(copy), about, picture: copy.photos.lazy.compactMap(\.thumbnail).first) { [weak self] in
                        self?.turn(.copy, about: copy.id)
                    }))
        }
    }

    /// One copy, with all that its owner let out.
    func lines(of copy: CopyShown) -> [Line] {
        var body = Column(.head(called(copy)))
        if copy.name.latin != copy.name.english { body.words(copy.name.latin, .latin) }
        body.words(copy.recorder.map { Words.Copy.of(name: $0) } ?? Words.Copy.ofNobody, .quiet)
        body.words(copy.how.map { Words.called("how", $0) }, .quiet)
        for photo in copy.photos where photo.path != nil {
            body.put(.picture(Picture(path: photo.path, said: Words.Copy.photo(role: Words.called("role", photo.role)))))
        }
        body.put(.rule)
        for (label, value) in fields(copy) where !value.isEmpty {
            body.words(label, .quiet)
            body.words(value)
        }
        body.words(Words.Copy.apart, .quiet)
        return body.lines
    }

    private func called(_ copy: CopyShown) -> String {
        copy.qualifier.map { Words.Copy.qualified(name: copy.name.english, qualifier: $0) } ?? copy.name.english
    }

    private func when(_ copy: CopyShown) -> String {
        Words.joined([copy.day.map { house.writing.day($0) }, copy.at.map { house.writing.hour($0) }])
    }

    /// Everything that it says, under what it is called.
    private func fields(_ copy: CopyShown) -> [(String, String)] {
        let fields = copy.fields
        let of = { (field: String, word: String?) in word.map { Words.called(field, $0) } ?? "" }
        let stages = fields.stages.map { Words.Find.ageCount(stage: Words.called("stages", $0.stage), number: Int($0.count)) }
        let count = { (count: UInt32?) in count.map { String($0) } ?? "" }
        return [
            (Words.Copy.when, when(copy)),
            (Words.Find.where, copy.place.map(told) ?? ""),
            (Words.Find.grows, of("on", fields.on)),
            (Words.Find.host, Words.joined([fields.host, of("host-sure", fields.hostSure)])),
            (Words.Find.habitat, fields.habitat ?? ""),
            (Words.Find.ground, of("ground", fields.ground)),
            (Words.Find.growth, of("growth", fields.growth)),
            (
                Words.Find.seen,
                span(fields.seenLeast.map(Double.init), fields.seenMost.map(Double.init), Words.Copy.one, Words.Copy.span)
            ),
            (Words.Find.ages, Words.listed(stages)),
            (Words.Find.width, span(fields.widthLeastMm, fields.widthMostMm, Words.Copy.mm, Words.Copy.mmSpan)),
            (Words.Find.taken, count(fields.taken)),
            (Words.Find.grams, fields.grams.map(house.writing.number) ?? ""),
            (Words.Find.specimens, count(fields.specimens)),
            (Words.Find.note, fields.note ?? ""),
        ]
    }

    private func told(_ place: CopiedPlace) -> String {
        guard let around = place.uncertaintyM.map(Writing.rounded) else { return place.name }
        return place.exact ? Words.Copy.within(place: place.name, metres: around) : Words.Copy.square(place: place.name, metres: around)
    }

    private func span(_ least: Double?, _ most: Double?, _ one: (String) -> String, _ span: (String, String) -> String) -> String {
        guard let least else { return "" }
        let written = house.writing.number
        return most.flatMap { $0 == least ? nil : $0 }.map { span(written(least), written($0)) } ?? one(written(least))
    }
}
