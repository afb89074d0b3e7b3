import TrugCore
import XCTest

@testable import TrugModel

/// The map, through its page and against the real core, without a screen. Woods and patches are invented.
final class MapTests: XCTestCase {
    @MainActor func testWhereThereIsNothingToMapItSaysSo() async throws {
        try await phone { phone in
            await phone.tap("Map")
            phone.assertReads("Nothing to map yet.")
            XCTAssertTrue(phone.canTap("Use this phone’s position"))
            await phone.hurt()
        }
    }

    @MainActor func testItIsLaidAboutWhoeverHoldsThePhoneAndTellsWhatIsTouched() async throws {
        try await phone { phone in
            await phone.allow()
            await phone.stand(51.5, -1.0, 8)
            _ = try await phone.core { book in
                let begun = try book.beginFind(photo: nil, role: "whole", fix: Fix(latitude: 51.5005, longitude: -1.0, accuracyM: 5))
                _ = try book.nameFind(id: begun.id, name: "jelly-ear", how: "sight", sure: nil, who: nil)
                return try book.foundPatch(id: begun.id, name: "old elder")
            }
            await phone.tap("Map")
            let plate = try XCTUnwrap(phone.plate)
            plate.fit(360, 480)
            await phone.settle()
            phone.assertReads("± 8 m")
            phone.assertReads("1 patch in view")
            phone.assertTouchable()
            let sight = try XCTUnwrap(plate.sight)
            let patch = try XCTUnwrap(plate.inView.first)
            // North is up: 0.0005 degrees of latitude are 56 m (WGS84, 111.3 km to a degree at 51.5°).
            XCTAssertEqual(patch.at.north - (plate.sheet?.here?.at.north ?? 0), 55.6, accuracy: 0.3)
            plate.tap(sight.spot(patch.at))
            await phone.settle()
            phone.assertReads("old elder")
            phone.assertReads("56 m, 0° N")
            await phone.again(fitting: plate)
            phone.assertReads("old elder")
        }
    }

    @MainActor func testItMovesUnderFingersAndComesBackToWhoeverHoldsThePhone() async throws {
        try await phone { phone in
            await phone.allow()
            await phone.stand(51.5, -1.0, 8)
            await phone.tap("Map")
            let plate = try XCTUnwrap(phone.plate)
            plate.fit(360, 480)
            await phone.settle()
            let before = try XCTUnwrap(plate.sight)
            plate.drag(0, 100)
            plate.letGo()
            await phone.settle()
            XCTAssertEqual(try XCTUnwrap(plate.sight).north - before.north, 100 * before.scale, accuracy: 0.001)
            phone.assertReads("0° N")
            await phone.tap("Closer in")
            XCTAssertEqual(try XCTUnwrap(plate.sight).scale, before.scale / 2, accuracy: 0.001)
            await phone.tap("Here")
            XCTAssertEqual(try XCTUnwrap(plate.sight).north, 0, accuracy: before.scale)
            // Farther than the map holds, it is laid afresh, and goes on showing the same land.
            let held = try XCTUnwrap(plate.page).holdsM
            plate.drag(0, 3 * held / (before.scale / 2))
            plate.letGo()
            await phone.settle()
            await phone.settle()
            XCTAssertLessThan(abs(try XCTUnwrap(plate.sight).north), held)
            phone.assertReads("0° N")
        }
    }

    @MainActor func testEverythingThatIsPrintedIsInViewAndNothingIsPrintedOverAnother() async throws {
        try await phone { phone in
            await phone.allow()
            await phone.stand(51.5, -1.0, 8)
            await phone.tap("Map")
            let plate = try XCTUnwrap(phone.plate)
            plate.fit(360, 480)
            await phone.settle()
            for times in [1.0, 0.1, 0.1, 100] {
                plate.closer(times)
                await phone.settle()
                let drawing = plate.drawing(isFromRight: false) { words, _ in (Double(words.count) * 8, 16) }
                let boxes = drawing.printed.map(\.box)
                XCTAssertGreaterThan(boxes.count, 2)
                for (at, box) in boxes.enumerated() {
                    XCTAssertTrue(box.left >= 0 && box.right <= 360 && box.top >= 0 && box.bottom <= 480, "\(drawing.printed[at].words)")
                    XCTAssertFalse(boxes.dropFirst(at + 1).contains(where: box.meets), "\(drawing.printed[at].words)")
                }
            }
        }
    }

    func testAPointOfTheScreenStaysWhereItIsWhenTheMapComesCloser() {
        var numbers = SystemRandomNumberGenerator()
        for _ in 0..<200 {
            let sight = Sight(
                east: .random(in: -1e5...1e5, using: &numbers), north: .random(in: -1e5...1e5, using: &numbers),
                scale: .random(in: 0.1...1000, using: &numbers), width: 360, height: 480)
            let spot = Spot(x: .random(in: 0...360, using: &numbers), y: .random(in: 0...480, using: &numbers))
            let point = sight.point(spot)
            XCTAssertEqual(sight.spot(point).far(from: spot), 0, accuracy: 1e-6)
            let closer = sight.closer(.random(in: 0.2...5, using: &numbers), about: spot)
            XCTAssertEqual(closer.spot(point).far(from: spot), 0, accuracy: 1e-4)
            XCTAssertTrue(Sight.limits.contains(closer.scale))
        }
    }
}

extension Phone {
    var plate: MapPlate? {
        for line in leaf.body { if case .map(let plate) = line.print { return plate } }
        return nil
    }

    /// The window goes and comes; the map has the same room again.
    func again(fitting plate: MapPlate) async {
        await turn()
        self.plate?.fit(plate.size.width, plate.size.height)
        await settle()
    }
}
