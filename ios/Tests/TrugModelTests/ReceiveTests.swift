import TrugCore
import XCTest

@testable import TrugModel

/// Files that somebody sent: whatever they are, and whenever the phone dies, they are taken whole or not at all.
final class ReceiveTests: XCTestCase {
    @MainActor func testAFileThatAnotherAppHandsOverIsLookedIntoAndTakenWhenAsked() async throws {
        let file = try await Post.notebook()
        try await phone { phone in
            phone.house.open(file)
            try await phone.until("A notebook from a device that is not paired with this phone")
            phone.assertReads("2 finds that are new here")
            phone.assertReads("1 photo that is new here")
            phone.assertTouchable()
            var count = try await phone.count()
            XCTAssertEqual(count, 0, "looking keeps nothing")
            await phone.turn()
            phone.assertReads("2 finds that are new here")
            await phone.die()
            try await phone.until("2 finds that are new here")
            await phone.tap("Take it in")
            try await phone.until("2 new finds")
            count = try await phone.count()
            XCTAssertEqual(count, 2)
            await phone.hurt()
            phone.assertReads("1 new photo")
            await phone.tap("Done")
            phone.assertReads("No outing yet")
            phone.house.open(file)
            try await phone.until("All of it is here already.")
            XCTAssertFalse(phone.canTap("Take it in"))
            await phone.tap("Done")
            XCTAssertEqual(phone.received, [], "nothing is left lying about")
        }
    }

    @MainActor func testCopiesAreListedAndDeleted() async throws {
        let file = try await Post.copies()
        try await phone { phone in
            await phone.tap("Open a file from somebody")
            phone.assertReads("Copies from others")
            phone.assertTouchable()
            await phone.tap("Choose a file")
            XCTAssertEqual(phone.house.documentWish?.kind, .open)
            phone.house.picked(file)
            try await phone.until("Copies from R. Invented")
            phone.assertReads("Places as squares of 10 km")
            phone.assertReads("2 copies that are new here")
            await phone.tap("Take it in")
            try await phone.until("2 new copies")
            await phone.die()
            await phone.tap("Done")
            phone.assertReads("Copies from others")
            await phone.tapWhat("Jelly ear")
            await phone.hurt()
            phone.assertReads("Recorded by R. Invented")
            phone.assertReads("fallen trunk")
            phone.assertReads("4 to 6")
            phone.assertTouchable()
            let count = try await phone.count()
            XCTAssertEqual(count, 0, "they are nobody’s finds here")
            await phone.tap("Delete this copy")
            await phone.hurt()
            await phone.tap("Keep it")
            await phone.tap("Delete this copy")
            await phone.tap("Delete it")
            let left = try await phone.core { try $0.receivedCopies().count }
            XCTAssertEqual(left, 1)
            phone.assertReads("Copies from others")
        }
    }

    @MainActor func testASealedFileWantsItsPassphraseAndSaysWhenItIsAnother() async throws {
        let file = try await Post.notebook(passphrase: "three dry words")
        try await phone { phone in
            phone.house.open(file)
            try await phone.until("It is sealed")
            phone.assertTouchable()
            await phone.tap("Open it")
            phone.assertReads("The passphrase is empty. Give one.")
            await phone.type("three wet words", "Passphrase")
            await phone.tap("Open it")
            try await phone.until("That is not the passphrase. Try again.")
            XCTAssertEqual(phone.field("Passphrase")?.text, "three wet words", "what was typed stands there to be put right")
            await phone.die()
            try await phone.until("It is sealed")
            XCTAssertEqual(phone.field("Passphrase")?.text, "", "but not after the process has died")
            await phone.type("three dry words", "Passphrase")
            await phone.tap("Open it")
            try await phone.until("2 finds that are new here")
            let remembered = String(decoding: try XCTUnwrap(phone.house.save()), as: UTF8.self)
            XCTAssertFalse(remembered.contains("three dry words"), "the passphrase is written down nowhere")
            await phone.tap("Take it in")
            try await phone.until("2 new finds")
        }
    }

