import TrugCore
import XCTest

@testable import TrugModel

/// Where the phone is: the best that is known, never an old one in silence, and Trug of use without any.
final class PositionTests: XCTestCase {
    @MainActor func testRefusedEverythingElseGoesOn() async throws {
        try await phone { phone in
            phone.assertReads("Trug does not know where you are")
            await phone.tap("Use this phone’s position")
            XCTAssertEqual(phone.system.asked, 1)
            phone.assertReads("This phone keeps its position from Trug.")
            await phone.tap("Without a photo")
            phone.assertReads("No place yet")
            await phone.tap("Where, No place yet")
            await phone.type("SU 387 147", "Grid reference or degrees")
            await phone.tap("Set")
            phone.assertTouchable()
            phone.assertReads("SU 387 147")
            await phone.type("nowhere", "Grid reference or degrees")
            await phone.tap("Set")
            phone.assertReads("That is no place.")
        }
    }

    @MainActor func testAllowedItIsListenedForAtOnce() async throws {
        try await phone { phone in
            phone.system.allows = true
            await phone.tap("Use this phone’s position")
            phone.assertReads("Waiting for a position")
            await phone.stand(51.5, -1.0, 8)
            phone.assertReads("None near here yet.")
        }
    }

    @MainActor func testAFindTakesTheBestFixThereIsAndABetterOneWhileItsFinderStandsByIt() async throws {
        try await phone { phone in
            await phone.allow()
            await phone.stand(51.5, -1.0, 30)
            await phone.tap("Without a photo")
            phone.assertReads("± 30 m, still improving")
            await phone.stand(51.50005, -1.0, 12)
            phone.assertReads("± 12 m, still improving")
            await phone.hurt()
            await phone.stand(51.50005, -1.0, 25)
            phone.assertReads("± 12 m")
            await phone.stand(51.6, -1.0, 3)
            phone.assertReads("± 12 m")
            await phone.stand(51.50004, -1.0, 2)
            phone.assertReads("± 2 m")
            XCTAssertFalse(phone.reads("still improving"), "good enough")
            XCTAssertNil(phone.system.tell, "and nothing is listened for any more")
        }
    }

    @MainActor func testAFindIsPutWhereThePhoneIsWheneverThatIsAsked() async throws {
        try await phone { phone in
            await phone.allow()
            await phone.stand(51.5, -1.0, 4, secondsAgo: 30)
            await phone.tap("Without a photo")
            await phone.tapWhat("Where, ")
            XCTAssertFalse(phone.canTap("Put it here, ± 4 m"), "an old fix is not offered")
            phone.assertReads("Waiting for a position")
            await phone.stand(51.6, -1.0, 9)
            await phone.tap("Put it here, ± 9 m")
            let place = try await phone.find().place
            XCTAssertEqual(place?.latitude, 51.6)
            XCTAssertEqual(place?.got, "fix")
        }
    }

    @MainActor func testAPhotoThatIsChosenDoesNotTakeThePlaceOfThePhone() async throws {
        try await phone { phone in
            await phone.allow()
            await phone.stand(51.5, -1.0, 4)
            let chosen = phone.root.appendingPathComponent("chosen.png")
            try Shot.photo().write(to: chosen)
            await phone.tap("Choose a photo")
            await phone.comesBack(.chosen(chosen))
            await phone.stand(51.5, -1.0, 3)
            phone.assertReads("No place yet")
            await phone.die()
            await phone.stand(51.5, -1.0, 2)
            phone.assertReads("No place yet")
        }
    }

    @MainActor func testWhoeverSaidNoIsNotAskedAtEveryOuting() async throws {
        try await phone { phone in
            for _ in 0..<2 {
                await phone.tap("Start an outing")
                await phone.tap("My own land")
                await phone.tap("End the outing")
                XCTAssertEqual(phone.system.asked, 1, "asked with the first outing, and not with the next")
            }
            await phone.tap("Use this phone’s position")
            XCTAssertEqual(phone.system.asked, 2, "asked again where it is wanted")
        }
    }

