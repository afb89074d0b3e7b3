import TrugCore
import XCTest

@testable import TrugModel

/// The bad day, through the page, over the real core; and without it. People and meals are invented.
final class IllTests: XCTestCase {
    @MainActor func testWhatStandsHereWithoutTheNotebookIsWhatTheCoreSays() async throws {
        try await phone { phone in
            for code in [nil, "GB", "gb-nir", "GB-XYZ", "FR", "XX", ""] {
                let told = try await phone.core { _ in try helpPage(country: code) }
                XCTAssertEqual(told, Help.page(code), code ?? "none")
            }
        }
    }

    @MainActor func testItOpensOnTheFirstWordsInOneStepFromEveryPageAndBackAgain() async throws {
        try await phone { phone in
            let find = try await phone.core { try $0.beginFind(photo: nil, role: "whole", fix: nil).id }
            for place in Place.allCases where place != .ill {
                phone.house.go(Stop(place, find: find))
                await phone.settle()
                let before = phone.house.front.title
                phone.house.someoneIsIll()
                await phone.settle()
                XCTAssertEqual(Array(phone.texts.prefix(2)), ["Get help now", "Do not wait for symptoms. Feeling better is not recovery."])
                phone.assertReads("No clinician has reviewed this page yet")
                phone.assertTouchable()
                await phone.back()
                XCTAssertEqual(phone.house.front.title, before)
            }
        }
    }

    @MainActor func testItHelpsWhenTheNotebookWillNotOpen() async throws {
        try await phone {
            try Data("no folder".utf8).write(to: $0.appendingPathComponent("notebook"))
        } _: { phone in
            phone.house.someoneIsIll()
            XCTAssertEqual(phone.texts.first, "Get help now", "it is there before the notebook has answered")
            await phone.settle()
            XCTAssertEqual(phone.texts.first, "Get help now")
            phone.assertReads("The notebook cannot be read now. Everything above holds without it.")
            await phone.tap("Ring 999")
            XCTAssertEqual(phone.system.rung, "999")
            await phone.tap("For the doctor")
            phone.assertReads("Try again")
            await phone.back()
            await phone.tap("Note a meal")
            phone.assertReads("Try again")
        }
    }

    @MainActor func testWhomToRingIsToldForTheCountryThatThePhoneStandsInOrAnother() async throws {
        try await phone { phone in
            phone.house.someoneIsIll()
            await phone.settle()
            await phone.tap("Ring 999")
            XCTAssertEqual(phone.system.rung, "999")
            // Northern Ireland has no 111, and a phone there says no more than GB (nidirect).
            XCTAssertFalse(phone.canTap("Ring 111"))
            await phone.tap("Another country")
            phone.assertTouchable()
            await phone.tap("Denmark")
            // sundhed.dk: Giftlinjen 82 12 12 12; the emergency number is from memory, and says so.
            await phone.tap("Ring 82 12 12 12")
            XCTAssertEqual(phone.system.rung, "82121212")
            phone.assertReads("From memory: not yet checked.")
            phone.assertReads("82 12 12 12: sundhed.dk")
            await phone.hurt()
            phone.assertReads("Denmark")
            await phone.back()
            // centres-antipoison.net: SAMU 15.
            phone.system.country = "fr"
            phone.house.someoneIsIll()
            await phone.settle()
            phone.assertReads("France")
            await phone.tap("Ring 15")
            XCTAssertEqual(phone.system.rung, "15")
            await phone.back()
            phone.system.country = "xx"
            phone.house.someoneIsIll()
            await phone.settle()
            await phone.tap("Choose the country you are in")
            phone.assertReads("Ring the emergency number of the country you are in.")
        }
    }

    @MainActor func testAPhoneThatCannotRingTellsTheNumber() async throws {
        try await phone { phone in
            phone.system.canRing = false
            phone.house.someoneIsIll()
            await phone.settle()
            await phone.tap("Ring 999")
            phone.assertReads("This phone cannot ring. The number is 999.")
        }
    }

    @MainActor func testEveryLineTellsWhereItComesFrom() async throws {
        try await phone { phone in
            phone.house.someoneIsIll()
            await phone.settle()
            phone.assertReads("999: NHS, \"Poisoning\", as republished by Richmond GP Alliance (Health A-Z), undated. Read 25 Nov 2026.")
            await phone.tap("Where the words come from")
            for line in Help.page("GB").sections.flatMap(\.lines) { phone.assertReads(line.words) }
            phone.assertReads("BfR (Germany), press release 37/2016. Read ")
        }
    }

