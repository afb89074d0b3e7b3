import Foundation
import Observation
import TrugCore

/// The leaves of the page, in the order in which one comes to them.
enum ShareLeaf: String, Codable {
    case what, outings, patches, preview, copy, square, sure, seal, making, made
}

/// *Share*: what may leave is chosen, shown as it will stand in the file, made, and saved or sent.
@MainActor @Observable final class Share: Page {
    let title = Words.Share.title
    @ObservationIgnored unowned let house: House
    /// The find that it was opened for, if it was for one.
    @ObservationIgnored let find: String?
    private var at: ShareLeaf
    /// What a leaf is about: a square by its name, a copy by its place.
    private(set) var about: String?
    private(set) var chosen: Chosen
    private(set) var page: SharePage?
    private(set) var seen: Seen?
    private(set) var made: Made?
    private var failed: (any Error)?
    @ObservationIgnored private let outbox: Outbox
    private(set) var copies: [CopyLeaving] = []
    @ObservationIgnored private(set) var wanted: UInt32
    @ObservationIgnored lazy var recipient = typing(Words.Share.recipient) { $0.recipient = $1 }
    @ObservationIgnored lazy var name = typing(Words.Share.ownName) { $0.name = $1 }
    @ObservationIgnored lazy var key = typing(Words.Share.keyHint) { $0.key = $1 }
    @ObservationIgnored lazy var first = Field(Words.Share.passphraseHint, .secret)
    @ObservationIgnored lazy var second = Field(Words.Share.passphraseAgain, .secret)
    private(set) var wrong: String?

    /// What would leave, as it was shown.
    struct Seen {
        let what: ShareWhat
        let leaving: LeavingShown
        let copies: CopiesLeaving
    }

    /// What was asked of the core.
    private struct Errand {
        let what: ShareWhat
        let made: Made?
    }

    private struct Remembered: Codable {
        var leaf: ShareLeaf
        var about: String?
        var chosen: Chosen
        var made: Made?
        var wanted: UInt32
    }

    init(_ house: House, _ find: String?, _ about: String?, _ saved: Data?) {
        self.house = house
        self.find = find
        outbox = Outbox(house.room.appendingPathComponent("outbox"))
        let before = Kept.read(Remembered.self, saved)
        at = before?.leaf ?? .what
        self.about = before?.about
        made = before?.made
        wanted = before?.wanted ?? Self.step
        chosen = before?.chosen ?? Chosen(which: about.map { .patch($0) } ?? find.map { .find($0) })
        recipient.begin(chosen.recipient)
        name.begin(chosen.name)
        key.begin(chosen.key)
        if before == nil { house.jobs.forget(Self.job) }
        sweep(made?.id)
    }

    func save() -> Data? {
        flush()
        return Kept.write(Remembered(leaf: at, about: about, chosen: chosen, made: made, wanted: wanted))
    }

    private func typing(_ label: String, _ set: @escaping (inout Chosen, String) -> Void) -> Field {
        Field(label, .name) { [unowned self] _, typed in choose { set(&$0, typed) } }
    }

    private func flush() {
        for field in [recipient, name, key] { field.flush() }
    }

    // ---- Coming and going

    func shown() {
        switch at {
        case .what, .outings, .patches: look()
        case .made: break
        case .making where house.jobs[Self.job] == nil:
            // The process ended while it was made: it is shown again, and can be made again.
            at = .preview
            gather()
            house.complain(Words.Share.notMade)
        default: if house.jobs[Self.job] != nil { watch() } else if seen?.what != chosen.what { gather() }
        }
    }

    func left() { flush() }

    func back() -> Bool {
        switch at {
        case .what:
            forget()
            return false
        case .outings, .patches: turn(.what)
        case .preview:
            house.jobs.forget(Self.job)
            turn(.what)
        case .copy, .square, .sure, .seal: turn(.preview)
        case .making:
            house.jobs.forget(Self.job)
            turn(.preview)
        case .made:
            forget()
            turn(.what)
        }
        return true
    }

    func turn(_ to: ShareLeaf, about: String? = nil) {
        house.complain(nil)
        flush()
        if to != .seal {
            first.begin("")
            second.begin("")
        }
        wrong = nil
        at = to
        self.about = about
        if [.what, .outings, .patches].contains(to) { look() }
    }

    // ---- What may leave

    /// Something else is chosen.
    func choose(_ change: (inout Chosen) -> Void) {
        let before = chosen.which
        change(&chosen)
        if chosen.which != before { look() }
    }

    private func look() {
        let asked = chosen.which
        house.core.make {
            try $0.sharePage(which: asked?.asked)
        } then: { [weak self] answered in
            // A slower answer never overtakes quicker fingers.
            guard let self, asked == chosen.which else { return }
            switch answered {
            case .success(let page):
                self.page = page
                chosen.which = Which(page.which)
                failed = nil
            case .failure(let error): if page == nil { failed = error } else { house.complain(error) }
            }
        }
    }

    // ---- Work that goes on by itself

    /// Gathers what would leave.
    func preview() {
        flush()
        wanted = Self.step
        turn(.preview)
        gather()
    }

    private func gather() {
        let (what, isSealed) = (chosen.what, chosen.lock != .open)
        seen = nil
        copies = []
        house.jobs.begin(Self.job, about: Errand(what: what, made: nil)) {
            try $0.startPreview(what: what, sealed: isSealed)
        }
        watch()
    }

