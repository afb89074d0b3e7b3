import TrugCore
import XCTest

@testable import TrugModel

/// Whole sessions at the key, through the page, against the real core. What fits what is a fact of the trade (common practice).
final class WorkTests: XCTestCase {
    @MainActor func testATuftWithoutItsSporesIsNotSettledWithTheFuneralBellInTheWay() async throws {
        try await phone { wood in
            try await wood.open()
            for state in Seen.glance { await wood.tap(state) }
            wood.assertTouchable()
            await wood.tap("Go on")
            let first = wood.texts[0]
            XCTAssertTrue(first.hasPrefix("Could still be") && first.contains("(has killed)"), first)
            try await wood.answer(from: Seen.tuft, most: 10) { wood.assertTouchable() }
            await wood.tapAnswers()
            wood.assertTouchable()
            await wood.tap("Stop here")
            wood.assertTouchable()
            XCTAssertEqual(wood.texts[1], "Not settled")
            let bell = try XCTUnwrap(wood.texts.first { $0.hasPrefix("Funeral bell") })
            XCTAssertTrue(bell.contains("is not spoken against. Look at:") && bell.contains("spore print"), bell)
            await wood.tap("Keep, and settle it later")
            let kept = try await wood.find()
            XCTAssertEqual(kept.names.map(\.how), ["key"])
            XCTAssertFalse(kept.name.settled)
        }
    }

    @MainActor func testWithEverythingSeenItIsSettledAndKeptWithItsChecks() async throws {
        try await phone { wood in
            try await wood.open()
            await wood.tap("I think it is …")
            await wood.type("velv", "Name, English or Latin")
            wood.assertTouchable()
            await wood.tap("Velvet shank")
            try await wood.answer(from: Seen.tuft.merging(Seen.more) { first, _ in first })
            wood.assertTouchable()
            XCTAssertEqual(wood.texts.first, "Fits velvet shank")
            XCTAssertTrue(wood.texts.contains { $0.hasPrefix("Funeral bell: spore print") })
            wood.assertReads("If in any doubt, leave it.")
            wood.assertNoLicence()
            await wood.tap("Keep this")
            let kept = try await wood.find()
            XCTAssertEqual(kept.name.name?.id, "velvet-shank")
            XCTAssertTrue(kept.name.settled)
        }
    }

    @MainActor func testElfCupsAreAGroup() async throws {
        try await phone { wood in
            try await wood.open()
            await wood.tap("a cup, saucer or disc")
            await wood.tap("Go on")
            try await wood.answer(from: Seen.elfCup)
            wood.assertReads("a group")
            XCTAssertTrue(Set(["Scarlet elf cup", "Ruby elf cup"]).isSubset(of: wood.texts), "\(wood.texts)")
            await wood.tap("Keep this")
            let kept = try await wood.find()
            XCTAssertTrue(kept.name.settled)
        }
    }

    @MainActor func testWhatFitsNothingIsSaidToFitNothing() async throws {
        try await phone { wood in
            try await wood.open()
            await wood.tap("cap on a stem, with pores beneath")
            await wood.tap("blue-green")
            await wood.tap("Go on")
            try await wood.answer(from: Seen.chimera)
            wood.assertTouchable()
            XCTAssertTrue(wood.texts.contains("Nothing that Trug knows fits well"), "\(wood.texts)")
            wood.assertReads("Photograph the underside and the dug-out base, and ask someone who knows. Leave it.")
            await wood.tap("Keep, and settle it later")
            let kept = try await wood.find()
            XCTAssertFalse(kept.name.settled)
        }
    }

