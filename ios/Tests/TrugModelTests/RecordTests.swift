import TrugCore
import XCTest

@testable import TrugModel

/// A find is recorded, from the shutter to the advice, through the pages and against the real core.
final class RecordTests: XCTestCase {
    @MainActor func testAFindThatIsKnownIsRecordedInAtMostEightTouches() async throws {
        try await phone { phone in
            await phone.begin()
            let before = phone.touches
            await phone.name("Velvet shank")
            await phone.type("7", "Seen")
            await phone.type("35", "from mm")
            await phone.tap("cap opened out")
            XCTAssertLessThanOrEqual(phone.touches - before, 8)
            phone.assertTouchable()
            phone.assertReads("no more than 3 of these 7; leave 4")
            let find = try await phone.find()
            XCTAssertEqual(find.photos.map(\.role), ["whole"])
            XCTAssertEqual(find.name.name?.id, "velvet-shank")
            XCTAssertEqual(find.fields.seenLeast, 7)
            XCTAssertEqual(find.fields.widthLeastMm, 35)
            XCTAssertFalse(find.advice.checks.isEmpty, "a name on sight leaves its look-alikes to be checked")
        }
    }

    @MainActor func testWhatIsTooSmallIsLeft() async throws {
        try await phone { phone in
            await phone.begin()
            await phone.name("Velvet shank")
            await phone.type("7", "Seen")
            await phone.type("15", "from mm")
            phone.assertReads("Leave these.")
            phone.assertReads("15 mm")
            guard case .band(let band)? = phone.leaf.above.first?.print else { return XCTFail("no advice above") }
            XCTAssertTrue(band.isEdged, "what is to be left stands in a black edge")
            await phone.tapWhat("Show why.")
            phone.assertTouchable()
            phone.assertReads("20 mm")
        }
    }

    @MainActor func testWhatIsPastItIsLeft() async throws {
        try await phone { phone in
            await phone.begin()
            await phone.name("Shaggy inkcap")
            await phone.type("5", "Seen")
            let signs = try await phone.find().signs
            await phone.tap(try XCTUnwrap(signs.first { $0.words.contains("ink") }).words)
            phone.assertReads("Leave these")
            let stage = try await phone.find().condition?.stage
            XCTAssertEqual(stage, "past")
        }
    }

    @MainActor func testFromAPatchThatRestsNothingIsTaken() async throws {
        try await phone { phone in
            phone.system.allowPosition()
            await phone.turn()
            await phone.stand(51.5, -1.0, 8)
            await phone.begin()
            await phone.name("Jelly ear")
            await phone.type("12", "Seen")
            await phone.tap("Found a patch here")
            let patch = try await phone.find().patch
            let id = try XCTUnwrap(patch).id
            _ = try await phone.core { try $0.restPatch(patch: id, days: 14) }
            await phone.turn()
            phone.assertReads("Leave these")
            let reasons = try await phone.find().advice.reasons
            XCTAssertTrue(reasons.contains { $0.words.contains("rest") })
            await phone.back()
            await phone.stand(51.5, -1.0, 8)
            phone.assertReads("Rests until")
        }
    }

    @MainActor func testTheProcessDiesAtEveryStepAndNothingIsLost() async throws {
        try await phone { phone in
            await phone.begin()
            await phone.hurt()
            await phone.tap("I know it")
            await phone.type("velvet sh", "Name, English or Latin")
            await phone.hurt()
            await phone.tap("Velvet shank")
            await phone.hurt()
            await phone.type("7", "Seen")
            await phone.hurt()
            await phone.tap("Seen: one more")
            await phone.hurt()
            let seen = try await phone.find().fields.seenLeast
            XCTAssertEqual(seen, 8)
            await phone.type("35", "from mm")
            await phone.type("48", "to mm")
            await phone.hurt()
            await phone.tap("Taken: one more")
            await phone.tap("Taken: one more")
            await phone.hurt()
            await phone.tap("Growing on, Not noted")
            await phone.hurt()
            await phone.tap("fallen trunk")
            await phone.type("elder", "Tree")
            await phone.tap("a guess")
            await phone.hurt()
            phone.assertTouchable()
            await phone.back()
            await phone.tap("Note, Write a note")
            await phone.type("by the gate", "Write a note")
            await phone.hurt()
            await phone.tap("Done")
            await phone.tap("Of different ages, Not counted apart")
            await phone.type("2", "Buttons")
            await phone.hurt()
            let fields = try await phone.find().fields
            XCTAssertEqual(fields.stages, [StageCount(stage: "button", count: 2)])
            XCTAssertEqual([fields.seenLeast, fields.taken], [8, 2])
            XCTAssertEqual([fields.widthLeastMm, fields.widthMostMm], [35, 48])
            XCTAssertEqual([fields.on, fields.host, fields.hostSure, fields.note], ["fallen-trunk", "elder", "guess", "by the gate"])
            await phone.pullBattery()
            phone.assertReads("Velvet shank")
        }
    }

