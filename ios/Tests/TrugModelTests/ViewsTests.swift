import XCTest

/// The views as they are written: they draw what the models say, and decide nothing that a model's test could not reach. Every
/// decision that they make stands below. One that is not about drawing, or about a thing of the system's, belongs into a model.
final class ViewsTests: XCTestCase {
    private static let package = URL(fileURLWithPath: #filePath).deletingLastPathComponent().deletingLastPathComponent()
        .deletingLastPathComponent()

    /// Conditions of `if`, `guard` and `switch`.
    private static let decided: Set = [
        // What is there to be drawn, and what is not.
        "!leaf.thumb.isEmpty", "!row.about.isEmpty", "let act = band.act", "let bearing = way.bearing", "let complaint = house.complaint",
        "let figure = state.drawing", "let head = band.head", "let house", "let image", "let mark = row.mark", "let picture = cell.picture",
        "let picture = row.picture", "let standing = house.standing(spot)", "let wish = house.timeWish", "let strip = row.strip",
        "let act = cell.act", "mark", "shape", "at == 0", "isOwn", "let name", "let file = house.documentWish?.kind.file", "isClosed",
        "house.leadsToIll(standing)",
        // Which of the ways of drawing.
        "print", "step", "isTyped", "!scrollsAlong", "scrollsAlong", "isLow", "phase", "self",
        // What the system gives, or does not.
        "let chosen = results.first?.itemProvider", "let file", "let number = URL(string: \"tel:\\(number)\")",
        "let image, let file = CGImageDestinationCreateWithData(data as CFMutableData, \"public.jpeg\" as CFString, 1, nil)",
        "let path, let source = CGImageSourceCreateWithURL(URL(fileURLWithPath: path) as CFURL, nil)", "task != .invalid",
        "manager.authorizationStatus == .notDetermined", "self.manager.authorizationStatus != .notDetermined, let told = asked",
    ]

    /// Conditions before a question mark.
    private static let chosen: Set = [
        "$0", "band.isEdged", "cell.picture == nil", "configuration.isPressed", "field.kind.isTall", "field.kind.isExact", "isCentred",
        "isDrawn", "isLarge", "isLow", "isRed", "isUpright", "self == .ahead", "isOwn", "wish.withHour", "isHere", "pen.isTouch",
        "pen == .bold", "pen.isBroken",
        "printed.isTouch", "direction == .rightToLeft", "isWhole", "location.horizontalAccuracy >= 0", "state.isChosen",
        "states.isList || type.isAccessibilitySize", "tone == .quiet || tone == .latin", "touch.weight == .pressed",
        "touch.weight.isFilled",
        "touch.weight.isTall", "type.isAccessibilitySize",
    ]

    /// Texts that are no words: names of things of the system's, and signs.
    private static let literals: Set = [
        " ", "", "+", "−", "notebook", "public.image", "public.jpeg", "stack", "tel:\\(number)",
    ]

    func testViewsDecideNothingOfTheirOwn() throws {
        var decided: Set<String> = []
        var chosen: Set<String> = []
        for line in try lines() {
            decided.formUnion(line.matches(of: #/\b(?:if|guard|switch|while) (.+?)(?: else)? \{/#).map { String($0.1) })
            chosen.formUnion(line.matches(of: #/([\w.$]+(?: (?:==|!=|>=|\|\||&&) [\w.]+)*) \? /#).map { String($0.1) })
        }
        XCTAssertEqual(decided.subtracting(Self.decided), [], "decided by a view")
        XCTAssertEqual(chosen.subtracting(Self.chosen), [], "decided by a view")
        XCTAssertEqual(Self.decided.subtracting(decided), [], "decided no more")
        XCTAssertEqual(Self.chosen.subtracting(chosen), [], "decided no more")
    }

    func testViewsKnowNothingOfTheCore() throws {
        XCTAssertFalse(try lines().contains { $0.contains("import TrugCore") })
    }

    func testViewsHaveNoWordsOfTheirOwn() throws {
        let found = Set(try lines().flatMap { $0.matches(of: #/"((?:[^"\\]|\\.)*)"/#).map { String($0.1) } })
        XCTAssertEqual(found, Self.literals)
    }

    /// A heading of a leaf or of a part is one for a screen reader too, and nothing that is drawn only is read.
    func testEveryHeadingIsOne() throws {
        let lines = try lines()
        XCTAssertTrue(lines.contains { $0.contains(".accessibilityAddTraits(.isHeader)") })
        for drawn in ["ArrowShape()", "Canvas {", "Rectangle()"] { XCTAssertTrue(lines.contains { $0.contains(drawn) }) }
        XCTAssertGreaterThanOrEqual(lines.filter { $0.contains(".accessibilityHidden(true)") }.count, 4)
    }

    private func lines() throws -> [String] {
        let folder = Self.package.appendingPathComponent("Sources/TrugApp")
        let found = FileManager.default.enumerator(at: folder, includingPropertiesForKeys: nil)?.compactMap { $0 as? URL } ?? []
        let files = found.filter { $0.pathExtension == "swift" } + [Self.package.appendingPathComponent("App/Trug/Main.swift")]
        XCTAssertGreaterThan(files.count, 10)
        return try files.flatMap { try String(contentsOf: $0, encoding: .utf8).split(separator: "\n").map(String.init) }
            .filter { !$0.trimmingCharacters(in: .whitespaces).hasPrefix("//") }
            .map { $0.split(separator: " // ", maxSplits: 1).first.map(String.init) ?? "" }
    }
}
