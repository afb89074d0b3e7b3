import TrugCore
import XCTest

#if canImport(FoundationXML)
    import FoundationXML
#endif

@testable import TrugModel

/// What this phone says, against the resources that the other phone is given: a sentence of an error, a choice, a count.
final class WordsTests: XCTestCase {
    /// The other phone's strings.xml, which tests/swift has written.
    private func other() throws -> AndroidWords {
        let path = ProcessInfo.processInfo.environment["TRUG_ANDROID_WORDS"]
        return try AndroidWords(URL(fileURLWithPath: XCTUnwrap(path, "TRUG_ANDROID_WORDS names no strings.xml")))
    }

    func testEveryErrorIsSaidInTheSameSentence() throws {
        let android = try other()
        XCTAssertGreaterThan(Words.errors.count, 80)
        for (code, sentence) in Words.errors where code != "unknown" {
            let given = sentence.arguments.map { Argument(name: $0, value: "100 % of “\($0)” @ $1") }
            let error = TrugError.Said(code: code, arguments: given.reversed(), fallback: "in the core's words")
            XCTAssertEqual(Words.sentence(error), android.said("error_\(code)", given.map(\.value)), code)
        }
    }

    func testWhatNoSentenceWasWrittenForIsSaidInTheCoresWords() {
        let other = TrugError.Said(code: "of-tomorrow", arguments: [], fallback: "there is no more: take less")
        XCTAssertEqual(Words.sentence(other), "There is no more: take less")
        let short = TrugError.Said(code: "not-found", arguments: [], fallback: "this find is gone")
        XCTAssertEqual(Words.sentence(short), "This find is gone")
        XCTAssertEqual(
            Words.sentence(CancellationError()), "Something went wrong (CancellationError). Nothing that was kept is lost. Try again.")
    }

    func testEveryChoiceIsCalledTheSame() throws {
        let android = try other()
        for (field, words) in Words.choices {
            for (word, _) in words { XCTAssertEqual(Words.called(field, word), android.said("\(field)_\(word)", []), "\(field) \(word)") }
        }
    }

    func testCountsAreSaidTheSame() throws {
        let android = try other()
        for count in [0, 1, 2, 21] {
            XCTAssertEqual(Words.Now.printNights(count: count), android.said("now_print_nights", [String(count)], count))
            XCTAssertEqual(Words.Find.whyMore(count: count), android.said("find_why_more", [String(count)], count))
            XCTAssertEqual(Words.Work.answers(count: count), android.said("work_answers", [String(count)], count))
        }
        XCTAssertEqual(Words.Work.answers(count: 1), "1 answer so far")
        XCTAssertEqual(Words.Work.answers(count: 2), "2 answers so far")
    }

    func testBothPhonesHaveTheSameWords() throws {
        XCTAssertEqual(Set(try other().texts.keys), Catalogue.shipped?.keys)
    }

    func testWaysAreToldInMetresDegreesAndWinds() {
        let writing = Writing(locale: Locale(identifier: "en_GB"))
        for (metres, bearing, words) in [
            (8.4, 0.0, "8 m, 0° N"), (99.4, 22.4, "99 m, 22° N"), (144, 22.6, "140 m, 23° NE"), (1999, 359.7, "2000 m, 0° N"),
            (2000, 337.6, "2 km, 338° N"), (12_345, 200, "12.3 km, 200° S"), (50, 315, "50 m, 315° NW"),
        ] {
            XCTAssertEqual(writing.way(metres, bearing), words)
        }
        XCTAssertEqual(writing.way(3, nil), "you are in it")
    }

    func testNumbersAreReadInWhateverDigitsAndWrittenAsHere() {
        for (typed, plain) in [("62,5", "62.5"), (" 62.5 ", "62.5"), ("٦٢٫٥", "62.5"), ("६२", "62"), ("SU 38", "SU 38"), ("½", "½")] {
            XCTAssertEqual(Writing.plain(typed), plain)
        }
        XCTAssertEqual(Writing(locale: Locale(identifier: "de_DE")).number(1250.5), "1250,5")
    }

