import Foundation
import Observation
import TrugCore

/// The leaves of the page.
enum ReceiveLeaf: String, Codable {
    /// What a bundle is; the copies that came so far.
    case start
    /// The file is copied to the phone's own room.
    case fetch
    /// It is looked into.
    case look
    /// It is sealed, and waits for its passphrase.
    case secret
    /// What it would bring.
    case found
    /// It is being taken.
    case take
    /// What it brought.
    case taken
    /// Why it is refused.
    case refused
    /// One copy of somebody else's find.
    case copy
}

/// A file that somebody sent: copied to the phone's own room, looked into, told what it is, and taken whole or not at all. Which leaf is
/// open says what was asked for: where nothing in this process does it, it is begun again.
@MainActor @Observable final class Receive: Page {
    let title = Words.Receive.title
    @ObservationIgnored unowned let house: House
    private var at: ReceiveLeaf
    @ObservationIgnored private var source: URL?
    @ObservationIgnored private var file: URL
    private var copy: String?
    private var taken: Brought?
    private var refusal: String?
    private var isNotOurs: Bool
    private(set) var copies: [CopyShown]?
    private var isDeleting: Bool
    @ObservationIgnored private var isFetching = false
    @ObservationIgnored private lazy var secret = Field(Words.Receive.passphrase, .secret, opens: true)

    private struct Remembered: Codable {
        var leaf: ReceiveLeaf
        var source: URL?
        var file: String
        var copy: String?
        var taken: Brought?
        var refusal: String?
        var isNotOurs: Bool
        var isDeleting: Bool
    }

    init(_ house: House, _ source: URL?, _ saved: Data?) {
        self.house = house
        let before = Kept.read(Remembered.self, saved)
        self.source = before?.source ?? source
        at = before?.leaf ?? (source == nil ? .start : .fetch)
        file = Self.room(house).appendingPathComponent(before?.file ?? UUID().uuidString)
        copy = before?.copy
        taken = before?.taken
        refusal = before?.refusal
        isNotOurs = before?.isNotOurs ?? false
        isDeleting = before?.isDeleting ?? false
        secret.done = { [unowned self] in open() }
    }

    func save() -> Data? {
        Kept.write(
            Remembered(
                leaf: at, source: source, file: file.lastPathComponent, copy: copy, taken: taken, refusal: refusal, isNotOurs: isNotOurs,
                isDeleting: isDeleting))
    }

    private static func room(_ house: House) -> URL { house.room.appendingPathComponent("received") }

    private var reading: FileReading { FileReading(house.jobs, file) { [weak self] in self?.told() } }

    func shown() {
        goOn()
        if at == .start || at == .copy { read() }
    }

    func left() {}

    /// Whoever goes back from a file does not want it; what is being taken then is not.
    func back() -> Bool {
        if at == .copy {
            turn(.start)
            return true
        }
        if at != .start { drop() }
        return false
    }

    /// A document was picked.
    func answered(_ name: String, _ picked: URL) {
        drop()
        file = Self.room(house).appendingPathComponent(UUID().uuidString)
        source = picked
        taken = nil
        turn(.fetch)
    }

    /// Another leaf; `about` is the copy that it is about.
    func turn(_ to: ReceiveLeaf, about: String? = nil) {
        house.complain(nil)
        at = to
        copy = about
        isDeleting = false
        goOn()
        if to == .start { read() }
    }

    // ---- What is asked for

    private func pick() { house.ask(.open, "bundle") }

    /// Begins what the leaf says, where nothing does it yet.
    private func goOn() {
        switch at {
        case .fetch: if !isFetching { fetch() }
        case .look, .found: if !reading.isAsked(taking: false), reading.looked == nil { look(nil) }
        case .take: if !reading.isAsked(taking: true) { take() }
        default: return
        }
        reading.watch()
        told()
    }

    private func fetch() {
        guard let from = source else { return turn(.start) }
        let into = file
        isFetching = true
        house.aside {
            Self.clearUp(but: into)
            if !FileManager.default.fileExists(atPath: into.path) { try Documents.bringIn(from, into: into) }
        } then: { [weak self] fetched in
            guard let self else { return }
            isFetching = false
            guard into == file, at == .fetch else { return }
            switch fetched {
            case .success: turn(.look)
            case .failure(let error): refuse(Documents.notFetched(error))
            }
        }
    }

    /// What nobody came back for within a day.
    private nonisolated static func clearUp(but file: URL) {
        let room = file.deletingLastPathComponent()
        for old in (try? FileManager.default.contentsOfDirectory(at: room, includingPropertiesForKeys: [.contentModificationDateKey])) ?? []
        {
            let written = try? old.resourceValues(forKeys: [.contentModificationDateKey]).contentModificationDate
            if old != file, let written, written.timeIntervalSinceNow < -24 * 60 * 60 { try? FileManager.default.removeItem(at: old) }
        }
    }

    private func look(_ passphrase: String?) {
        // The process may have died before it was fetched whole, or the phone was cleared up.
        guard FileManager.default.fileExists(atPath: file.path) else { return turn(.fetch) }
        at = .look
        reading.look(passphrase)
    }

    private func take() {
        // Without the passphrase that was given in another process there is nothing to take yet.
        guard reading.looked != nil else { return look(reading.passphrase) }
        at = .take
        reading.take()
    }

    private func open() {
        if secret.typed.isEmpty { house.complain(Words.sentence("no-passphrase")) } else { look(secret.typed) }
    }

    /// What came of it, if it has come.
    private func told() {
        guard let ended = reading.ended else { return }
        switch (at, ended) {
        case (.look, .success): turn(.found)
        case (.take, .success(let bundle)): took(bundle)
        case (.look, .failure(let error)), (.take, .failure(let error)): failed(error)
        default: break
        }
    }

