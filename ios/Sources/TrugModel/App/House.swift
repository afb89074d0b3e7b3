import Foundation
import Observation
import TrugCore

/// The house around the pages: holds them, and is what they may ask for. Everything that the one window shows is here.
@MainActor @Observable public final class House {
    public let position: Position
    public let camera: Camera
    public let writing: Writing
    @ObservationIgnored public let core: Core
    @ObservationIgnored let system: any System
    /// Trug's own folder on the phone, beside the notebook.
    @ObservationIgnored let room: URL

    /// The pages that Back leads through, the one in front last.
    public private(set) var stack: [Standing] = []
    /// What went wrong, or could not be done: said above the page until the next touch that does something.
    public private(set) var complaint: String?
    /// What is asked of one of the system's own sheets.
    public internal(set) var wish: Wish?
    /// How every page looks.
    public var look: Look {
        didSet { system.remember(look.rawValue, as: Self.lookKey) }
    }
    @ObservationIgnored private var gone: [Standing] = []
    @ObservationIgnored private var inFront = false
    @ObservationIgnored private var count = 0

    /// A page on the stack.
    @MainActor public final class Standing: Identifiable {
        public let id: Int
        public let stop: Stop
        public let page: any Page
        /// Each leaf as it was last seen: what is on its way out stays as it was.
        private var seen: [Int: Leaf] = [:]

        fileprivate init(_ id: Int, _ stop: Stop, _ page: any Page) {
            self.id = id
            self.stop = stop
            self.page = page
        }

        /// One of its leaves, ready to be drawn.
        public func leaf(_ at: Int) -> Leaf {
            if page.leaves.indices.contains(at) { seen[at] = page.leaf(at) }
            return seen[at] ?? .busy(page.title)
        }
    }

    /// The pages as they were, where `saved` holds some; else the first.
    public init(core: Core, system: any System, room: URL, saved: Data? = nil, writing: Writing = Writing()) {
        self.core = core
        self.system = system
        self.room = room
        self.writing = writing
        position = Position(system)
        camera = Camera(core, position, Captures(room.appendingPathComponent("captures")))
        look = system.remembered(Self.lookKey).flatMap(Look.init) ?? .phone
        camera.house = self
        for left in Kept.read([Left].self, saved) ?? [] { push(left.stop, left.saved) }
        if stack.isEmpty { push(Stop(.now), nil) }
        camera.handLeftovers()
    }

    /// Long work of the core's.
    public var jobs: Jobs { core.jobs }

    public var front: any Page { stack[stack.count - 1].page }

    // ---- Coming and going

    /// Trug comes to the front.
    public func shown() {
        inFront = true
        camera.awake()
        front.shown()
    }

    /// Trug leaves the front: what was typed is kept, and the notebook put in order, for which the system is asked to wait.
    public func left() {
        inFront = false
        front.left()
        position.stop()
        let end = system.stayAwake()
        core.rest { end() }
    }

    private struct Left: Codable {
        let stop: Stop
        let saved: Data?
    }

    /// All that is needed to make it again in another process.
    public func save() -> Data? {
        Kept.write(stack.map { Left(stop: $0.stop, saved: $0.page.save()) })
    }

    // ---- Pages

    /// Another page on top of this one.
    func go(_ to: Stop) {
        change { push(to, nil) }
    }

    /// Another page in place of this one.
    func turnInto(_ other: Stop) {
        change {
            stack.removeLast()
            push(other, nil)
        }
    }

    /// Back to the page before, if this one is in front.
    func leave(_ from: any Page) {
        if from === front, stack.count > 1 { change(pop) }
    }

    /// One step back; on the first page nothing.
    public func back() {
        complain(nil)
        if front.back() { return }
        if stack.count > 1 { change(pop) }
    }

    /// From every page, one step to the page for the bad day.
    public func someoneIsIll() {
        go(Stop(.ill))
    }

    /// Another app lets Trug open a file: it is looked into on a page of its own.
    public func open(_ file: URL) {
        let to = Stop(.receive, about: file.absoluteString)
        if stack[stack.count - 1].stop.place == .receive { turnInto(to) } else { go(to) }
    }

    private func change(_ step: () -> Void) {
        complain(nil)
        front.left()
        step()
        if inFront { front.shown() }
    }

    private func pop() {
        gone.append(stack.removeLast())
    }

    private func push(_ stop: Stop, _ saved: Data?) {
        gone = []
        count += 1
        stack.append(Standing(count, stop, stop.place.make(self, stop, saved)))
    }

