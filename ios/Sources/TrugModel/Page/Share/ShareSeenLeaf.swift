import TrugCore

extension Share {
    /// Exactly what would leave, and what is asked before it does.
    func seenLeaf(_ leaf: ShareLeaf, _ seen: Seen) -> Leaf {
        switch leaf {
        case .copy: copyLeaf
        case .square: squareLeaf(seen.leaving.squares.first { $0.name == about })
        case .sure: sureLeaf(seen.leaving)
        case .seal: sealLeaf
        default: previewLeaf(seen.leaving)
        }
    }

    /// How much, what stays, in which squares, and every copy.
    private func previewLeaf(_ leaving: LeavingShown) -> Leaf {
        let head = headline(leaving)
        let isChanges = leaving.madeOf == "changes"
        var body = Column(.head(head))
        if leaving.count == 0 {
            body.words(Words.Share.empty, .quiet)
        } else {
            body.words(isChanges ? Words.Share.mineHelp : stays(leaving), .strong)
            body.words(photos(leaving, asPictures: !isChanges))
            for one in leaving.leftOut {
                body.words(Words.Share.photosStay(count: Int(one.count)), .quiet)
                body.words(Words.sentence(one.code), .quiet)
            }
            body.words(lock, .quiet)
            squares(leaving, &body)
            if !isChanges {
                body.part(Words.Share.each)
                for (at, copy) in copies.enumerated() { body.put(.row(row(copy, at))) }
                let more = Int(leaving.count) - copies.count
                if more > 0, !copies.isEmpty { body.touch(Words.Share.more(count: more)) { [weak self] in self?.more() } }
            }
        }
        let change = Touch(Words.Share.change, .tall) { [weak self] in self?.turn(.what) }
        let make = Touch(Words.Share.make, .thumb) { [weak self] in self?.make() }
        var thumb = Column()
        thumb.beside(.touch(change), leaving.count > 0 ? .touch(make) : nil)
        return Leaf(said: head, body: body.lines, thumb: thumb.lines)
    }

    private func headline(_ leaving: LeavingShown) -> String {
        switch leaving.madeOf {
        case "changes": Words.Share.everything
        case "patches": Words.Share.patches(count: Int(leaving.count))
        default: Words.Share.copies(count: Int(leaving.count))
        }
    }

    /// What stays with its owner; said only of what does.
    private func stays(_ leaving: LeavingShown) -> String {
        switch (leaving.exact == 0, !chosen.ticked.contains("notes")) {
        case (true, true): Words.Share.stays
        case (true, false): Words.Share.staysPlace
        case (false, true): Words.Share.staysNotes
        case (false, false): Words.Share.staysLittle
        }
    }

    private func photos(_ leaving: LeavingShown, asPictures: Bool) -> String {
        let count = Int(leaving.photos)
        if count == 0 { return Words.Share.photosNone }
        return asPictures ? Words.Share.photosAlong(count: count) : Words.Share.photosWhole(count: count)
    }

    private var lock: String {
        switch chosen.lock {
        case .open: Words.Share.lockOpen
        case .passphrase: Words.Share.lockPassphrase
        case .key, .device: Words.Share.lockKey
        }
    }

    /// Where the copies lie: the one square as a drawing, several as a list.
    private func squares(_ leaving: LeavingShown, _ body: inout Column) {
        if leaving.squares.isEmpty, leaving.exact == 0, leaving.nowhere == 0 { return }
        body.part(Words.Share.where)
        if leaving.exact > 0 { body.words(Words.Share.exact(count: Int(leaving.exact)), .strong) }
        if leaving.nowhere > 0 { body.words(Words.Share.nowhere(count: Int(leaving.nowhere))) }
        if leaving.squares.count == 1 { return draw(leaving.squares[0], &body) }
        for square in leaving.squares {
            let count = Words.Share.inSquare(count: Int(square.count))
            body.put(.row(Row(named(square), count) { [weak self] in self?.turn(.square, about: square.name) }))
        }
    }

    private func named(_ square: SquareShown) -> String { Words.Share.square(side: Int(square.sideKm), name: square.name) }

    /// A square with its neighbours, and how large it is on foot.
    private func draw(_ square: SquareShown, _ body: inout Column) {
        body.words(named(square), .strong)
        body.put(.square(SquareDrawn(around: square.around, said: Words.Share.squareAround(square: named(square)))))
        body.words(square.sideKm > 1 ? Words.Share.large10km : Words.Share.large1km, .quiet)
    }