    private func took(_ bundle: BundleRead) {
        taken = Brought(bundle)
        drop()
        turn(.taken)
    }

    private func failed(_ error: any Error) {
        var code: String?
        if case .Said(let said, _, _)? = error as? TrugError { code = said }
        let wasTaking = at == .take
        switch code {
        case "needs-passphrase": turn(.secret)
        case "wrong-passphrase":
            turn(.secret)
            house.complain(error)
        // The system put Trug aside in the middle: it goes on.
        case "paused": if wasTaking { take() } else { look(reading.passphrase) }
        case "stopped" where wasTaking, "no-room" where wasTaking:
            turn(.found)
            house.complain(error)
        default: refuse(Words.sentence(error), isNotOurs: code == "not-for-us")
        }
    }

    private func refuse(_ sentence: String, isNotOurs: Bool = false) {
        refusal = sentence
        self.isNotOurs = isNotOurs
        drop()
        turn(.refused)
    }

    /// The file is done with.
    private func drop() {
        reading.forget()
        let gone = file
        house.aside {
            try? FileManager.default.removeItem(at: gone)
        } then: { _ in
        }
    }

    private func close() {
        drop()
        house.leave(self)
    }

    private func stop() {
        if at == .look { close() } else { reading.stop() }
    }

    private func read() {
        house.core.make {
            try $0.receivedCopies()
        } then: { [weak self] answered in
            switch answered {
            case .success(let copies): self?.copies = copies
            case .failure(let error): self?.house.complain(error)
            }
        }
    }

    private func delete(_ id: String) {
        house.core.make {
            try $0.deleteCopy(id: id)
        } then: { [weak self] deleted in
            switch deleted {
            case .success: self?.turn(.start)
            case .failure(let error): self?.house.complain(error)
            }
        }
    }

    private func done(_ bundle: Brought) {
        taken = nil
        source = nil
        if bundle.forOwn { house.leave(self) } else { turn(.start) }
    }

    // ---- What it shows

    var leaves: [String] { at == .copy ? [ReceiveLeaf.start.rawValue, at.rawValue] : [at.rawValue] }

    func leaf(_ index: Int) -> Leaf {
        let thumb = { [unowned self] (words: String, act: @escaping @MainActor (Receive) -> Void) in
            Column(.touch(Touch(words, .thumb) { [weak self] in if let self { act(self) } })).lines
        }
        switch leaves.count > 1 && index == 0 ? .start : at {
        case .start:
            var body = Column()
            body.words(Words.Receive.aboutFiles)
            list(&body)
            return Leaf(said: title, body: body.lines, thumb: thumb(Words.Receive.pick) { $0.pick() })
        case .fetch:
            var body = Column()
            body.words(Words.Receive.fetching)
            return Leaf(said: title, body: body.lines, thumb: thumb(Words.Receive.stop) { $0.close() })
        case .look, .take: return busy(thumb(Words.Receive.stop) { $0.stop() })
        case .secret:
            var body = Column(.head(Words.Receive.sealed))
            body.words(Words.Receive.sealedAbout)
            body.put(.field(secret))
            return Leaf(said: Words.Receive.sealed, body: body.lines, thumb: thumb(Words.Receive.open) { $0.open() })
        case .found:
            guard let bundle = reading.looked.map(Brought.init) else { return .busy(title) }
            return Leaf(said: title, body: bundle.lines(taken: false), thumb: offer(bundle))
        case .taken:
            guard let taken else { return .busy(title) }
            return Leaf(said: title, body: taken.lines(taken: true), thumb: thumb(Words.App.done) { $0.done(taken) })
        case .refused: return Leaf(said: Words.Receive.refused, body: refused, thumb: thumb(Words.Receive.pickOther) { $0.pick() })
        case .copy: return copyLeaf
        }
    }

    private func busy(_ thumb: [Line]) -> Leaf {
        let what = at == .take ? Words.Receive.taking : Words.Receive.looking
        var body = Column(.head(what))
        body.words(reading.words(house.writing))
        body.words(Words.Receive.whole, .quiet)
        return Leaf(said: what, body: body.lines, thumb: thumb)
    }

    private func offer(_ bundle: Brought) -> [Line] {
        if bundle.isAllHere { return Column(.touch(Touch(Words.App.done, .thumb) { [weak self] in self?.close() })).lines }
        var thumb = Column(.touch(Touch(Words.Receive.take, .thumb) { [weak self] in self?.take() }))
        thumb.touch(Words.Receive.leave) { [weak self] in self?.close() }
        return thumb.lines
    }

    private var refused: [Line] {
        var body = Column(.head(Words.Receive.refused))
        body.words(refusal)
        body.words(Words.Receive.nothingChanged, .quiet)
        if isNotOurs { body.touch(Words.Receive.showKey) { [house] in house.go(Stop(.exchange)) } }
        return body.lines
    }

    private var copyLeaf: Leaf {
        guard let shown = copies?.first(where: { $0.id == copy }) else { return .busy(title) }
        var thumb = Column()
        if isDeleting {
            thumb.words(Words.Copy.deleteAbout)
            thumb.beside(
                .touch(Touch(Words.Copy.keep) { [weak self] in self?.isDeleting = false }),
                .touch(Touch(Words.Copy.deleteYes, .filled) { [weak self] in self?.delete(shown.id) }))
        } else {
            thumb.touch(Words.Copy.delete) { [weak self] in self?.isDeleting = true }
        }
        return Leaf(said: title, body: lines(of: shown), thumb: thumb.lines)
    }
}