    // ---- The way back, leaf by leaf, as the system's own navigation knows it

    /// A leaf that can be gone back to.
    public struct Spot: Hashable, Sendable {
        public let page: Int
        public let at: Int
        public let name: String
    }

    /// Every leaf of every page, the one in front last.
    public var spots: [Spot] {
        stack.flatMap { standing in
            standing.page.leaves.enumerated().map { Spot(page: standing.id, at: $0, name: $1) }
        }
    }

    /// Whose leaf a spot is; also while a page that was left is still seen going.
    public func standing(_ spot: Spot) -> Standing? { (stack + gone).first { $0.id == spot.page } }

    /// The system went back to a spot, by a swipe or its own button.
    public func wentBack(to count: Int) {
        // A step within a leaf, such as a doubt that is taken back, is none of these.
        var most = 2 * spots.count
        while spots.count > max(count, 1), most > 0 {
            most -= 1
            back()
        }
    }

    // ---- What pages ask for

    /// Something went wrong, or could not be done.
    func complain(_ words: String?) {
        complaint = words?.isEmpty == true ? nil : words
    }

    func complain(_ error: any Error) {
        complain(Words.sentence(error))
    }

    /// Starts the camera, or lets a photo be chosen.
    func photograph(_ purpose: Purpose, choose: Bool = false) {
        complain(nil)
        camera.ask(purpose, choose: choose)
    }

    /// Asks whether the position may be used; the page is shown again with the answer.
    func askPosition() {
        position.ask { [self] allowed in
            if inFront { front.shown() }
            // Refused for good, the system asks no more, and a touch that does nothing says nothing.
            if !allowed { complain(Words.App.positionRefused) }
        }
    }

    /// Asks for a day and an hour, beginning at `from`.
    func askTime(_ words: String, from: At?, told: @escaping @MainActor (At) -> Void) {
        let begin = from.map { Date(timeIntervalSince1970: Double($0.millis) / 1000) } ?? Date()
        wish = .time(TimeWish(words: words, from: begin, withHour: true) { told(At($0)) })
    }

    /// Asks for a day.
    func askDay(_ words: String, from: Date?, told: @escaping @MainActor (At) -> Void) {
        wish = .time(TimeWish(words: words, from: from ?? Date(), withHour: false) { told(At($0)) })
    }

    /// Asks one of the system's own pickers; the page in front is told what was picked, if anything (`Page.answered`).
    func ask(_ what: DocumentWish.Kind, _ name: String) {
        complain(nil)
        wish = .document(DocumentWish(kind: what, name: name))
    }

    /// Asks where a file is to be saved; the page in front is told where it went.
    func export(_ file: URL, _ name: String) {
        ask(.save(file), name)
    }

    /// Hands a file to another app that the owner chooses.
    func send(_ file: URL) {
        wish = .sendFile(file)
    }

    /// Hands words to another app that the owner chooses.
    func send(_ words: String) {
        wish = .send(words)
    }

    /// Does slow work that is not the core's, such as documents that come and go, away from the main thread.
    func aside<T: Sendable>(_ work: @escaping @Sendable () throws -> T, then: @escaping @MainActor (Result<T, any Error>) -> Void) {
        core.beside(work, then)
    }

    /// Opens the telephone at a number; nobody is rung yet.
    func ring(_ number: String) {
        system.ring(number.filter { $0.isNumber || $0 == "+" }) { [weak self] couldRing in
            if !couldRing { self?.complain(Words.Ill.ringNone(number: number)) }
        }
    }

    /// A photo is with its find. Its page opens where the photo was asked for; whoever has gone elsewhere meanwhile is left alone.
    func taken(_ purpose: Purpose, _ find: FindPage, isNow: Bool) {
        let top = stack[stack.count - 1].stop
        let from: Place = purpose.find == nil ? .now : .find
        if top.place == from, top.find == purpose.find, purpose.find != find.id {
            go(Stop(.find, find: find.id, isStanding: isNow))
        } else if inFront {
            front.shown()
        }
    }

    private static let lookKey = "look"
}

extension At {
    /// A moment, as the clock of the phone shows it.
    init(_ date: Date) {
        let millis = Int64((date.timeIntervalSince1970 * 1000).rounded(.down))
        self.init(millis: millis, offsetSeconds: Int32(TimeZone.current.secondsFromGMT(for: date)))
    }
}