    @MainActor func testAMealIsKeptFromItsFirstWordsOnAndTheProcessMayDieAtEveryStep() async throws {
        try await phone { phone in
            let find = try await phone.core { book in
                let begun = try book.beginFind(photo: nil, role: "whole", fix: nil)
                return try book.nameFind(id: begun.id, name: "velvet-shank", how: "sight", sure: nil, who: nil).id
            }
            phone.house.someoneIsIll()
            await phone.settle()
            await phone.tap("Note a meal")
            phone.assertReads("Kept as soon as it says what was eaten.")
            XCTAssertFalse(phone.reads("Who ate"), "nothing else is asked before it is known what")
            await phone.type("Toast with a tuft from Harrow Shaw", "What was eaten, in your words")
            var meals = try await phone.core { try $0.ill().meals }
            XCTAssertEqual(meals.map(\.what), ["Toast with a tuft from Harrow Shaw"])
            await phone.hurt()
            await phone.tap("Velvet shank")
            meals = try await phone.core { try $0.ill().meals }
            XCTAssertEqual(meals.map { $0.finds.map(\.id) }, [[find]])
            await phone.hurt()
            await phone.tap("Just now")
            await phone.tap("Cooked")
            await phone.hurt()
            await phone.type("Ada", "Name or initials")
            await phone.tap("Add")
            await phone.type("R.", "Name or initials")
            await phone.tap("Add")
            await phone.hurt()
            await phone.tap("Ill")
            await phone.type("Vomiting", "What signs, in the order they came")
            await phone.tap("When did the first sign come?")
            guard case .time(let wish)? = phone.house.wish else { return XCTFail("no time was asked for") }
            wish.told(Date(timeIntervalSince1970: 1_790_000_000))
            phone.house.wish = nil
            await phone.settle()
            phone.assertReads("First sign: 21 Sep")
            phone.assertTouchable()
            await phone.pullBattery()
            meals = try await phone.core { try $0.ill().meals }
            let meal = try XCTUnwrap(meals.first)
            XCTAssertEqual(meal.eaters.map(\.name), ["Ada", "R."])
            XCTAssertEqual(meal.eaters.map(\.feels), ["ill", "unknown"])
            XCTAssertEqual(meal.eaters.first?.signs, "Vomiting")
            XCTAssertEqual(meal.eaters.first?.firstSign?.millis, 1_790_000_000_000)
            XCTAssertEqual(meal.prepared, "cooked")
            XCTAssertNotNil(meal.at)
            phone.house.someoneIsIll()
            await phone.settle()
            await phone.tap("Toast with a tuft from Harrow Shaw")
            await phone.tap("Undo")
            await phone.tap("Undo")
            meals = try await phone.core { try $0.ill().meals }
            XCTAssertNil(meals.first?.eaters.first?.signs)
        }
    }

    @MainActor func testTheSheetSaysWhatItMayHaveBeenAndWhenSignsBegin() async throws {
        try await phone { phone in
            _ = try await phone.core { book in
                let begun = try book.beginFind(photo: nil, role: "whole", fix: nil)
                return try book.nameFind(id: begun.id, name: "velvet-shank", how: "sight", sure: nil, who: nil)
            }
            phone.house.someoneIsIll()
            await phone.settle()
            await phone.tap("Note a meal")
            await phone.tap("Velvet shank")
            await phone.tap("For the doctor")
            phone.assertReads("Taken for: Velvet shank (Flammulina velutipes)")
            // ACT Health; Atlas of Emergency Medicine, 5th edition, 2021.
            phone.assertReads("6 to 24 hours after the meal, or later")
            phone.assertReads("No clinician has reviewed what Trug says here.")
            phone.assertReads("Eaten: time not noted")
            XCTAssertTrue(phone.leaf.staysOn, "the screen stays on while it is held up")
            await phone.turn()
            phone.assertReads("Taken for: Velvet shank")
            await phone.back()
            phone.assertReads("Get help now")
            XCTAssertFalse(phone.leaf.staysOn)
        }
    }
}
