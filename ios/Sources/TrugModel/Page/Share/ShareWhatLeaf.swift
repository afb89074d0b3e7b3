import Foundation
import TrugCore

extension Share {
    /// The first leaf: for whom, which finds, how exactly, what else, in which form, and who alone may open it.
    func whatLeaf(_ page: SharePage) -> Leaf {
        var body = Column()
        whom(page, &body)
        if !chosen.forMe {
            which(page, &body)
            exactly(&body)
            also(page, &body)
            body.part(Words.Share.form)
            let forms = page.forms.map { Offered(id: $0.form, label: Words.called("form", $0.form)) }
            body.put(
                States.choice(forms, [chosen.form]) { [weak self] word, _ in
                    let isSealable = page.forms.first { $0.form == word }?.canBeSealed == true
                    self?.choose {
                        $0.form = word
                        if !isSealable { $0.lock = .open }
                    }
                })
        }
        locked(page, &body)
        return Leaf(said: title, body: body.lines, thumb: thumb(page))
    }

    private func form(_ page: SharePage) -> FormOffered? { page.forms.first { $0.form == chosen.form } }

    /// On to what would leave. Nothing leaves of nothing.
    private func thumb(_ page: SharePage) -> [Line] {
        let mayBePatches = form(page)?.holdsPatches == true && ["patch", "all"].contains(chosen.which?.way ?? "")
        if !chosen.forMe, page.finds == 0, !mayBePatches {
            return Column(.saying(Saying(words: Words.Share.nothingChosen, tone: .quiet))).lines
        }
        return Column(.touch(Touch(Words.Share.preview, .thumb) { [weak self] in self?.preview() })).lines
    }

    /// For somebody else, or for the owner's own devices.
    private func whom(_ page: SharePage, _ body: inout Column) {
        body.put(.subhead(Words.Share.whom))
        let whom = [Offered(id: "someone", label: Words.Share.someone), Offered(id: "mine", label: Words.Share.mine)]
        body.put(
            States.choice(whom, [chosen.forMe ? "mine" : "someone"]) { [weak self] id, _ in
                self?.choose {
                    $0.forMe = id == "mine"
                    $0.lock = .open
                    $0.device = nil
                }
            })
        if !chosen.forMe {
            body.put(.field(recipient))
            body.words(Words.Share.recipientHelp, .quiet)
            return
        }
        body.words(Words.Share.mineHelp, .strong)
        if !page.devices.isEmpty {
            let devices = [Offered(id: "any", label: Words.Share.anyDevice)] + page.devices.map { Offered(id: $0.id, label: $0.name) }
            body.put(
                States.choice(devices, [chosen.device ?? "any"]) { [weak self] id, _ in
                    self?.choose {
                        $0.device = id == "any" ? nil : id
                        $0.lock = id == "any" ? .open : .device
                    }
                })
        }
        if chosen.device != nil { body.words(Words.Share.deviceHelp, .quiet) }
    }

    /// How exactly places are told.
    private func exactly(_ body: inout Column) {
        body.part(Words.Share.place)
        let places = [
            Offered(id: "10km", label: Words.Share.place10km), Offered(id: "1km", label: Words.Share.place1km),
            Offered(id: "exact", label: Words.Share.placeExact),
        ]
        body.put(States.choice(places, [chosen.place]) { [weak self] word, _ in self?.choose { $0.place = word } })
        if chosen.place == "exact" { body.words(Words.Share.exactHelp, .strong) }
    }

    /// What else may leave.
    private func also(_ page: SharePage, _ body: inout Column) {
        let form = form(page)
        let offered = [
            form?.holdsPhotos == true ? Offered(id: "photos", label: Words.Share.photos) : nil,
            form?.holdsPatches == false ? Offered(id: "time", label: Words.Share.time) : nil,
            Offered(id: "notes", label: Words.Share.notes), Offered(id: "name", label: Words.Share.name),
        ].compactMap { $0 }
        body.part(Words.Share.also)
        body.put(
            States.choice(offered, chosen.ticked) { [weak self] word, isTicked in
                self?.choose { if isTicked { $0.ticked.insert(word) } else { $0.ticked.remove(word) } }
            })
        if form?.holdsPatches == true { body.words(Words.Share.patchNamesHelp, .quiet) }
        if chosen.ticked.contains("name") { body.put(.field(name)) }
    }

    /// Who alone may open it.
    private func locked(_ page: SharePage, _ body: inout Column) {
        guard chosen.forMe || form(page)?.canBeSealed == true else { return }
        let hasDevice = chosen.forMe && chosen.device != nil
        let offered = [
            Offered(id: Lock.open.rawValue, label: Words.Share.open), Offered(id: Lock.passphrase.rawValue, label: Words.Share.passphrase),
            Offered(id: Lock.key.rawValue, label: Words.Share.key),
            hasDevice ? Offered(id: Lock.device.rawValue, label: Words.Share.deviceKey) : nil,
        ].compactMap { $0 }
        body.part(Words.Share.sealed)
        body.put(
            States.choice(offered, [chosen.lock.rawValue]) { [weak self] word, _ in self?.choose { $0.lock = Lock(rawValue: word) ?? .open }
            })
        if chosen.lock == .key { body.put(.field(key)) }
        if chosen.lock == .passphrase { body.words(Words.Share.passphraseHelp, .quiet) }
    }