    @MainActor func testTheProcessDiesAtEveryStepAndNothingIsLost() async throws {
        try await phone { wood in
            try await wood.open()
            for state in Seen.glance {
                await wood.tap(state)
                await wood.dieUnhurt()
            }
            await wood.tap("I think it is …")
            await wood.type("velv", "Name, English or Latin")
            await wood.dieUnhurt()
            await wood.tap("Velvet shank")
            await wood.dieUnhurt()
            await wood.tap("Not sure")
            await wood.dieUnhurt()
            let states = try await wood.keyPage().question?.states ?? []
            await wood.tap(states[0].label)
            await wood.tap(states[1].label)
            await wood.dieUnhurt()
            XCTAssertEqual(wood.asking.draft.states, states.prefix(2).map(\.id))
            await wood.back()
            XCTAssertEqual(wood.asking.leaf, .question, "back from a doubt is the question")
            XCTAssertFalse(wood.asking.draft.isUnsure)
            await wood.tap("Not sure")
            await wood.tap(states[0].label)
            await wood.tap(states[1].label)
            await wood.tap("Go on")
            await wood.dieUnhurt()
            await wood.tap("Another question")
            await wood.dieUnhurt()
            await wood.tap("Width, at a glance")
            await wood.type("18", "from mm")
            await wood.type("25", "to mm")
            await wood.dieUnhurt()
            await wood.tap("Go on")
            let last = wood.asking.asked.evidence.last
            XCTAssertEqual([last?.fromMm, last?.toMm], [18, 25])
            await wood.tapAnswers()
            await wood.dieUnhurt()
            await wood.tap("Stop here")
            await wood.dieUnhurt()
            let given = wood.asking.asked.evidence
            await wood.tap("Keep, and settle it later")
            let find = try await wood.find().id
            let kept = try await wood.core { try $0.keyBegin(find: find, suspect: nil).asked.evidence }
            XCTAssertEqual(kept, given)
        }
    }

    @MainActor func testWithTheBatteryGoneTheAnswersAreStillBesideTheFind() async throws {
        try await phone { wood in
            try await wood.open()
            for state in Seen.glance { await wood.tap(state) }
            let given = wood.asking.asked.evidence
            await wood.pullBattery()
            let find = try await wood.find().id
            await wood.open(find)
            XCTAssertEqual(wood.asking.asked.evidence, given)
            XCTAssertEqual(wood.asking.leaf, .question, "what is known already is not asked again")
        }
    }

    @MainActor func testAnswersAreTakenBackAndLookedAtAgain() async throws {
        try await phone { wood in
            try await wood.open()
            await wood.tap(Seen.glance[0])
            await wood.tap(Seen.glance[0])
            XCTAssertFalse(wood.asking.asked.evidence.contains { $0.character == "form" }, "a second tap takes it back")
            for state in Seen.glance { await wood.tap(state) }
            await wood.tap("Go on")
            await wood.tapAnswers()
            let count = wood.asking.asked.evidence.count
            await wood.tap("Take back: Colour: orange")
            XCTAssertEqual(wood.asking.asked.evidence.count, count - 1)
            await wood.tap("How they grow: in tufts, joined at the base. Look again.")
            let question = try await wood.keyPage().question
            XCTAssertEqual(question?.character, "growth")
            await wood.tap("singly")
            XCTAssertEqual(wood.asking.asked.evidence.filter { $0.character == "growth" }.map(\.states), [["tuft"], ["single"]])
            await wood.back()
            XCTAssertEqual(wood.asking.leaf, .sheet)
            await wood.back()
            XCTAssertNil(wood.work, "from the sheet, back leaves the page")
        }
    }

    @MainActor func testASwipeGoesBackLeafByLeaf() async throws {
        try await phone { wood in
            try await wood.open()
            for state in Seen.glance { await wood.tap(state) }
            await wood.tap("Go on")
            await wood.tapAnswers()
            XCTAssertEqual(wood.house.spots.map(\.name), ["now", "sheet", "question", "answers"])
            // What is seen beneath the leaf that a finger draws away is the leaf that it leads to.
            let beneath = wood.house.front.leaf(1)
            wood.house.wentBack(to: 3)
            await wood.settle()
            XCTAssertEqual(wood.asking.leaf, .question)
            XCTAssertEqual(wood.leaf.body.map(\.id), beneath.body.map(\.id))
            await wood.tap("Not sure")
            XCTAssertEqual(wood.house.spots.map(\.name), ["now", "sheet", "question"], "a doubt is no leaf of its own")
            wood.house.path.removeLast()
            await wood.settle()
            XCTAssertEqual(wood.asking.leaf, .sheet)
            let sheet = try XCTUnwrap(wood.house.spots.last)
            let seen = wood.leaf.body.map(\.id)
            wood.house.wentBack(to: 1)
            await wood.settle()
            XCTAssertEqual(wood.house.spots.map(\.name), ["now"])
            XCTAssertEqual(wood.house.standing(sheet)?.leaf(sheet.at).body.map(\.id), seen, "what is on its way out is seen to the end")
            wood.assertReads("No outing yet")
        }
    }