    func testDaysAreWrittenWithTheirYearWhereItIsAnother() {
        let writing = Writing(locale: Locale(identifier: "en_GB"))
        let now = When(millis: 0, offsetSeconds: 0, day: "2026-12-01")
        XCTAssertEqual(writing.day("2026-10-18", now: now), "18 Oct")
        XCTAssertEqual(writing.day("2025-10-18", now: now), "18 Oct 2025")
        XCTAssertEqual(writing.day("2026-10-18"), "18 Oct 2026")
        XCTAssertEqual(writing.day("soon"), "soon")
        // A quarter past midnight in Rome is still the evening before in Greenwich.
        XCTAssertEqual(writing.hour(When(millis: 23 * 3_600_000 + 900_000, offsetSeconds: 3600, day: "1970-01-02")), "00:15")
    }

    // ---- Figures

    func testEveryFigureCanBeDrawnWithinItsField() {
        XCTAssertGreaterThan(Figure.all.count, 100)
        for (id, figure) in Figure.all {
            XCTAssertFalse(figure.strokes.isEmpty, id)
            for stroke in figure.strokes {
                XCTAssertFalse(stroke.steps.isEmpty, "\(id) cannot be read")
                for case .line(let point) in stroke.steps {
                    XCTAssertTrue((0...figure.width).contains(point.x) && (0...figure.height).contains(point.y), "\(id) \(point)")
                }
            }
        }
    }

    func testOutlinesAreReadWholeOrNotAtAll() {
        let point = Figure.Point.init
        XCTAssertEqual(
            Figure.Step.read("M1 2L-3 .5C1 2 3 4 5 6Z"),
            [.move(point(1, 2)), .line(point(-3, 0.5)), .curve(point(1, 2), point(3, 4), to: point(5, 6)), .close])
        for broken in ["M1", "M1 2Q1 2 3 4", "L1 2 3 4", "Z1 2", "1 2"] { XCTAssertEqual(Figure.Step.read(broken), [], broken) }
    }
}

/// String resources as that phone reads them: https://developer.android.com/guide/topics/resources/string-resource.
private final class AndroidWords: NSObject, XMLParserDelegate {
    private(set) var texts: [String: [String: String]] = [:]
    private var name = ""
    private var form = "other"
    private var text = ""

    init(_ file: URL) throws {
        super.init()
        let parser = try XCTUnwrap(XMLParser(data: Data(contentsOf: file)))
        parser.delegate = self
        XCTAssertTrue(parser.parse())
    }

    func said(_ key: String, _ given: [String], _ count: Int? = nil) -> String? {
        let forms = texts[key.replacing("-", with: "_").replacing(" ", with: "_")]
        guard var words = count == 1 ? forms?["one"] : forms?["other"] else { return nil }
        guard !given.isEmpty else { return words }
        words = words.replacing("%%", with: "\u{0}")
        for (at, value) in given.enumerated() {
            for kind in ["s", "d"] { words = words.replacing("%\(at + 1)$\(kind)", with: value) }
        }
        return words.replacing("\u{0}", with: "%")
    }

    func parser(
        _ parser: XMLParser, didStartElement element: String, namespaceURI: String?, qualifiedName: String?,
        attributes: [String: String]
    ) {
        name = attributes["name"] ?? name
        form = attributes["quantity"] ?? "other"
        text = ""
    }

    func parser(_ parser: XMLParser, foundCharacters characters: String) {
        text += characters
    }

    func parser(_ parser: XMLParser, didEndElement element: String, namespaceURI: String?, qualifiedName: String?) {
        guard element == "string" || element == "item" else { return }
        let plain = text.replacing("\\n", with: "\n").replacing(/\\(.)/) { String($0.1) }
        texts[name, default: [:]][form] = plain
    }
}
