import Foundation
import Observation
import TrugCore

/// The leaves of the page.
enum ExchangeLeaf: String, Codable {
    /// The devices, the folder, the key.
    case all
    /// A device is paired.
    case pair
    /// One paired device.
    case device
    /// The folder is being exchanged over.
    case busy
    /// What came of it.
    case done
}

/// The owner's other devices: paired by their keys, and exchanged with over a folder that some other program keeps alike on all of them.
/// Trug itself sends nothing anywhere.
@MainActor @Observable final class Exchange: Page {
    let title = Words.Exchange.title
    @ObservationIgnored private unowned let house: House
    private var at: ExchangeLeaf
    private var device: String?
    private var report: Exchanged?
    private var read: Result<PeersPage, any Error>?
    private var isAsking: Bool
    @ObservationIgnored private let key = Field(Words.Exchange.theirKey, .code)
    @ObservationIgnored private let name = Field(Words.Exchange.theirName)
    @ObservationIgnored private var isWaiting = false

    private struct Remembered: Codable {
        var leaf: ExchangeLeaf
        var device: String?
        var key: String
        var name: String
        var report: Exchanged?
        var isAsking: Bool
    }

    init(_ house: House, _ saved: Data?) {
        self.house = house
        let before = Kept.read(Remembered.self, saved)
        // It goes on, and what came of it waits, while other pages are looked at.
        at = house.jobs[Self.job] == nil ? before?.leaf ?? .all : .busy
        device = before?.device
        report = before?.report
        isAsking = before?.isAsking ?? false
        key.begin(before?.key ?? "")
        name.begin(before?.name ?? "")
    }

    func save() -> Data? {
        Kept.write(Remembered(leaf: at, device: device, key: key.text, name: name.text, report: report, isAsking: isAsking))
    }

    func shown() {
        look()
        goOn()
    }

    func left() {}

    func back() -> Bool {
        if at == .all || at == .busy { return false }
        turn(.all)
        return true
    }

    /// A folder was picked.
    func answered(_ name: String, _ picked: URL) {
        guard let kept = LentFolder(picked).kept() else { return house.complain(Words.Exchange.folderRefused) }
        house.system.remember(kept.base64EncodedString(), as: Self.folderKey)
        look()
    }

    private func turn(_ to: ExchangeLeaf, about: String? = nil) {
        house.complain(nil)
        at = to
        device = about
        isAsking = false
        if to != .pair {
            key.begin("")
            name.begin("")
        }
    }

    private func look() {
        house.core.make {
            try $0.peers()
        } then: { [weak self] answered in
            guard let self else { return }
            if case .failure(let error) = answered, case .success? = read { house.complain(error) } else { read = answered }
        }
    }

    // ---- The folder

    /// As it was chosen: a setting of the phone, for another has another way to it.
    private var kept: String? { house.system.remembered(Self.folderKey) }
    private var folder: LentFolder? { kept.flatMap { Data(base64Encoded: $0) }.flatMap { LentFolder($0) } }

    private func pickFolder() { house.ask(.folder, "folder") }

    private func exchange() {
        guard let kept else { return pickFolder() }
        guard let folder else { return turn(.all) }
        report = nil
        at = .busy
        let isLent = folder.url.startsLending()
        house.jobs.begin(Self.job) {
            try $0.startExchangeBy(folder: Folder(folder.url), knownBy: kept)
        } ended: {
            if isLent { folder.url.stopsLending() }
        }
        goOn()
    }

    /// What the leaf says is under way is begun again where this process knows nothing of it.
    private func goOn() {
        guard at == .busy else { return }
        guard let job = house.jobs[Self.job] else { return exchange() }
        job.watch = { [weak self] in self?.told() }
        told()
    }

    private func told() {
        guard at == .busy, let ended = house.jobs[Self.job]?.ended else { return }
        house.jobs.forget(Self.job)
        switch ended {
        case .success(.exchanged(let done)):
            report = Exchanged(done)
            turn(.done)
            look()
        // The system put Trug aside in the middle: it goes on.
        case .failure(TrugError.Said(code: "paused", _, _)): exchange()
        case .failure(let error):
            turn(.all)
            house.complain(error)
        case .success: turn(.all)
        }
    }

    private func stop() { house.jobs[Self.job]?.stop() }

    // ---- Pairing

    private func pair() {
        let (key, name) = (key.typed, name.typed)
        once {
            try $0.pair(key: key, name: name)
        } then: { [weak self] peer in
            self?.turn(.device, about: peer.id)
        }
    }

    private func unpair(_ id: String) {
        once {
            try $0.unpair(id: id)
        } then: { [weak self] in
            self?.turn(.all)
        }
    }

    private func once<T: Sendable>(_ call: @escaping @Sendable (Book) throws -> T, then: @escaping @MainActor (T) -> Void) {
        if isWaiting { return }
        isWaiting = true
        house.core.make(call) { [weak self] answered in
            guard let self else { return }
            isWaiting = false
            switch answered {
            case .success(let value):
                then(value)
                look()
            case .failure(let error): house.complain(error)
            }
        }
    }

    // ---- What it shows