    @MainActor func testAnOldFixIsNotUsed() async throws {
        try await phone { phone in
            await phone.allow()
            await phone.stand(51.5, -1.0, 5, secondsAgo: 600)
            phone.assertReads("Waiting for a position")
            await phone.tap("Without a photo")
            phone.assertReads("No place yet")
        }
    }

    @MainActor func testTheLightThatIsLeft() async throws {
        try await phone { phone in
            await phone.allow()
            await phone.stand(51.5, -1.0, 5)
            XCTAssertTrue(phone.reads("Sunset") || phone.reads("sunset"), "whatever the hour, the day’s end is told")
            let (rise, set) = (at(7, 40), at(16, 2))
            for (now, words) in [
                (at(0, 30), "Sunrise 07:40, sunset 16:02"), (at(12, 0), "Sunset 16:02: 4 h 2 min left"),
                (at(15, 20), "Sunset 16:02: 42 min left"), (at(18, 0), "Sunset was at 16:02"),
            ] {
                var page = try await phone.core { try $0.now(here: nil) }
                page.now = now
                page.light = Light(sunrise: rise, sunset: set, minutesLeft: (set.millis - now.millis) / 60_000, staysUp: false)
                XCTAssertEqual(Lines(now: page, writing: phone.house.writing).light()?.words, words)
            }
        }
    }

    private func at(_ hour: Int64, _ minute: Int64) -> When {
        When(millis: ((20_000 * 24 + hour) * 60 + minute) * 60_000, offsetSeconds: 0, day: "2024-10-04")
    }

    func testTheBestOfTwoReadings() {
        let begin = ContinuousClock.now
        func reading(_ accuracy: Double?, _ second: Int) -> Reading {
            Reading(latitude: 51.5, longitude: -1.5, accuracyM: accuracy, at: begin + .seconds(second))
        }
        let known = reading(10, 100)
        for (new, now, best) in [
            (reading(8, 101), 101, 8.0), (reading(12, 101), 101, 10), (reading(nil, 101), 101, 10),
            // The known one is stale by now.
            (reading(50, 130), 130, 50),
            // The new one came late and is stale itself.
            (reading(1, 60), 101, 10),
        ] {
            XCTAssertEqual(Reading.best(known, new, begin + .seconds(now))?.accuracyM, best, "\(new)")
        }
        XCTAssertNil(Reading.best(known, reading(1, 60), begin + .seconds(200)), "both are stale")
    }
}

/// Wet gloves and quick fingers: what is touched twice is done once, what is typed stays typed, and Undo takes back what was done.
final class GlovesTests: XCTestCase {
    @MainActor func testTouchedTwiceAFindIsBegunOnceAndNamedOnce() async throws {
        try await phone { phone in
            await phone.tapTwice("Without a photo")
            let count = try await phone.count()
            XCTAssertEqual(count, 1)
            await phone.tap("I know it")
            await phone.type("velvet sh", "Name, English or Latin")
            await phone.tapTwice("Velvet shank")
            let names = try await phone.find().names
            XCTAssertEqual(names.count, 1)
        }
    }

    @MainActor func testTouchedTwiceUndoTakesBackOneThing() async throws {
        try await phone { phone in
            await phone.tap("Without a photo")
            await phone.type("7", "Seen")
            await phone.type("2", "Taken")
            await phone.tapTwice("Undo")
            let fields = try await phone.find().fields
            XCTAssertEqual([fields.seenLeast, fields.taken], [7, nil])
        }
    }

    @MainActor func testUndoTakesBackWhatWasDoneAlsoWhatWasTypedJustNowAndLeavesTheFixThatCameByItself() async throws {
        try await phone { phone in
            await phone.allow()
            await phone.stand(51.5, -1.0, 30)
            await phone.tap("Without a photo")
            await phone.type("7", "Seen")
            await phone.stand(51.50005, -1.0, 12)
            await phone.tap("Undo")
            var find = try await phone.find()
            XCTAssertNil(find.fields.seenLeast)
            XCTAssertEqual(find.place?.accuracyM, 12)
            phone.field("Seen")?.type("9")
            await phone.tap("Undo")
            XCTAssertEqual(phone.field("Seen")?.text, "")
            find = try await phone.find()
            XCTAssertNil(find.fields.seenLeast)
        }
    }

