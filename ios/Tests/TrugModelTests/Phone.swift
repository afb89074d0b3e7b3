import Foundation
import TrugCore
import XCTest

@testable import TrugModel

/// The app in somebody's hand, without a screen, over the real core: its eyes, its thumb, its camera, its place, and its bad days.
@MainActor final class Phone {
    let root: URL
    let system = TestSystem()
    private(set) var core: Core
    private(set) var house: House
    /// How often something was touched.
    private(set) var touches = 0
    /// So many different photos were taken.
    var shades: UInt8 = 0

    var notebook: URL { root.appendingPathComponent("notebook") }
    var captures: URL { root.appendingPathComponent("captures") }

    /// `before` is done to the folder before anything is opened.
    init(before: (URL) throws -> Void = { _ in }) async throws {
        root = FileManager.default.temporaryDirectory.appendingPathComponent(UUID().uuidString)
        try FileManager.default.createDirectory(at: root, withIntermediateDirectories: true)
        try before(root)
        core = Core(folder: root.appendingPathComponent("notebook"))
        house = Self.house(core, system, root, nil)
        house.shown()
        await settle()
    }

    private static func house(_ core: Core, _ system: TestSystem, _ root: URL, _ saved: Data?) -> House {
        House(
            core: core, system: system, room: root, saved: saved,
            writing: Writing(locale: Locale(identifier: "en_GB")))
    }

    /// Lets go of everything.
    func close() {
        core.close()
        try? FileManager.default.removeItem(at: root)
    }

    /// Waits until the core has answered everything, and what it answered is shown.
    func settle() async {
        repeat { try? await Task.sleep(for: .milliseconds(2)) } while core.isBusy
    }

    /// Asks the core something itself.
    func core<T: Sendable>(_ call: @escaping @Sendable (Book) throws -> T) async throws -> T {
        try await withCheckedThrowingContinuation { waits in core.make(call) { waits.resume(with: $0) } }
    }

    // ---- Eyes

    var leaf: Leaf { house.front.leaf(house.front.leaves.count - 1) }
    private var lines: [Print] { all(leaf.above + leaf.body + leaf.thumb) }

    private func all(_ lines: [Line]) -> [Print] {
        lines.flatMap { line -> [Print] in
            switch line.print {
            case .beside(let lines), .column(let lines): all(lines)
            default: [line.print]
            }
        }
    }

    /// What the page in front says, in order; its frame not counted.
    var texts: [String] { lines.flatMap { words(of: $0) }.filter { !$0.isEmpty } }

    private func words(of print: Print) -> [String] {
        switch print {
        case .head(let words), .part(let words), .subhead(let words): [words]
        case .saying(let saying): [saying.words]
        case .band(let band): [band.head ?? ""] + band.lines.map(\.words)
        case .touch(let touch): [touch.words]
        case .row(let row): [row.words, row.about, row.mark ?? ""]
        case .amount(let amount): [amount.name, amount.amount] + amount.limits
        case .way(let way): [way.name, way.words, way.about]
        case .states(let states): states.all.map(\.label)
        case .field(let field): [field.text]
        case .counter(let counter): [counter.label, counter.field.text]
        case .photos(let photos): photos.map(\.label)
        case .months(let grid): grid.cells.flatMap { [$0.name, $0.number] }
        case .mark(let key): [key.words]
        case .map(let plate): [plate.said]
        case .square(let square): [square.said]
        case .run(let run): [run.name, run.dates]
        case .rule, .picture, .beside, .column: []
        }
    }

    func reads(_ part: String) -> Bool { (texts + [house.complaint ?? "", house.front.title]).contains { $0.contains(part) } }

    /// What a screen reader says of everything that is described as a whole.
    var spoken: [String] {
        lines.flatMap { print -> [String] in
            switch print {
            case .row(let row): [row.said]
            case .months(let grid): grid.cells.map(\.said)
            case .run(let run): [run.said]
            default: []
            }
        }
    }

    func assertSays(_ words: String, file: StaticString = #filePath, line: UInt = #line) {
        XCTAssertTrue(spoken.contains(words), "“\(words)” is not among \(spoken)", file: file, line: line)
    }

    func assertReads(_ part: String, file: StaticString = #filePath, line: UInt = #line) {
        XCTAssertTrue(reads(part), "“\(part)” is not among \(texts), \(house.complaint ?? "no complaint")", file: file, line: line)
    }

    /// Everything that can be touched has a name, and no two things on a leaf are taken for one.
    func assertTouchable(file: StaticString = #filePath, line: UInt = #line) {
        for thing in touchable { XCTAssertFalse(thing.names.contains(""), "something to touch has no name", file: file, line: line) }
        for lines in [leaf.above, leaf.body, leaf.thumb] {
            XCTAssertEqual(Set(lines.map(\.id)).count, lines.count, "\(lines.map(\.id))", file: file, line: line)
        }
        for print in lines {
            if case .picture(let picture) = print { XCTAssertFalse(picture.said.isEmpty, file: file, line: line) }
            if case .states(let states) = print {
                for figure in states.all.compactMap(\.figure) { XCTAssertNotNil(Figure.all[figure], figure, file: file, line: line) }
            }
        }
    }

    // ---- Thumb

    private struct Touchable {
        let names: [String]
        let act: @MainActor () -> Void
    }

