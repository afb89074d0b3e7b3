import Foundation
import TrugCore
import XCTest

/// The core through its Swift bindings: records, errors, one whole find, one key session. What the core decides is tested in
/// Rust; here it is enough that all of it comes across.
final class SmokeTests: XCTestCase {
    private var folder = URL(fileURLWithPath: "/")

    override func setUpWithError() throws {
        // There is nothing to be drawn here.
        Guard.forbidsMainThread = false
        folder = FileManager.default.temporaryDirectory.appendingPathComponent(UUID().uuidString)
        try FileManager.default.createDirectory(at: folder, withIntermediateDirectories: true)
    }

    override func tearDownWithError() throws {
        try FileManager.default.removeItem(at: folder)
    }

    private func open() throws -> Book {
        let zone = Zone(name: "Europe/London", offsetSeconds: 0)
        return try Book.open(folder: folder.appendingPathComponent("notebook").path, zone: zone)
    }

    /// The smallest picture there is: one pixel, as PNG.
    private func photo() throws -> String {
        let pixel = """
            iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==
            """
        let file = folder.appendingPathComponent("photo.png")
        try XCTUnwrap(Data(base64Encoded: pixel)).write(to: file)
        return file.path
    }

    private func seen(_ character: String, _ state: String) -> KeySeen {
        KeySeen(character: character, states: [state], fromMm: nil, toMm: nil, sure: true)
    }

    func testAnErrorComesWithItsCodeItsArgumentsAndWords() throws {
        let book = try open()
        XCTAssertThrowsError(try book.findPage(id: UUID().uuidString)) { error in
            guard case TrugError.Said(let code, let arguments, let fallback) = error else {
                return XCTFail("another error: \(error)")
            }
            XCTAssertEqual(code, "not-found")
            XCTAssertEqual(arguments, [Argument(name: "what", value: "find")])
            XCTAssertTrue(fallback.contains("find"))
        }
    }

    func testAWholeFindFromItsPhotoToAdvice() throws {
        let book = try open()
        let outing = try book.startOuting(place: "Harrow Shaw", mayPick: "permitted")
        XCTAssertEqual(outing.mayPick, "permitted")
        let fix = Fix(latitude: 51.5, longitude: -1.5, accuracyM: 8)
        var page = try book.beginFind(photo: try photo(), role: "whole", fix: fix)
        XCTAssertEqual(page.photos.count, 1)
        XCTAssertEqual(page.missingRoles, ["underside", "stem-base"])
        XCTAssertEqual(page.advice.kind, .leave)

        page = try book.nameFind(id: page.id, name: "velvet shank", how: "sight", sure: "sure", who: nil)
        XCTAssertEqual(page.name.name?.id, "velvet-shank")
        XCTAssertTrue(page.signs.contains { $0.id == "cap-open" && !$0.chosen })
        page = try book.amendFind(
            id: page.id,
            values: [
                FieldValue(field: "seen", value: "7"), FieldValue(field: "width", value: "25-40"),
                FieldValue(field: "signs", value: "cap-open"), FieldValue(field: "host", value: "elm!"),
                FieldValue(field: "on", value: "standing-trunk"),
            ])
        XCTAssertEqual(page.advice.kind, .noMoreThan)
        XCTAssertEqual(page.advice.upTo, 3)
        XCTAssertTrue(page.advice.checks.contains { $0.name == "funeral bell" && $0.deadly })

        page = try book.amendFind(id: page.id, values: [FieldValue(field: "taken", value: "3")])
        XCTAssertEqual(try book.now(here: fix).basket.count, 3)
        XCTAssertTrue(page.canUndo)
        page = try book.undo(id: page.id)
        XCTAssertNil(page.fields.taken)
    }

    func testAKeySessionToAGroup() throws {
        let book = try open()
        var page = try book.keyBegin(find: nil, suspect: nil)
        XCTAssertEqual(page.verdict.ending, .open)
        XCTAssertNotNil(page.question)
        XCTAssertEqual(page.sheet.first?.character, "form")
        let answers = [
            ("form", "cup"), ("cap-colour", "red"), ("substrate", "branch"), ("cup-outside", "felted"),
            ("hymenophore", "inner-face"), ("cup-inside", "smooth"), ("host", "hazel"), ("habitat", "wet"),
        ]
        for (character, state) in answers {
            var asked = page.asked
            asked.evidence.append(seen(character, state))
            page = try book.keyStep(asked: asked)
        }
        XCTAssertEqual(page.verdict.ending, .group)
        XCTAssertEqual(page.answers.count, answers.count)
        let find = try book.beginFind(photo: nil, role: "whole", fix: nil)
        let kept = try book.keyKeep(find: find.id, asked: page.asked)
        XCTAssertTrue(kept.name.settled)
        XCTAssertEqual(kept.name.how, "key")
    }

    func testPausedItSaysSoAndResumedItAnswers() throws {
        let book = try open()
        try book.pause()
        XCTAssertThrowsError(try book.now(here: nil))
        try book.resume(zone: Zone(name: "Europe/London", offsetSeconds: 0))
        XCTAssertTrue(try book.now(here: nil).finds.isEmpty)
    }
}