    @MainActor func testASizeThatIsNoneIsNotTold() async throws {
        try await phone { wood in
            try await wood.open()
            await wood.tap("Skip all")
            await wood.tap("Another question")
            await wood.tap("Thickness of the stem, at a glance")
            for (from, to) in [("", ""), ("0", ""), ("30", "20"), ("9999", "")] {
                await wood.type(from, "from mm")
                await wood.type(to, "to mm")
                await wood.tap("Go on")
                wood.assertReads("Give millimetres above 0, the least first.")
            }
            await wood.type("2.5", "from mm")
            await wood.type("", "to mm")
            await wood.tap("Go on")
            XCTAssertEqual(wood.asking.asked.evidence.last?.fromMm, 2.5)
        }
    }

    @MainActor func testWhereTheCoreAnswersWithAnErrorItIsSaidInWordsAndCanBeTriedAgain() async throws {
        try await phone { wood in
            let find = try await wood.core { try $0.beginFind(photo: nil, role: "whole", fix: nil).id }
            try await wood.core { try $0.pause() }
            await wood.open(find)
            XCTAssertEqual(wood.texts, ["The notebook is at rest. Try again.", "Try again"])
            try await wood.core { try $0.resume(zone: Zone(name: "Europe/London", offsetSeconds: 0)) }
            await wood.tap("Try again")
            wood.assertReads("Tap what you see")
            await wood.open("01999999-9999-7999-8999-999999999999")
            wood.assertReads("is not in the notebook any more")
        }
    }
}

/// A find is photographed, worked out and kept, from page to page, with the process dying between.
final class KeyedTests: XCTestCase {
    @MainActor func testToSettledAndToAdvice() async throws {
        try await phone { wood in
            await wood.begin()
            await wood.tap("Work it out")
            for state in Seen.glance { await wood.tap(state) }
            await wood.tap("Go on")
            try await wood.answer(from: Seen.tuft.merging(Seen.more) { first, _ in first }) { await wood.dieUnhurt() }
            wood.assertReads("Fits velvet shank")
            await wood.tap("Keep this")
            wood.assertReads("by the key")
            await wood.type("7", "Seen")
            await wood.tap("cap opened out")
            await wood.type("35", "from mm")
            wood.assertReads("no more than 3 of these 7")
            wood.assertReads("Check on every one you cut")
            wood.assertNoLicence()
            await wood.back()
            XCTAssertFalse(wood.reads("To be settled"), "what is settled does not wait")
        }
    }

    @MainActor func testToAGroup() async throws {
        try await phone { wood in
            await wood.begin()
            await wood.tap("Work it out")
            await wood.tap("a cup, saucer or disc")
            await wood.tap("Go on")
            try await wood.answer(from: Seen.elfCup)
            await wood.tap("Keep this")
            let kept = try await wood.find()
            XCTAssertTrue(kept.name.settled)
            wood.assertReads("by the key")
        }
    }

    @MainActor func testToNotSettledWhichWaitsAndIsSettledByItsSporesNextDay() async throws {
        try await phone { wood in
            await wood.begin()
            await wood.tap("Work it out")
            for state in Seen.glance { await wood.tap(state) }
            await wood.tap("Go on")
            try await wood.answer(from: Seen.tuft, most: 10)
            await wood.tapAnswers()
            await wood.tap("Stop here")
            wood.assertReads("Not settled")
            await wood.tap("Keep, and settle it later")
            XCTAssertFalse(wood.canTap("Keep, and settle it later"), "kept, it is no longer the key that says so")
            wood.assertReads("Not settled")
            wood.assertReads("Leave these")
            await wood.tap("For study: one more")
            await wood.back()
            wood.assertReads("To be settled")
            wood.assertReads("Spore print since today")
            await wood.die()
            let waiting = wood.leaf.body.compactMap { if case .row(let row) = $0.print { row } else { nil } }
            await wood.tap(try XCTUnwrap(waiting.first { $0.about.contains("Spore print") }).said)
            await wood.tap("Work it out")
            XCTAssertGreaterThanOrEqual(wood.asking.asked.evidence.count, Seen.glance.count, "its answers are still there")
            let question = try await wood.keyPage().question
            XCTAssertEqual(question?.character, "spore-print", "what takes a night is asked after first")
            await wood.tap("white")
            XCTAssertEqual(wood.asking.asked.evidence.last?.character, "spore-print")
        }
    }
}
