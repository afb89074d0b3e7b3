import TrugCore
import XCTest

@testable import TrugModel

/// What was noted is found, opens, and is there again after turning and dying. The wood is invented.
final class SearchTests: XCTestCase {
    private static let hint = "Name, place, tree, day …"

    /// A walk: a named find at a patch, and two that say little.
    @MainActor private func winter(_ phone: Phone) async throws {
        try await phone.core { book in
            let note = { (id: String, values: [(String, String)]) in
                _ = try book.amendFind(id: id, values: values.map { FieldValue(field: $0.0, value: $0.1) })
            }
            let begin = { (fix: Fix?) in try book.beginFind(photo: nil, role: "whole", fix: fix).id }
            _ = try book.startOuting(place: "Harrow Shaw", mayPick: "own")
            let named = try begin(Fix(latitude: 51.5, longitude: -1, accuracyM: 8))
            try note(named, [("note", "Behind the second gate, under ivy"), ("host", "elder"), ("seen", "7"), ("taken", "3")])
            _ = try book.nameFind(id: named, name: "velvet-shank", how: "sight", sure: nil, who: nil)
            _ = try book.foundPatch(id: named, name: "Crooked elder")
            _ = try book.endOuting()
            try note(begin(nil), [("note", "A red one beneath the alder")])
            try note(begin(nil), [("host", "elder")])
        }
        await phone.turn()
    }

    @MainActor func testAFindIsFoundByWhatIsRememberedOfIt() async throws {
        try await phone { phone in
            try await winter(phone)
            await phone.tap("Search")
            phone.assertReads("Any words that you remember")
            await phone.type("velvit gate", Self.hint)
            phone.assertReads("1 find")
            phone.assertReads("Velvet shank")
            phone.assertReads("Harrow Shaw")
            phone.assertReads("Behind the second gate")
            phone.assertTouchable()
            await phone.hurt()
            await phone.tapWhat("Velvet shank")
            XCTAssertTrue(phone.house.front is Find)
            await phone.die()
            await phone.back()
            XCTAssertEqual(phone.field(Self.hint)?.text, "velvit gate")
            phone.assertReads("1 find")
        }
    }

    @MainActor func testFindsPatchesAndKindsStandUnderHeadings() async throws {
        try await phone { phone in
            try await winter(phone)
            await phone.tap("Search")
            await phone.type("velvet shank", Self.hint)
            phone.assertReads("1 find · 1 patch · 1 kind")
            for part in ["Finds", "Patches", "Kinds", "Crooked elder"] { XCTAssertTrue(phone.texts.contains(part), part) }
            await phone.type("elder", Self.hint)
            phone.assertReads("3 finds · 1 patch")
            phone.assertReads("Nearly so")
            await phone.type("", Self.hint)
            phone.assertReads("Any words that you remember")
        }
    }

    @MainActor func testAnAnswerThatComesLateSaysNothingOfWhatIsTypedSince() async throws {
        try await phone { phone in
            try await winter(phone)
            await phone.tap("Search")
            phone.field(Self.hint)?.type("gate")
            phone.field(Self.hint)?.type("funeral bell")
            await phone.settle()
            phone.assertReads("Funeral bell")
            XCTAssertFalse(phone.reads("Behind the second gate"))
            phone.field(Self.hint)?.type("gate")
            phone.field(Self.hint)?.type("")
            await phone.settle()
            XCTAssertFalse(phone.reads("Behind the second gate"))
        }
    }

    @MainActor func testNothingFoundSaysSoAndOffersWhatMayHaveBeenMeant() async throws {
        try await phone { phone in
            try await winter(phone)
            await phone.tap("Search")
            await phone.type("hharroww", Self.hint)
            phone.assertReads("Nothing found.")
            phone.assertReads("Did you mean")
            await phone.tap("harrow")
            XCTAssertEqual(phone.field(Self.hint)?.text, "harrow")
            phone.assertReads("1 find")
            await phone.type("\"* zzzzqqqq 🍄", Self.hint)
            phone.assertReads("Try fewer words")
        }
    }

    @MainActor func testMoreFindsAreShownWhenAskedForAndStayShown() async throws {
        try await phone { phone in
            try await phone.core { book in
                for number in 0..<45 {
                    let find = try book.beginFind(photo: nil, role: "whole", fix: nil).id
                    _ = try book.amendFind(id: find, values: [FieldValue(field: "note", value: "By the weir, number \(number)")])
                }
            }
            await phone.tap("Search")
            await phone.type("weir", Self.hint)
            phone.assertReads("45 finds")
            XCTAssertTrue(phone.reads("number 44") && !phone.reads("number 10"))
            await phone.tap("Show more finds: 25 left")
            XCTAssertTrue(phone.reads("number 10"))
            await phone.hurt()
            await phone.type("weir number", Self.hint)
            phone.assertReads("Show more finds: 25 left")
        }
    }

    @MainActor func testAKindTellsItsDangerWhatItIsTakenForAndWhatIsOnRecord() async throws {
        try await phone { phone in
            try await winter(phone)
            await phone.tap("Search")
            await phone.type("funeral", Self.hint)
            phone.assertReads("has killed")
            await phone.tapWhat("Galerina")
            phone.assertReads("Has killed.")
            phone.assertReads("If in any doubt, leave it.")
            await phone.hurt()
            await phone.tapWhat("against")
            phone.assertReads("Flammulina velutipes")
            phone.assertReads("Gathered by people, which is no promise.")
            phone.assertReads("Funeral bell (has killed)")
            phone.assertReads("Harrow Shaw")
            phone.assertTouchable()
            await phone.tap("Show all that is known of it")
            phone.assertReads("Spore print")
            await phone.hurt()
            await phone.tap("Check one against this")
            XCTAssertTrue(phone.house.front is Work)
            for _ in 0..<3 { await phone.back() }
            phone.assertReads("Galerina")
        }
    }
}
