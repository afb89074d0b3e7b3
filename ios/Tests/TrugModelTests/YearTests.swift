import TrugCore
import XCTest

@testable import TrugModel

/// The year and its months, through the pages and against the real core.
final class YearTests: XCTestCase {
    @MainActor func testAnEmptyNotebookSaysSoAndNothingCanBeChosenThatIsNotThere() async throws {
        try await phone { phone in
            await phone.tap("The year")
            phone.assertReads("Nothing yet. What you find, and where you look in vain")
            phone.assertTouchable()
            XCTAssertFalse(phone.canTap("All seasons"))
            await phone.tap("By place")
            phone.assertReads("Nothing yet.")
            await phone.hurt()
            await phone.back()
            phone.assertReads("No outing yet")
        }
    }

    @MainActor func testFromTheYearToARowItsMonthAndAFindAndBackAgain() async throws {
        try await phone { phone in
            try await phone.winters()
            await phone.tap("The year")
            phone.assertTouchable()
            // By hand: as the year brings them; cep in September, the bell that is not settled in October.
            XCTAssertEqual(
                phone.texts.filter(["All finds", "Cep", "Funeral bell", "Velvet shank", "Jelly ear", "No name yet"].contains),
                ["All finds", "Cep", "Funeral bell", "Velvet shank", "Jelly ear", "No name yet"])
            phone.assertSays("Funeral bell, Galerina marginata: 1 find · 1 not settled. October: found in 1 season of 1, 1 find, 1 seen.")
            await phone.hurt()
            await phone.tapWhat("Velvet shank, Flammulina velutipes")
            phone.assertTouchable()
            phone.assertSays("January: found in 2 seasons of 2, 2 finds, 47 seen.")
            phone.assertSays("March: nobody looked.")
            phone.assertSays("2024/25: 8 Nov 2024 to 3 Jan 2025.")
            phone.assertSays("2023/24: 20 Nov 2023 to 29 Feb 2024.")
            // Of 60 seen 18 were taken for 252 g: 14 g each, and 42 left.
            for line in ["60", "18", "42", "252 g", "588 g"] { XCTAssertTrue(phone.texts.contains(line), line) }
            await phone.hurt()
            await phone.tapWhat("January: found")
            phone.assertReads("January, every year")
            phone.assertTouchable()
            await phone.hurt()
            await phone.tapWhat("14 Jan 2024")
            XCTAssertTrue(phone.house.front is Find)
            await phone.die()
            await phone.back()
            phone.assertReads("January, every year")
            await phone.back()
            phone.assertSays("January: found in 2 seasons of 2, 2 finds, 47 seen.")
            await phone.back()
            phone.assertReads("How to read it")
            await phone.back()
            phone.assertReads("No outing yet")
        }
    }

    @MainActor func testOneSeasonIsChosenAndStaysAndARowKeepsToIt() async throws {
        try await phone { phone in
            try await phone.winters()
            await phone.tap("The year")
            let latest = try await phone.core { try $0.yearPage(by: .fungus, season: nil, moreOf: nil).seasons }
            await phone.tap("Season \(try XCTUnwrap(latest.first))")
            phone.assertReads("Nothing in this season.")
            phone.assertTouchable()
            await phone.tap("All seasons")
            await phone.tapWhat("Velvet shank, Flammulina velutipes")
            await phone.tapWhat("2024/25: Finds")
            phone.assertReads("In 2024/25")
            phone.assertSays("February 2025: nobody looked.")
            await phone.hurt()
            await phone.tapWhat("November 2024")
            phone.assertReads("November 2024")
            await phone.back()
            await phone.tap("Season 2023/24")
            phone.assertSays("February 2024: 1 find, 2 seen.")
            await phone.back()
            phone.assertReads("2023/24")
        }
    }

    @MainActor func testByPlace() async throws {
        try await phone { phone in
            try await phone.winters()
            await phone.tap("The year")
            await phone.tap("By place")
            phone.assertSays(
                "old elder, Velvet shank: 2 finds. November: found in 1 season of 1, 1 find, 7 seen. "
                    + "December: found in 1 season of 1, 1 find, 120 seen.")
            await phone.hurt()
        }
    }
}