    /// What is under way is not gone back from to the rest of the page: it is left with the page, and goes on.
    private var way: [ExchangeLeaf] { at == .all || at == .busy ? [at] : [.all, at] }
    var leaves: [String] { way.map(\.rawValue) }

    func leaf(_ index: Int) -> Leaf {
        switch way[index] {
        case .all: return told(read)
        case .pair: return pairLeaf
        case .device: return deviceLeaf
        case .busy:
            var body = Column(.head(Words.Exchange.busy))
            body.words(house.jobs[Self.job]?.words(house.writing) ?? Words.App.busy)
            body.words(Words.Exchange.busyAbout, .quiet)
            let stop = Touch(Words.Exchange.stop, .thumb) { [weak self] in self?.stop() }
            return Leaf(said: Words.Exchange.busy, body: body.lines, thumb: Column(.touch(stop)).lines)
        case .done:
            let done = Touch(Words.App.done, .thumb) { [weak self] in self?.turn(.all) }
            return Leaf(said: Words.Exchange.done, body: report?.lines ?? [], thumb: Column(.touch(done)).lines)
        }
    }

    private func told(_ read: Result<PeersPage, any Error>?) -> Leaf {
        switch read {
        case nil: .busy(title)
        case .failure(let error): .failed(title, error) { [weak self] in self?.look() }
        case .success(let page): Leaf(said: title, body: all(page), thumb: Column(.touch(next(page))).lines)
        }
    }

    private func all(_ page: PeersPage) -> [Line] {
        var body = Column()
        body.words(Words.Exchange.aboutDevices)
        body.part(Words.Exchange.devices)
        if page.peers.isEmpty { body.words(Words.Exchange.devicesNone, .quiet) }
        for peer in page.peers {
            body.put(.row(Row(peer.name, peer.key?.fingerprint ?? "") { [weak self] in self?.turn(.device, about: peer.id) }))
        }
        // With none yet, the way to pair one is at the thumb.
        if !page.peers.isEmpty { body.touch(Words.Exchange.pair) { [weak self] in self?.turn(.pair) } }
        body.part(Words.Exchange.folder)
        body.words(Words.Exchange.folderAbout, .quiet)
        if kept == nil {
            body.words(Words.Exchange.folderNone)
        } else {
            body.words(folder.map { Words.Exchange.folderIs(name: $0.url.lastPathComponent) } ?? Words.Exchange.folderUnnamed, .strong)
            if folder == nil { body.words(Words.Exchange.folderLost) }
            body.touch(Words.Exchange.folderOther) { [weak self] in self?.pickFolder() }
        }
        body.part(Words.Exchange.key)
        body.words(Words.Exchange.keyAbout, .quiet)
        print(page.own, &body)
        body.beside(
            .touch(
                Touch(Words.Exchange.keyCopy) { [house] in
                    house.system.copy(page.own.text)
                    house.complain(Words.Exchange.keyCopied)
                }),
            .touch(Touch(Words.Exchange.keySend) { [house] in house.send(page.own.text) }))
        return body.lines
    }

    /// A key, to be compared by its figures, and in groups, as long lines are read.
    private func print(_ key: KeyShown, _ body: inout Column) {
        body.words(key.fingerprint, .strong)
        let groups = stride(from: 0, to: key.text.count, by: 8).map { key.text.dropFirst($0).prefix(8) }
        body.words(groups.joined(separator: " "), .quiet)
    }

    /// The next thing to do.
    private func next(_ page: PeersPage) -> Touch {
        if page.peers.isEmpty { return Touch(Words.Exchange.pair, .thumb) { [weak self] in self?.turn(.pair) } }
        if folder == nil { return Touch(Words.Exchange.folderChoose, .thumb) { [weak self] in self?.pickFolder() } }
        return Touch(Words.Exchange.now, .thumb) { [weak self] in self?.exchange() }
    }

    private var pairLeaf: Leaf {
        var body = Column()
        body.words(Words.Exchange.pairAbout)
        body.put(.field(key))
        body.put(.field(name))
        let pair = Touch(Words.Exchange.pairNow, .thumb) { [weak self] in self?.pair() }
        return Leaf(said: Words.Exchange.pair, body: body.lines, thumb: Column(.touch(pair)).lines)
    }

    private var deviceLeaf: Leaf {
        guard case .success(let page)? = read, let peer = page.peers.first(where: { $0.id == device }) else { return .busy(title) }
        var body = Column(.head(peer.name))
        if let key = peer.key {
            body.words(Words.Exchange.compare)
            print(key, &body)
        }
        var thumb = Column()
        if isAsking {
            thumb.words(Words.Exchange.unpairAbout)
            thumb.beside(
                .touch(Touch(Words.Exchange.unpairKeep) { [weak self] in self?.isAsking = false }),
                .touch(Touch(Words.Exchange.unpairYes, .filled) { [weak self] in self?.unpair(peer.id) }))
        } else {
            thumb.touch(Words.Exchange.unpair) { [weak self] in self?.isAsking = true }
        }
        return Leaf(said: peer.name, body: body.lines, thumb: thumb.lines)
    }

    private static let job = "exchange"
    private static let folderKey = "exchange-folder"
}
