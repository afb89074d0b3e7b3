import TrugCore
import XCTest

@testable import TrugModel

/// One owner's two phones over one folder: whatever breaks off, both come to hold the same.
final class ExchangeTests: XCTestCase {
    @MainActor func testTwoPhonesArePairedAndExchangeBothWaysOverAFolder() async throws {
        let shared = try Self.folder()
        try await phone { one in
            try await phone { other in
                await one.begin()
                await one.back()
                await one.tap("My other devices")
                one.assertReads("None yet. Pair two devices once")
                one.assertTouchable()
                let ours = try await one.core { try $0.peers().own.text }
                let theirs = try await other.core { try $0.peers().own.text }
                XCTAssertTrue(one.texts.contains { $0.filter { $0 != " " } == ours }, "the key, in groups")
                await one.tap("Copy the key")
                XCTAssertEqual(one.system.copied, ours)
                await one.tap("Send the key")
                XCTAssertEqual(one.house.sentWords, ours)
                one.house.sends = false
                await other.tap("My other devices")
                await other.tap("Pair a device")
                await other.type(ours, Self.key)
                await other.hurt()
                XCTAssertEqual(other.field(Self.key)?.text, ours, "what was pasted is still there")
                await other.type("Phone", Self.name)
                await other.hurt()
                await other.tap("Pair it")
                other.assertReads("Compare these figures")
                await other.back()
                await Self.choose(other, shared)
                await other.tap("Exchange now")
                try await other.until("Exchanged")
                try await one.pair(theirs, "Tablet")
                await Self.choose(one, shared)
                one.assertReads("“\(shared.lastPathComponent)”")
                try await Self.exchange(one)
                await one.hurt()
                await one.tap("Done")
                await other.tap("Done")
                _ = try await other.core { try $0.beginFind(photo: nil, role: "whole", fix: nil) }
                try await Self.exchange(other)
                other.assertReads("1 new find came in")
                other.assertReads("1 new photo came in")
                await other.tap("Done")
                try await Self.exchange(one)
                one.assertReads("1 new find came in")
                let here = try await Self.ids(one)
                let there = try await Self.ids(other)
                XCTAssertEqual(here.count, 2)
                XCTAssertEqual(here, there)
                try await Self.exchange(other)
                await other.tap("Done")
                let files = Self.files(shared)
                try await Self.exchange(other)
                other.assertReads("Nothing new came in")
                other.assertReads("The others lack nothing")
                XCTAssertEqual(Self.files(shared), files, "nothing is written again")
            }
        }
    }

    @MainActor func testPiecesThatCameOverTornAreSaidToBeUnreadAndAreReadAnotherTime() async throws {
        let shared = try Self.folder()
        try await phone { one in
            try await phone { other in
                let ours = try await one.core { try $0.peers().own.text }
                let theirs = try await other.core { try $0.peers().own.text }
                await one.tap("My other devices")
                await other.tap("My other devices")
                try await one.pair(theirs, "Tablet")
                try await other.pair(ours, "Phone")
                await Self.choose(one, shared)
                await Self.choose(other, shared)
                let photo = one.root.appendingPathComponent("photo.png")
                try Shot.photo().write(to: photo)
                _ = try await one.core { try $0.beginFind(photo: photo.path, role: "whole", fix: nil) }
                try await Self.exchange(one)
                let largest = try XCTUnwrap(Self.files(shared).max { $0.value < $1.value }).key
                let file = shared.appendingPathComponent(largest)
                let whole = try Data(contentsOf: file)
                try whole.prefix(whole.count / 2).write(to: file)
                try Data("Dear all,".utf8).write(to: shared.appendingPathComponent("letter.txt"))
                try await Self.exchange(other)
                other.assertReads("Not all there yet, or no piece of Trug’s.")
                other.assertReads("2 files")
                await other.hurt()
                await other.tap("Done")
                try whole.write(to: file)
                try await Self.exchange(other)
                other.assertReads("1 file")
                other.assertReads("1 new find came in")
                XCTAssertTrue(FileManager.default.fileExists(atPath: shared.appendingPathComponent("letter.txt").path))
            }
        }
    }