    /// What was shown is wanted: all that is to be agreed to or given for it is asked, then it is made.
    func make(agreed: Bool = false, passphrase: String? = nil) {
        guard let seen else { return gather() }
        if !seen.leaving.agreeTo.isEmpty, !agreed { return turn(.sure) }
        if chosen.lock == .passphrase, passphrase == nil { return turn(.seal) }
        let seal = chosen.seal(passphrase ?? "")
        do {
            let parcel = try outbox.begin(seen.leaving.fileName)
            turn(.making)
            let errand = Errand(what: seen.what, made: Made(id: parcel.id, name: seen.leaving.fileName))
            house.jobs.begin(Self.job, about: errand) {
                try $0.startShare(what: seen.what, seal: seal, mark: seen.leaving.mark, path: parcel.file.path)
            }
            watch()
        } catch {
            house.complain(Words.sentence("no-room"))
        }
    }

    /// The passphrase, typed twice: one that was mistyped would open nothing ever again. It is written down nowhere.
    func seal() {
        if first.text.isEmpty {
            wrong = Words.Share.passphraseEmpty
        } else if first.text != second.text {
            wrong = Words.Share.passphraseDiffers
        } else {
            make(agreed: true, passphrase: first.text)
        }
    }

    /// Told of what is under way, or was while another page was made of this one.
    private func watch() {
        house.jobs[Self.job]?.watch = { [weak self] in self?.told() }
        told()
    }

    private func told() {
        guard let job = house.jobs[Self.job], let errand = job.about as? Errand, let ended = job.ended else { return }
        house.jobs.forget(Self.job)
        switch ended {
        case .success(.previewed(let leaving, let copies)):
            seen = Seen(what: errand.what, leaving: leaving, copies: copies)
            list()
        case .success(.shared):
            made = errand.made
            at = .made
        case .success: break
        case .failure(let error):
            guard errand.made != nil else { return failed = error }
            // What was shown is shown anew: it may be that which has changed.
            at = .preview
            gather()
            house.complain(error)
        }
    }

    /// The copies that leave, so many at a time: there may be thousands.
    private func list() {
        guard let seen else { return }
        let wanted = wanted
        house.core.make { _ in
            try seen.copies.page(from: 0, count: wanted)
        } then: { [weak self] answered in
            if case .success(let copies) = answered { self?.copies = copies }
        }
    }

    func more() {
        wanted += Self.step
        list()
    }

    // ---- The way out

    func save(_ made: Made) {
        if let file = file(made) { house.export(file, "save") }
    }

    func answered(_ name: String, _ picked: URL) {
        made?.savedAs = picked.lastPathComponent
    }

    func send(_ made: Made) {
        guard let file = file(made) else { return }
        outbox.sent(made.id)
        self.made?.wasSent = true
        house.send(file)
    }

    /// The file, if it lies there still; else it can be made again.
    private func file(_ made: Made) -> URL? {
        if let file = outbox.named(made.id, made.name) { return file }
        self.made = nil
        turn(.preview)
        gather()
        house.complain(Words.Share.gone)
        return nil
    }

    /// A file that was made and is wanted no more is taken away; one that was sent may still be read.
    private func forget() {
        house.jobs.forget(Self.job)
        made = nil
        seen = nil
        sweep(nil)
    }

    private func sweep(_ kept: String?) {
        let outbox = outbox
        house.aside {
            outbox.sweep(kept)
        } then: { _ in
        }
    }

    func done() {
        forget()
        house.leave(self)
    }

    // ---- What it shows

    var leaves: [String] {
        switch at {
        case .what: [ShareLeaf.what.rawValue]
        case .copy, .square, .sure, .seal: [ShareLeaf.what.rawValue, ShareLeaf.preview.rawValue, at.rawValue]
        default: [ShareLeaf.what.rawValue, at.rawValue]
        }
    }

    func leaf(_ index: Int) -> Leaf {
        let shown: ShareLeaf = index == leaves.count - 1 ? at : index == 0 ? .what : .preview
        if let failed, page == nil || ![.what, .outings, .patches, .made].contains(shown) {
            return .failed(title, failed) { [weak self] in
                self?.failed = nil
                self?.shown()
            }
        }
        switch shown {
        case .what, .outings, .patches:
            guard let page else { return .busy(title) }
            return shown == .what ? whatLeaf(page) : shown == .outings ? outingsLeaf(page) : patchesLeaf(page)
        case .made: return made.map(madeLeaf) ?? .busy(title)
        case .making: return busyLeaf(Words.Share.making)
        case .preview, .copy, .square, .sure, .seal:
            guard let seen, seen.what == chosen.what else { return busyLeaf(Words.Share.gathering) }
            return seenLeaf(shown, seen)
        }
    }

    private func busyLeaf(_ head: String) -> Leaf {
        var body = Column(.head(head))
        body.words(house.jobs[Self.job]?.words(house.writing), .quiet)
        let stop = Touch(Words.Share.cancel, .tall) { [weak self] in self?.house.back() }
        return Leaf(said: head, body: body.lines, thumb: Column(.touch(stop)).lines)
    }

    private static let job = "share"
    private static let step: UInt32 = 50
}
