import TrugCore
import XCTest

@testable import TrugModel

/// What leaves is what was shown, and no place leaves that was not asked to. Woods and people are invented.
final class ShareTests: XCTestCase {
    /// A place that no file may tell nearer than its square.
    private static let place = Fix(latitude: 51.504273, longitude: -1.436182, accuracyM: 4)

    @MainActor private func begin(_ phone: Phone) async throws -> String {
        try await phone.core { book in
            let begun = try book.beginFind(photo: nil, role: "whole", fix: Self.place)
            _ = try book.nameFind(id: begun.id, name: "jelly-ear", how: "sight", sure: nil, who: nil)
            return try book.amendFind(
                id: begun.id,
                values: [
                    FieldValue(field: "seen", value: "5"), FieldValue(field: "note", value: "behind the bent elder"),
                    FieldValue(field: "habitat", value: "Harrow Shaw, north ride"),
                ]
            ).id
        }
    }

    @MainActor func testAFindIsSharedAtTenKilometresAndTheFileTellsNoMore() async throws {
        try await phone { phone in
            let find = try await begin(phone)
            phone.house.go(Stop(.find, find: find))
            await phone.settle()
            await phone.tap("Share this find")
            phone.assertReads("1 find")
            phone.assertTouchable()
            await phone.hurt()
            await phone.tap("For recorders (Darwin Core)")
            await phone.tap("A table (CSV)")
            await phone.hurt()
            await phone.tap("See what would leave")
            try await phone.until("1 copy")
            phone.assertReads("Exact place, notes and photo position stay with you.")
            phone.assertReads("The 10 km square SU37")
            phone.assertTouchable()
            await phone.tapWhat("1. cf. Jelly ear")
            phone.assertReads("This is all that the file says of it.")
            XCTAssertFalse(phone.texts.contains { $0.contains("elder") || $0.contains("Harrow") }, "\(phone.texts)")
            await phone.back()
            await phone.tap("Make the file")
            try await phone.until("The file is made")
            await phone.hurt()
            await phone.tap("Save")
            let file = try XCTUnwrap(phone.house.documentWish?.kind.file)
            let text = try String(contentsOf: file, encoding: .utf8)
            XCTAssertTrue(text.contains("Auricularia"), text)
            for secret in ["51.504", "1.4361", "elder", "Harrow", find] {
                XCTAssertFalse(text.contains(secret), "the file tells \(secret): \(text)")
            }
            phone.house.picked(URL(fileURLWithPath: "/elsewhere/jelly.csv"))
            await phone.settle()
            phone.assertReads("Saved as jelly.csv")
            await phone.tap("Send")
            XCTAssertEqual(phone.house.sentFile, file)
            phone.house.sends = false
            phone.assertReads("Handed on to be sent")
            await phone.tap("Done")
            XCTAssertTrue(phone.house.front is Find)
        }
    }

    @MainActor func testTheExactPlaceLeavesOnlyWhereThatIsAgreedTo() async throws {
        try await phone { phone in
            _ = try await begin(phone)
            await phone.tap("Share")
            await phone.tap("All")
            await phone.tap("The exact place")
            phone.assertReads("Whoever gets the file can go there.")
            await phone.tap("See what would leave")
            try await phone.until("1 copy")
            phone.assertReads("1 exact place")
            await phone.tap("Make the file")
            phone.assertReads("Are you sure?")
            phone.assertReads("Exact places are in it.")
            phone.assertTouchable()
            await phone.tap("Change it")
            await phone.tap("10 km square")
            await phone.tap("See what would leave")
            try await phone.until("1 copy")
            XCTAssertFalse(phone.reads("exact place"))
        }
    }

    @MainActor func testAPassphraseIsTypedTwiceAndWrittenDownNowhere() async throws {
        try await phone { phone in
            _ = try await begin(phone)
            await phone.tap("Share")
            await phone.tap("All")
            await phone.tap("With a passphrase")
            await phone.tap("See what would leave")
            try await phone.until("1 copy")
            phone.assertReads("Only the passphrase opens the file.")
            await phone.tap("Make the file")
            await phone.type("three dry words", "Passphrase")
            await phone.type("three wet words", "The same again")
            await phone.tap("Make the file")
            phone.assertReads("The two are not the same.")
            let remembered = String(decoding: try XCTUnwrap(phone.house.save()), as: UTF8.self)
            XCTAssertFalse(remembered.contains("words"), remembered)
            await phone.type("three dry words", "The same again")
            await phone.tap("Make the file")
            try await phone.until("The file is made")
            XCTAssertTrue(phone.texts.contains { $0.hasSuffix(".zip.age") }, "\(phone.texts)")
        }
    }

    @MainActor func testWhatHasChangedSinceItWasShownIsNotMade() async throws {
        try await phone { phone in
            let find = try await begin(phone)
            await phone.tap("Share")
            await phone.tap("All")
            await phone.tap("See what would leave")
            try await phone.until("1 copy")
            _ = try await phone.core { try $0.amendFind(id: find, values: [FieldValue(field: "seen", value: "9")]) }
            await phone.tap("Make the file")
            try await phone.until("1 copy")
            XCTAssertNotNil(phone.house.complaint)
            XCTAssertFalse(phone.reads("The file is made"))
        }
    }

    @MainActor func testTheProcessDiesWhileItIsMadeAndItIsShownAgain() async throws {
        try await phone { phone in
            _ = try await begin(phone)
            await phone.tap("Share")
            await phone.tap("All")
            await phone.tap("See what would leave")
            try await phone.until("1 copy")
            phone.tapAtOnce("Make the file")
            await phone.die()
            try await phone.until(phone.reads("The file is made") ? "The file is made" : "1 copy")
        }
    }
}

extension Phone {
    /// Waits for long work to come to this.
    func until(_ part: String, file: StaticString = #filePath, line: UInt = #line) async throws {
        let end = ContinuousClock.now + .seconds(60)
        while !reads(part), .now < end { await settle() }
        assertReads(part, file: file, line: line)
    }
}
