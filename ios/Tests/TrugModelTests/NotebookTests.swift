import TrugCore
import XCTest

@testable import TrugModel

/// The notebook behind the pages: off the main thread, and said in words where it will not open.
final class NotebookTests: XCTestCase {
    @MainActor func testTheCoreIsNotToBeCalledOnTheMainThread() async throws {
        try await phone { phone in
            let held = try await phone.core { $0 }
            XCTAssertThrowsError(try held.now(here: nil)) { XCTAssertTrue($0 is Guard.OnMainThread) }
            XCTAssertThrowsError(try choices()) { XCTAssertTrue($0 is Guard.OnMainThread) }
            let finds = try await phone.core { try $0.now(here: nil).finds }
            XCTAssertTrue(finds.isEmpty)
        }
    }

    @MainActor func testTheFirstPageIsThereWhileTheNotebookIsStillBeingOpened() async throws {
        try await phone { phone in
            let system = TestSystem()
            let house = House(core: phone.core, system: system, room: phone.root)
            let leaf = house.front.leaf(0)
            guard case .saying(let busy)? = leaf.body.first?.print, case .touch(let first)? = leaf.thumb.first?.print else {
                return XCTFail("\(leaf)")
            }
            XCTAssertEqual(busy.words, "One moment")
            XCTAssertEqual(first.words, "Photograph a find", "there is no need to wait with a photo")
        }
    }

    @MainActor func testANotebookThatWillNotOpenIsSaidSoAndIsTriedAgain() async throws {
        try await phone { phone in
            let aside = phone.root.appendingPathComponent("aside")
            try await phone.die {
                try FileManager.default.moveItem(at: phone.notebook, to: aside)
                try Data("in the way".utf8).write(to: phone.notebook)
            }
            phone.assertReads("Try again")
            phone.assertTouchable()
            try FileManager.default.removeItem(at: phone.notebook)
            try FileManager.default.moveItem(at: aside, to: phone.notebook)
            await phone.tap("Try again")
            phone.assertReads("No outing yet")
        }
    }

    @MainActor func testEveryWordOfTheCoresHasAName() async throws {
        try await phone { phone in
            let named = try await phone.core { _ in try choices() }.filter { Words.choices[$0.field] != nil }
            let wanted: Set = ["on", "ground", "growth", "hazards", "stages", "how", "role", "may-pick", "outcome"]
            XCTAssertTrue(wanted.isSubset(of: named.map(\.field)))
            for list in named { XCTAssertEqual(Set(list.words), Set(Words.choices[list.field]?.map(\.word) ?? []), list.field) }
        }
    }

    @MainActor func testAtRestInTheBackgroundAndAwakeAgain() async throws {
        try await phone { phone in
            await phone.tap("Without a photo")
            await phone.type("7", "Seen")
            phone.house.left()
            XCTAssertEqual(phone.system.held, 1, "the system is asked to wait for the notebook")
            await phone.settle()
            while phone.system.held > 0 { await phone.settle() }
            phone.house.shown()
            await phone.settle()
            await phone.tap("Seen: one more")
            let fields = try await phone.find().fields
            XCTAssertEqual(fields.seenLeast, 8)
        }
    }

    /// WCAG 2.1, 1.4.3: at least 4.5 to 1, by its formula of relative luminance.
    func testInEachLookEverythingCanBeRead() {
        for look in Look.allCases {
            for ink in [look.ink(phoneIsDark: false), look.ink(phoneIsDark: true)] {
                for colour in [ink.text, ink.quiet, ink.touch] {
                    let (one, other) = (light(colour), light(ink.paper))
                    XCTAssertGreaterThanOrEqual((max(one, other) + 0.05) / (min(one, other) + 0.05), 4.5, "\(look) \(colour)")
                }
            }
        }
    }

    private func light(_ colour: Ink.Colour) -> Double {
        let linear = [colour.red, colour.green, colour.blue].map { $0 <= 0.03928 ? $0 / 12.92 : pow(($0 + 0.055) / 1.055, 2.4) }
        return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
    }

    @MainActor func testALookIsChosenAndStays() async throws {
        try await phone { phone in
            await phone.tap("Red for night")
            XCTAssertEqual(phone.house.look, .red)
            await phone.pullBattery()
            XCTAssertEqual(phone.house.look, .red)
            XCTAssertTrue(phone.house.look.ink(phoneIsDark: false).isRed)
        }
    }

    @MainActor func testWhatALaterTrugRememberedIsLeftOut() async throws {
        try await phone { phone in
            let house = House(
                core: phone.core, system: phone.system, room: phone.root,
                saved: Data(#"[{"stop":{"place":"weather","isStanding":false}}]"#.utf8))
            XCTAssertEqual(house.spots.map(\.name), ["now"])
        }
    }
}