    @MainActor func testItGoesOnWhileOtherPagesAreLookedAtAndIsToldWhenComeBackTo() async throws {
        let shared = try Self.folder()
        try await phone { phone in
            let other = try await Phone()
            let theirs = try await other.core { try $0.peers().own.text }
            other.close()
            await phone.tap("My other devices")
            try await phone.pair(theirs, "Tablet")
            await Self.choose(phone, shared)
            phone.tapAtOnce("Exchange now")
            phone.assertReads("What is done stays done, whenever it stops.")
            await phone.turn()
            try await phone.until("Exchanged")
            await phone.tap("Done")
            phone.tapAtOnce("Exchange now")
            await phone.back()
            phone.assertReads("No outing yet")
            await phone.tap("My other devices")
            try await phone.until("Exchanged")
        }
    }

    @MainActor func testAFolderThatIsGoneIsChosenAgain() async throws {
        let shared = try Self.folder()
        try await phone { phone in
            await phone.tap("My other devices")
            let other = try await Phone()
            let theirs = try await other.core { try $0.peers().own.text }
            other.close()
            try await phone.pair(theirs, "Tablet")
            phone.assertReads("None chosen yet.")
            await Self.choose(phone, shared)
            try FileManager.default.removeItem(at: shared)
            await phone.turn()
            phone.assertReads("This phone does not let Trug use it any more. Choose it again.")
            XCTAssertTrue(phone.canTap("Choose the folder"))
        }
    }

    @MainActor func testWhatIsNoKeyIsSaidToBeNoneAndStaysToBePutRight() async throws {
        try await phone { phone in
            await phone.tap("My other devices")
            await phone.tap("Pair a device")
            await phone.type("hello", Self.key)
            await phone.type("Tablet", Self.name)
            await phone.tap("Pair it")
            phone.assertReads("That is no key. Copy the whole line: it begins with trug1.")
            XCTAssertEqual(phone.field(Self.name)?.text, "Tablet")
        }
    }

    private static let key = "Its key: the line that begins with trug1"
    private static let name = "What you call it"

    private static func folder() throws -> URL {
        let folder = FileManager.default.temporaryDirectory.appendingPathComponent("wood-\(UUID().uuidString)")
        try FileManager.default.createDirectory(at: folder, withIntermediateDirectories: true)
        return folder
    }

    @MainActor private static func choose(_ phone: Phone, _ folder: URL) async {
        await phone.tap(phone.canTap("Choose the folder") ? "Choose the folder" : "Choose another folder")
        phone.house.picked(folder)
        await phone.settle()
    }

    @MainActor private static func exchange(_ phone: Phone) async throws {
        if phone.canTap("Done") { await phone.tap("Done") }
        await phone.tap("Exchange now")
        try await phone.until("Exchanged")
    }

    @MainActor private static func ids(_ phone: Phone) async throws -> Set<String> {
        try await phone.core { Set(try $0.now(here: nil).finds.map(\.id)) }
    }

    /// Every file, by its path, and how long it is.
    private static func files(_ folder: URL) -> [String: Int] {
        let found = (try? FileManager.default.subpathsOfDirectory(atPath: folder.path)) ?? []
        return found.reduce(into: [:]) { files, path in
            let about = try? FileManager.default.attributesOfItem(atPath: folder.appendingPathComponent(path).path)
            if about?[.type] as? FileAttributeType == .typeRegular { files[path] = (about?[.size] as? NSNumber)?.intValue }
        }
    }
}

extension Phone {
    /// Pairs with another device on the page of devices.
    func pair(_ key: String, _ name: String) async throws {
        await tap("Pair a device")
        await type(key, "Its key: the line that begins with trug1")
        await type(name, "What you call it")
        await tap("Pair it")
        await back()
    }
}