    @MainActor func testWhoeverWalksOnDoesNotTakeTheFindAlong() async throws {
        try await phone { phone in
            await phone.allow()
            await phone.stand(51.5, -1.0, 30)
            await phone.tap("Without a photo")
            // What is typed is kept while the page is left, and its answer comes after that.
            phone.field("Seen")?.type("7")
            await phone.back()
            await phone.stand(51.50005, -1.0, 4)
            let find = try await phone.find()
            XCTAssertEqual(find.fields.seenLeast, 7)
            XCTAssertEqual(find.place?.accuracyM, 30)
        }
    }

    @MainActor func testNumbersStayAsTheyAreTyped() async throws {
        try await phone { phone in
            await phone.tap("Without a photo")
            await phone.type("35.", "from mm")
            XCTAssertEqual(phone.field("from mm")?.text, "35.")
            await phone.type("1250,5", "Weight in g")
            await phone.turn()
            XCTAssertEqual(phone.field("Weight in g")?.text, "1250.5")
            var fields = try await phone.find().fields
            XCTAssertEqual([fields.widthMostMm, fields.grams], [35, 1250.5])
            await phone.type("", "from mm")
            await phone.type("4", "to mm")
            await phone.type("48", "to mm")
            fields = try await phone.find().fields
            XCTAssertEqual([fields.widthLeastMm, fields.widthMostMm], [48, 48])
        }
    }

    @MainActor func testWhatCannotBeKeptStaysInItsFieldAndTheAdviceIsThatOfWhatIsOnRecord() async throws {
        try await phone { phone in
            await phone.tap("Without a photo")
            await phone.type("35", "from mm")
            await phone.type("7", "Seen")
            await phone.type("20", "to mm")
            phone.assertReads("That cannot be kept")
            await phone.tap("Taken: one more")
            XCTAssertEqual(phone.field("to mm")?.text, "20")
            let fields = try await phone.find().fields
            XCTAssertEqual([fields.seenLeast, fields.taken], [7, 1])
            XCTAssertEqual(fields.widthMostMm, 35)
        }
    }

    @MainActor func testWhatIsTypedIsKeptAMomentLaterByItself() async throws {
        try await phone { phone in
            await phone.tap("Without a photo")
            phone.field("Seen")?.type("7")
            for _ in 0..<500 {
                await phone.settle()
                if try await phone.find().fields.seenLeast == 7 { return }
                try await Task.sleep(for: .milliseconds(10))
            }
            XCTFail("it was never kept")
        }
    }

    @MainActor func testAPlaceThatWasTypedAndNotSetYetIsNotLost() async throws {
        try await phone { phone in
            await phone.tap("Without a photo")
            await phone.tap("Where, No place yet")
            await phone.type("SU 387 147", "Grid reference or degrees")
            await phone.turn()
            await phone.die()
            XCTAssertEqual(phone.field("Grid reference or degrees")?.text, "SU 387 147")
            await phone.tap("Done")
            phone.assertReads("SU 387 147")
        }
    }

    @MainActor func testUnfitGroundTouchedQuicklyIsAllKept() async throws {
        try await phone { phone in
            await phone.tap("Without a photo")
            await phone.tap("Growing on, Not noted")
            for hazard in ["roadside", "sprayed"] { phone.tapAtOnce(hazard) }
            await phone.settle()
            let hazards = try await phone.find().fields.hazards
            XCTAssertEqual(Set(hazards), ["roadside", "sprayed"])
        }
    }

    @MainActor func testBackClosesAQuestion() async throws {
        try await phone { phone in
            await phone.tap("Start an outing")
            XCTAssertEqual(phone.house.spots.count, 2)
            await phone.back()
            phone.assertReads("No outing yet")
            await phone.back()
            XCTAssertEqual(phone.house.spots.count, 1, "from the first page there is no way back")
        }
    }
}

extension Phone {
    /// Its owner has allowed the position.
    func allow() async {
        system.allowPosition()
        await turn()
    }
}