    @MainActor func testEveryFileThatIsNoneOfOursIsRefusedForItsOwnReasonAndNothingChanges() async throws {
        let whole = try Data(contentsOf: try await Post.notebook())
        try await phone { phone in
            let reasons = [
                (Data("Dear all, …".utf8), "That is no bundle of Trug’s, or it was cut short."),
                (whole.prefix(whole.count / 2), "That is no bundle of Trug’s, or it was cut short."),
                (Data(), "That is no bundle of Trug’s, or it was cut short."),
            ]
            for (at, (bytes, reason)) in reasons.enumerated() {
                let file = phone.root.appendingPathComponent("file \(at).zip")
                try bytes.write(to: file)
                phone.house.open(file)
                try await phone.until("Not opened")
                phone.assertReads(reason)
                phone.assertReads("Nothing in your notebook was changed.")
                phone.assertTouchable()
                await phone.hurt()
                let count = try await phone.count()
                XCTAssertEqual(count, 0)
                XCTAssertEqual(phone.received, [])
            }
            phone.house.open(phone.root.appendingPathComponent("gone.zip"))
            try await phone.until("That file cannot be read any more. Open it again where it came from.")
        }
    }
}

/// Files that come from somebody: made by another notebook, all of it invented.
enum Post {
    @MainActor private static func sender() async throws -> Phone {
        let phone = try await Phone()
        for (name, seen) in [("jelly-ear", "4-6"), ("velvet-shank", "7")] {
            let photo = phone.root.appendingPathComponent("photo.png")
            try Shot.photo(90).write(to: photo)
            _ = try await phone.core { book in
                let page = try book.beginFind(
                    photo: name == "jelly-ear" ? photo.path : nil, role: "whole",
                    fix: Fix(latitude: 51.5, longitude: -1.5, accuracyM: 8))
                _ = try book.nameFind(id: page.id, name: name, how: "sight", sure: nil, who: nil)
                return try book.amendFind(
                    id: page.id,
                    values: [
                        FieldValue(field: "seen", value: seen), FieldValue(field: "on", value: "fallen-trunk"),
                        FieldValue(field: "note", value: "by the bent elder"),
                    ])
            }
        }
        return phone
    }

    /// Everything, for the owner's own devices.
    @MainActor static func notebook(passphrase: String? = nil) async throws -> URL {
        try await made(.everything(device: nil), passphrase.map { .passphrase(passphrase: $0) } ?? .open)
    }

    /// Copies for somebody else, with the name of who made them.
    @MainActor static func copies() async throws -> URL {
        let terms = ShareTerms(place: "10km", notes: false, time: false, photos: true, name: "R. Invented", recipient: nil)
        return try await made(.copies(which: .all, form: "bundle", terms: terms), .open)
    }

    @MainActor private static func made(_ what: ShareWhat, _ seal: ShareSeal) async throws -> URL {
        let phone = try await sender()
        let sealed = seal != .open
        let preview = try await phone.end(of: phone.core { try $0.startPreview(what: what, sealed: sealed) })
        guard case .previewed(let leaving, _) = preview else { throw CocoaError(.featureUnsupported) }
        let file = phone.root.appendingPathComponent(leaving.fileName)
        _ = try await phone.end(of: phone.core { try $0.startShare(what: what, seal: seal, mark: leaving.mark, path: file.path) })
        phone.core.close()
        return file
    }
}

extension Phone {
    /// What came of long work.
    func end(of job: Job) async throws -> JobReport {
        while true {
            if let report = try await core({ _ in try job.result() }) { return report }
            try await Task.sleep(for: .milliseconds(5))
        }
    }

    /// What lies among the files that came.
    var received: [String] {
        (try? FileManager.default.contentsOfDirectory(atPath: root.appendingPathComponent("received").path)) ?? []
    }
}