    private var touchable: [Touchable] {
        lines.flatMap { print -> [Touchable] in
            switch print {
            case .touch(let touch): [Touchable(names: [touch.words, touch.said], act: touch.act)]
            case .row(let row): [Touchable(names: [row.words, row.said], act: row.act)]
            case .states(let states): states.all.map { state in Touchable(names: [state.label, state.said]) { states.act(state.id) } }
            case .band(let band): band.act.map { [Touchable(names: [band.said ?? band.lines[0].words], act: $0)] } ?? []
            case .months(let grid): grid.cells.compactMap { cell in cell.act.map { Touchable(names: [cell.said], act: $0) } }
            case .photos(let photos): photos.map { Touchable(names: [$0.label, $0.said], act: $0.act) }
            case .counter(let counter):
                [Touchable(names: [counter.more]) { counter.step(1) }, Touchable(names: [counter.fewer]) { counter.step(-1) }]
            default: []
            }
        }
    }

    func canTap(_ words: String) -> Bool { touchable.contains { $0.names.contains(words) } }

    func tap(_ words: String, file: StaticString = #filePath, line: UInt = #line) async {
        tapAtOnce(words, file: file, line: line)
        await settle()
    }

    /// Touches something before what was touched last is answered.
    func tapAtOnce(_ words: String, file: StaticString = #filePath, line: UInt = #line) {
        guard let found = touchable.first(where: { $0.names.contains(words) }) else {
            return XCTFail("“\(words)” is not to be tapped among \(texts)", file: file, line: line)
        }
        touches += 1
        found.act()
        // A step of a counter is kept like what is typed.
        for print in lines { if case .counter(let counter) = print { counter.field.focus(false) } }
    }

    /// Touches the first thing whose name holds this.
    func tapWhat(_ part: String, file: StaticString = #filePath, line: UInt = #line) async {
        let name = touchable.flatMap(\.names).first { $0.contains(part) }
        await tap(name ?? part, file: file, line: line)
    }

    /// Touches the same thing twice before anything is answered, as gloves do.
    func tapTwice(_ words: String) async {
        guard let found = touchable.first(where: { $0.names.contains(words) }) else { return XCTFail("no “\(words)” among \(texts)") }
        touches += 2
        found.act()
        found.act()
        await settle()
    }

    private var fields: [Field] {
        lines.compactMap {
            switch $0 {
            case .field(let field): field
            case .counter(let counter): counter.field
            default: nil
            }
        }
    }

    func field(_ label: String) -> Field? { fields.first { $0.label == label } }

    /// Types into the field with this label, and leaves it.
    func type(_ words: String, _ label: String, file: StaticString = #filePath, line: UInt = #line) async {
        guard let field = field(label) else {
            return XCTFail("no field “\(label)” among \(fields.map(\.label))", file: file, line: line)
        }
        touches += 1
        field.focus(true)
        field.type(words)
        field.focus(false)
        await settle()
    }

    func back() async {
        house.back()
        await settle()
    }

    // ---- Camera and place

    var isAskedForPhoto: Bool {
        switch house.wish {
        case .camera, .photo: true
        default: false
        }
    }

    /// The camera, or the picker, comes back with this.
    func comesBack(_ came: Camera.Came, file: StaticString = #filePath, line: UInt = #line) async {
        XCTAssertTrue(isAskedForPhoto, "no photo was asked for", file: file, line: line)
        house.camera.came(came)
        await settle()
    }

    func shoot(_ photo: Data = Shot.photo(), file: StaticString = #filePath, line: UInt = #line) async {
        await comesBack(.shot(photo), file: file, line: line)
    }

    /// What lies among the captures.
    var captured: [String] { (try? FileManager.default.contentsOfDirectory(atPath: captures.path)) ?? [] }

    /// The phone learns where it is; so many seconds ago.
    func stand(_ latitude: Double, _ longitude: Double, _ accuracyM: Double?, secondsAgo: Int = 0) async {
        let at = ContinuousClock.now - .seconds(secondsAgo)
        system.tell?(Reading(latitude: latitude, longitude: longitude, accuracyM: accuracyM, at: at))
        await settle()
    }

    // ---- Bad days

    /// Everything is made again over the same notebook, as when the system takes the window away and gives it back.
    func turn() async {
        await again(dies: false, saved: leave())
    }

    /// The process dies while the app is behind another, and is begun again: nothing is left but what was saved.
    func die(meanwhile: () throws -> Void) async throws {
        let saved = leave()
        await settle()
        core.close()
        try meanwhile()
        await again(dies: true, saved: saved)
    }

    func die() async {
        try? await die {}
    }

    /// The battery is pulled: not even that is left.
    func pullBattery() async {
        _ = leave()
        await settle()
        core.close()
        await again(dies: true, saved: nil)
    }

    private func leave() -> Data? {
        house.left()
        return house.save()
    }

    private func again(dies: Bool, saved: Data?) async {
        await settle()
        if dies { core = Core(folder: notebook) }
        house = Self.house(core, system, root, saved)
        house.shown()
        await settle()
    }

    /// The process dies, and the window goes and comes, and all stands as it stood.
    func hurt(file: StaticString = #filePath, line: UInt = #line) async {
        let before = texts
        await die()
        XCTAssertEqual(texts, before, "after dying", file: file, line: line)
        await turn()
        XCTAssertEqual(texts, before, "after turning", file: file, line: line)
    }
}

/// A phone with an empty notebook, for one test.
@MainActor func phone(_ before: (URL) throws -> Void = { _ in }, _ test: @MainActor (Phone) async throws -> Void) async throws {
    let phone = try await Phone(before: before)
    defer { phone.close() }
    try await test(phone)
}
