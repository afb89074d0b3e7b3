import TrugCore
import XCTest

@testable import TrugModel

/// Whatever the camera does, and whenever the process dies, no photo is lost, and none that is not there is kept.
final class CameraTests: XCTestCase {
    @MainActor func testCalledOffNothingIsKept() async throws {
        try await phone { phone in
            await phone.tap("Photograph a find")
            await phone.comesBack(.nothing)
            phone.assertReads("No photo was taken.")
            try await phone.assertNothing()
        }
    }

    @MainActor func testAnEmptyPhotoIsNone() async throws {
        try await phone { phone in
            await phone.tap("Photograph a find")
            await phone.shoot(Data())
            phone.assertReads("The photo came back empty. Take it again.")
            try await phone.assertNothing()
        }
    }

    @MainActor func testWhatIsNoPhotoIsSaidToBeNone() async throws {
        try await phone { phone in
            await phone.tap("Photograph a find")
            await phone.shoot(Data("no photo".utf8))
            phone.assertReads("That is not a picture that Trug can read.")
            let count = try await phone.count()
            XCTAssertEqual(count, 0)
        }
    }

    @MainActor func testWithoutACameraItSaysSoAndAnotherWayIsThere() async throws {
        try await phone { phone in
            phone.system.hasCamera = false
            await phone.tap("Photograph a find")
            phone.assertReads("This phone has no camera app that Trug can ask.")
            try await phone.assertNothing()
            await phone.tap("Choose a photo")
            XCTAssertTrue(phone.isAskedForPhoto)
        }
    }

    @MainActor func testAPhotoThatIsOnThePhoneAlreadyCanBeChosen() async throws {
        try await phone { phone in
            let chosen = phone.root.appendingPathComponent("chosen.png")
            try Shot.photo().write(to: chosen)
            await phone.tap("Choose a photo")
            await phone.comesBack(.chosen(chosen))
            let count = try await phone.count()
            XCTAssertEqual(count, 1)
            XCTAssertEqual(phone.captured, [])
            phone.assertReads("Photograph: underside")
        }
    }

    @MainActor func testAPhotoThatIsGoneBeforeItIsFetchedLeavesNothing() async throws {
        try await phone { phone in
            await phone.tap("Choose a photo")
            await phone.comesBack(.chosen(phone.root.appendingPathComponent("gone.png")))
            phone.assertReads("The phone does not let Trug read that photo. Choose another.")
            try await phone.assertNothing()
        }
    }

    @MainActor func testTheBatteryDiesAfterTheNotebookHasThePhotoAndThereIsStillOneFind() async throws {
        try await phone { phone in
            let capture = try Captures(phone.captures).begin(Purpose(find: nil, role: "whole"))
            try Shot.photo().write(to: capture.file)
            _ = try await phone.core { try $0.beginFind(photo: capture.file.path, role: "whole", fix: nil) }
            await phone.pullBattery()
            let count = try await phone.count()
            XCTAssertEqual(count, 1)
            XCTAssertEqual(phone.captured, [], "and nothing is left lying about")
        }
    }

    @MainActor func testGlovesTouchTwiceAndTheCameraOpensOnce() async throws {
        try await phone { phone in
            await phone.tapTwice("Photograph a find")
            XCTAssertEqual(phone.captured.count, 1)
            await phone.shoot()
            XCTAssertFalse(phone.isAskedForPhoto)
            let count = try await phone.count()
            XCTAssertEqual(count, 1)
        }
    }

    @MainActor func testAPhotoThatComesLateLeavesWhoeverAsksForHelpWhereTheyAre() async throws {
        try await phone { phone in
            await phone.tap("Photograph a find")
            phone.house.someoneIsIll()
            await phone.shoot()
            let count = try await phone.count()
            XCTAssertEqual(count, 1)
            phone.assertReads("Get help now")
        }
    }

    @MainActor func testWithoutRoomItSaysSo() async throws {
        try await phone {
            try Data("in the way".utf8).write(to: $0.appendingPathComponent("captures"))
        } _: { phone in
            await phone.tap("Photograph a find")
            phone.assertReads("There is no room for a photo.")
        }
    }

    @MainActor func testTheProcessDiesWhileTheCameraIsOpen() async throws {
        try await phone { phone in
            await phone.tap("Without a photo")
            let find = try await phone.find().id
            try await phone.die {
                // The camera's photo was written, and its find not yet told; and one that never came.
                let captures = Captures(phone.captures)
                try Shot.photo().write(to: captures.begin(Purpose(find: find, role: "underside")).file)
                _ = try captures.begin(Purpose(find: nil, role: "whole"))
            }
            let photos = try await phone.core { try $0.findPage(id: find).photos }
            XCTAssertEqual(photos.map(\.role), ["underside"])
            XCTAssertEqual(phone.captured, [], "empty files are cleared away")
        }
    }

    @MainActor func testAPhotoForAFindThatIsGoneBeginsAFindOfItsOwn() async throws {
        try await phone { phone in
            let gone = Purpose(find: "01999999-9999-7999-8999-999999999999", role: "cut")
            try Shot.photo().write(to: Captures(phone.captures).begin(gone).file)
            await phone.pullBattery()
            let count = try await phone.count()
            XCTAssertEqual(count, 1)
        }
    }

    @MainActor func testPhotosAreAddedByWhatTheyShow() async throws {
        try await phone { phone in
            await phone.begin()
            await phone.tap("Photograph: underside")
            await phone.shoot(Shot.photo(10))
            await phone.tap("Another photo")
            await phone.hurt()
            phone.assertTouchable()
            await phone.tap("spore print")
            await phone.shoot(Shot.photo(250))
            let roles = try await phone.find().photos.map(\.role)
            XCTAssertEqual(roles, ["whole", "underside", "spore-print"])
            await phone.back()
            await phone.tap("Photo: spore print. Show it.")
            await phone.hurt()
            await phone.tap("Take this photo off")
            let left = try await phone.find().photos.count
            XCTAssertEqual(left, 2)
            await phone.tap("Undo")
            let photos = try await phone.find().photos
            XCTAssertEqual(photos.count, 3)
        }
    }
}

extension Phone {
    func count() async throws -> Int { try await core { try $0.now(here: nil).finds.count } }

    func assertNothing(file: StaticString = #filePath, line: UInt = #line) async throws {
        let count = try await count()
        XCTAssertEqual(count, 0, file: file, line: line)
        XCTAssertEqual(captured, [], "nothing is left lying about", file: file, line: line)
    }
}