    @MainActor func testWhatCannotBeKeptIsSaidAndWhatWasThereStays() async throws {
        try await phone { phone in
            await phone.begin()
            await phone.type("35", "from mm")
            await phone.type("20", "to mm")
            phone.assertReads("That cannot be kept")
            var fields = try await phone.find().fields
            XCTAssertEqual(fields.widthMostMm, 35)
            await phone.type("50", "to mm")
            XCTAssertFalse(phone.reads("That cannot be kept"))
            fields = try await phone.find().fields
            XCTAssertEqual(fields.widthMostMm, 50)
        }
    }

    @MainActor func testEveryTouchCanBeUndoneToTheLast() async throws {
        try await phone { phone in
            await phone.begin()
            await phone.name("Velvet shank")
            await phone.type("7", "Seen")
            await phone.tap("Delete this find")
            phone.assertReads("marked as deleted")
            await phone.tap("Undo")
            XCTAssertFalse(phone.reads("marked as deleted"))
            await phone.tap("Undo")
            let fields = try await phone.find().fields
            XCTAssertNil(fields.seenLeast)
            await phone.tap("Undo")
            phone.assertReads("No name yet")
        }
    }

    @MainActor func testAFindWithoutAPhotoOnAnOutingWithItsBasket() async throws {
        try await phone { phone in
            phone.assertTouchable()
            await phone.tap("Start an outing")
            await phone.type("Harrow Shaw", "Where (if you like)")
            await phone.hurt()
            phone.assertTouchable()
            await phone.tap("The owner said yes")
            phone.assertReads("Harrow Shaw")
            await phone.tap("Without a photo")
            await phone.name("Velvet shank")
            await phone.type("9", "Seen")
            await phone.type("4", "Taken")
            await phone.type("62,5", "Weight in g")
            let fields = try await phone.find().fields
            XCTAssertEqual(fields.grams, 62.5)
            await phone.back()
            phone.assertReads("4, 62 g")
            await phone.tap("End the outing")
            phone.assertReads("No outing yet")
        }
    }

    @MainActor func testANameIsTakenBackAndAnotherGiven() async throws {
        try await phone { phone in
            await phone.tap("Without a photo")
            await phone.tap("I know it")
            await phone.type("Wood devil", "Name, English or Latin")
            await phone.tap("told")
            await phone.type("R.", "Who told you?")
            await phone.hurt()
            await phone.tap("Keep “Wood devil” as it is typed")
            phone.assertReads("Wood devil")
            await phone.tap("Names given")
            phone.assertReads("told: R.")
            await phone.hurt()
            await phone.tap("Take back: Wood devil")
            phone.assertReads("taken back")
            await phone.tap("Done")
            phone.assertReads("No name yet")
        }
    }
}

extension Phone {
    /// A photo is taken, and its find is open.
    func begin() async {
        await tap("Photograph a find")
        await shoot()
    }

    /// The find in front is named on sight.
    func name(_ name: String) async {
        await tap("I know it")
        await type(String(name.dropLast(2)), "Name, English or Latin")
        await tap(name)
    }

    /// The latest find as it is kept.
    func find() async throws -> FindPage {
        try await core { book in
            let finds = try book.now(here: nil).finds
            return try book.findPage(id: XCTUnwrap(finds.first).id)
        }
    }
}