    // ---- Which finds

    private func which(_ page: SharePage, _ body: inout Column) {
        let offered = [
            find == nil ? nil : Offered(id: "find", label: Words.Share.thisFind),
            page.outings.isEmpty ? nil : Offered(id: "outing", label: Words.Share.outing),
            page.patches.isEmpty ? nil : Offered(id: "patch", label: Words.Share.patch),
            Offered(id: "days", label: Words.Share.days), Offered(id: "all", label: Words.Share.all),
        ].compactMap { $0 }
        body.part(Words.Share.which)
        body.put(States.choice(offered, [chosen.which?.way ?? ""]) { [weak self] way, _ in self?.mean(way, page) })
        meant(page, &body)
        let count = Int(page.finds)
        body.words(form(page)?.holdsPatches == true ? Words.Share.patchesOf(count: count) : Words.Share.finds(count: count), .quiet)
    }

    private func mean(_ way: String, _ page: SharePage) {
        switch way {
        case "find": choose { $0.which = find.map { .find($0) } }
        case "outing": choose { $0.which = page.outings.first.map { .outing($0.id) } }
        case "patch": if page.patches.count == 1 { choose { $0.which = .patch(page.patches[0].id) } } else { turn(.patches) }
        case "days": choose { $0.which = .days(nil, nil) }
        default: choose { $0.which = .all }
        }
    }

    /// What is meant, by name, with the way to mean another.
    private func meant(_ page: SharePage, _ body: inout Column) {
        switch chosen.which {
        case .find: body.words(page.find.map { Lines.name($0.name) }, .strong)
        case .outing(let id):
            guard let outing = page.outings.first(where: { $0.id == id }) else { return }
            let other = page.outings.count > 1 ? Words.Share.outingOther : ""
            body.put(.row(Row(called(outing), other) { [weak self] in self?.turn(.outings) }))
        case .patch(let id):
            guard let patch = page.patches.first(where: { $0.id == id }) else { return }
            let other = page.patches.count > 1 ? Words.Share.patchOther : ""
            body.put(.row(Row(house.writing.patch(patch.name, patch.kind), other) { [weak self] in self?.turn(.patches) }))
        case .days(let from, let to):
            body.beside(
                day(Words.Share.from(day: from.map { house.writing.day($0) } ?? ""), from) { .days($0, to) },
                day(Words.Share.to(day: to.map { house.writing.day($0) } ?? ""), to) { .days(from, $0) })
        case .all, nil: break
        }
    }

    private func day(_ words: String, _ day: String?, _ with: @escaping (String) -> Which) -> Print {
        .touch(
            Touch(words) { [weak self] in
                let parts = day?.split(separator: "-").compactMap { Int($0) } ?? []
                let from = parts.count == 3 ? DateComponents(year: parts[0], month: parts[1], day: parts[2], hour: 12) : nil
                self?.house.askDay(words, from: from.flatMap { Calendar(identifier: .gregorian).date(from: $0) }) { [weak self] at in
                    self?.choose { $0.which = with(at.shown.day) }
                }
            })
    }

    private func called(_ outing: OutingShown) -> String {
        Words.joined([outing.place ?? Words.Now.outing, outing.began.map { house.writing.day($0.day) }])
    }

    /// The outings that may be meant.
    func outingsLeaf(_ page: SharePage) -> Leaf {
        var body = Column(.head(Words.Share.outing))
        for (at, outing) in page.outings.enumerated() {
            let words = Words.Share.numbered(number: at + 1, name: called(outing))
            body.put(
                .row(
                    Row(words, outing.began.map(house.writing.hour) ?? "") { [weak self] in
                        self?.choose { $0.which = .outing(outing.id) }
                        self?.turn(.what)
                    }))
        }
        return Leaf(said: Words.Share.outing, body: body.lines)
    }

    /// The patches that may be meant.
    func patchesLeaf(_ page: SharePage) -> Leaf {
        var body = Column(.head(Words.Share.patch))
        for (at, patch) in page.patches.enumerated() {
            let words = Words.Share.numbered(number: at + 1, name: house.writing.patch(patch.name, patch.kind))
            body.put(
                .row(
                    Row(words, patch.name == nil ? "" : patch.kind?.english ?? "") { [weak self] in
                        self?.choose { $0.which = .patch(patch.id) }
                        self?.turn(.what)
                    }))
        }
        return Leaf(said: Words.Share.patch, body: body.lines)
    }
}