    private func squareLeaf(_ square: SquareShown?) -> Leaf {
        var body = Column()
        if let square {
            draw(square, &body)
            body.words(Words.Share.inSquare(count: Int(square.count)))
        } else {
            body.words(Words.Share.empty)
        }
        return Leaf(said: title, body: body.lines)
    }

    // ---- One of them

    private func row(_ copy: CopyLeaving, _ at: Int) -> Row {
        let place = copy.isExact ? Words.Share.exactOne : copy.square?.name ?? Words.Share.noPlace
        let about = Words.joined([copy.day.map { house.writing.day($0) }, place])
        let words = Words.Share.numbered(number: at + 1, name: copy.name ?? Words.Share.patchUnnamed)
        return Row(words, about) { [weak self] in self?.turn(.copy, about: String(at)) }
    }

    /// Everything of one copy, as it stands in the file.
    private var copyLeaf: Leaf {
        guard let at = about.flatMap({ Int($0) }), copies.indices.contains(at) else { return .busy(title) }
        let copy = copies[at]
        let name = copy.name ?? Words.Share.patchUnnamed
        var body = Column(.head(name))
        body.words(Words.Share.copyHelp, .quiet)
        for field in copy.fields {
            body.words(Words.called("leaving", field.field.replacing(".", with: "-").replacing("_", with: " ")), .quiet)
            body.words(field.value)
        }
        if !copy.photos.isEmpty { body.part(Words.Share.photosPart) }
        for photo in copy.photos {
            let role = photo.role.map { Words.called("role", $0) } ?? Words.Share.photo
            body.put(.picture(Picture(path: photo.thumbnail, said: role)))
            body.words(role, .quiet)
        }
        if let square = copy.square {
            body.part(Words.Share.where)
            draw(square, &body)
        }
        if copy.isExact { body.words(Words.Share.exactHelp, .strong) }
        return Leaf(said: name, body: body.lines)
    }

    // ---- Before it is made

    /// What is grave about it, said plainly. At the thumb the way back; what is grave is farther to reach.
    private func sureLeaf(_ leaving: LeavingShown) -> Leaf {
        let grave = leaving.agreeTo.map { Saying(words: Words.called("agree", $0), tone: .strong) }
        var thumb = Column(.touch(Touch(Words.Share.sureNo, .thumb) { [weak self] in self?.turn(.what) }))
        thumb.touch(Words.Share.sureYes) { [weak self] in self?.make(agreed: true) }
        return Leaf(
            said: Words.Share.sure, body: Column(.band(Band(lines: grave, head: Words.Share.sure))).lines, thumb: thumb.lines)
    }

    private var sealLeaf: Leaf {
        var body = Column(.head(Words.Share.passphrase))
        body.words(Words.Share.passphraseWhy, .quiet)
        body.put(.field(first))
        body.put(.field(second))
        body.words(wrong, .strong)
        let make = Touch(Words.Share.make, .thumb) { [weak self] in self?.seal() }
        return Leaf(said: Words.Share.passphrase, body: body.lines, thumb: Column(.touch(make)).lines)
    }

    // ---- Once it is made

    /// A file that was made, and what has become of it. At the thumb: save it, send it; once it is out, done.
    func madeLeaf(_ made: Made) -> Leaf {
        var body = Column(.head(Words.Share.made))
        body.words(made.name)
        body.words(made.savedAs.map { Words.Share.saved(name: $0) }, .strong)
        if made.wasSent { body.words(Words.Share.sent) }
        body.words(made.isOut ? Words.Share.outHelp : Words.Share.madeHelp, .quiet)
        let save = Touch(made.isOut ? Words.Share.saveToo : Words.Share.save, made.isOut ? .plain : .thumb) { [weak self] in
            self?.save(made)
        }
        let done = Touch(Words.App.done, .thumb) { [weak self] in self?.done() }
        let send = Touch(Words.Share.send) { [weak self] in self?.send(made) }
        var thumb = Column(.touch(made.isOut ? done : save))
        thumb.beside(made.isOut ? .touch(save) : nil, .touch(send))
        return Leaf(said: Words.Share.made, body: body.lines, thumb: thumb.lines)
    }
}
