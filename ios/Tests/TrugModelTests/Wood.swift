import TrugCore
import XCTest

@testable import TrugModel

/// What is seen of a fungus, by the characters and states of the pack. Facts of the trade (common practice, no source).
enum Seen {
    /// Of the pack no fungus with pores is blue-green above, violet on the stem, and all of this beneath.
    static let chimera = [
        "stem-colour": "lilac", "pore-colour": "red", "pore-bruise": "red", "spore-print": "white", "stem-surface": "pitted",
        "smell": "garlic", "flesh-colour": "green",
    ]
    static let glance = ["cap with gills beneath, with or without a stem", "orange", "in tufts, joined at the base"]
    static let tuft = [
        "form": "gilled", "stem-surface": "velvety", "ring": "absent", "gill-colour-mature": "cream", "growth": "tuft",
        "substrate": "trunk", "host": "oak", "cap-colour": "orange",
    ]
    static let more = [
        "stem-colour": "black", "cap-viscid": "slimy", "stem-flesh": "tough", "gill-attachment": "adnate", "spore-print": "white",
        "stem-base": "joined", "cap-surface": "smooth",
    ]
    static let elfCup = [
        "form": "cup", "cap-colour": "red", "substrate": "branch", "cup-outside": "felted", "hymenophore": "inner-face",
        "cup-inside": "smooth", "host": "hazel", "habitat": "wet",
    ]
}

/// A find in a wood, and the key to it.
extension Phone {
    var work: Work? { house.front as? Work }

    /// What the page remembers.
    var asking: Asking { Kept.read(Asking.self, work?.save()) ?? Asking(asked: KeyAsked(suspect: nil, evidence: [], ask: nil)) }

    /// What the key says to that.
    func keyPage() async throws -> KeyPage {
        let asked = asking.asked
        return try await core { try $0.keyStep(asked: asked) }
    }

    /// A find is begun, and its key opened.
    func open(suspect: String? = nil) async throws {
        let find = try await core { try $0.beginFind(photo: nil, role: "whole", fix: nil).id }
        await open(find, suspect: suspect)
    }

    func open(_ find: String, suspect: String? = nil) async {
        house.go(Stop(.work, find: find, suspect: suspect))
        await settle()
    }

    func tapAnswers() async {
        await tap(texts.first { $0.hasSuffix("so far") } ?? "… so far")
    }

    /// Answers whatever is asked from what is seen, and "can't tell" to the rest, until the key comes to an end.
    func answer(from seen: [String: String], most: Int = 30, afterEach: @MainActor () async -> Void = {}) async throws {
        for _ in 0..<most {
            if asking.leaf == .end { return }
            guard let question = try await keyPage().question else { return }
            let isNew = !asking.asked.evidence.contains { $0.character == question.character }
            let state = question.states.first { isNew && $0.id == seen[question.character] }
            await tap(state?.label ?? (question.effort == "spore print" ? "Not yet" : "Can’t tell"))
            await afterEach()
        }
    }

    /// The process dies, and the window goes and comes, and nothing is lost.
    func dieUnhurt() async {
        let (remembered, before) = (asking, texts)
        await die()
        XCTAssertEqual(asking, remembered)
        XCTAssertEqual(texts, before)
        await turn()
        XCTAssertEqual(asking, remembered)
        XCTAssertEqual(texts, before)
    }

    /// Nothing says that it may be eaten.
    func assertNoLicence(file: StaticString = #filePath, line: UInt = #line) {
        for text in texts { XCTAssertNil(text.firstMatch(of: /(?i)edible|safe|good to eat/), text, file: file, line: line) }
    }
}
