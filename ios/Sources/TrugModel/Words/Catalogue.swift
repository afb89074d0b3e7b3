import Foundation

/// What is put into a text.
enum Given {
    case text(String)
    case number(Int)
}

/// A text, and the names of what is put into it, in order.
struct Sentence {
    let key: String
    let arguments: [String]
}

/// The string catalogue as it is written, where no Xcode has compiled it: tests then read the very words that phones are given.
struct Catalogue: Decodable {
    private let sourceLanguage: String
    private let strings: [String: Entry]

    private struct Entry: Decodable {
        let localizations: [String: Localisation]
    }

    private struct Localisation: Decodable {
        let stringUnit: Unit?
        let variations: Variations?
    }

    private struct Variations: Decodable {
        let plural: [String: Form]
    }

    private struct Form: Decodable {
        let stringUnit: Unit
    }

    private struct Unit: Decodable {
        let value: String
    }

    static let shipped: Catalogue? = Bundle.module.url(forResource: "Localizable", withExtension: "xcstrings")
        .flatMap { try? Data(contentsOf: $0) }
        .flatMap { try? JSONDecoder().decode(Catalogue.self, from: $0) }

    /// The keys of all texts.
    var keys: Set<String> { Set(strings.keys) }

    /// A text of the catalogue's own language; none where it has no such key.
    func said(_ key: String, _ given: [Given]) -> String? {
        guard let entry = strings[key]?.localizations[sourceLanguage] else { return nil }
        let plural = entry.variations?.plural
        guard let text = entry.stringUnit ?? (plural?[form(of: given)] ?? plural?["other"])?.stringUnit else { return nil }
        return given.isEmpty ? text.value : filled(text.value, given)
    }

    /// English has two plural forms: CLDR, Language Plural Rules, en: one for the whole number 1, other for the rest.
    private func form(of given: [Given]) -> String {
        if case .number(1)? = given.first { "one" } else { "other" }
    }

    /// Fills %1$@ and %2$lld, and makes one sign of %%.
    private func filled(_ text: String, _ given: [Given]) -> String {
        var words = ""
        var rest = text[...]
        while let sign = rest.firstIndex(of: "%") {
            words += rest[..<sign]
            rest = rest[rest.index(after: sign)...]
            let figures = rest.prefix(while: \.isNumber)
            rest = rest.dropFirst(figures.isEmpty ? 1 : figures.count + 1)
            guard let at = Int(figures), given.indices.contains(at - 1) else {
                words += "%"
                continue
            }
            switch given[at - 1] {
            case .text(let text): words += text
            case .number(let number): words += String(number)
            }
            rest = rest.dropFirst(rest.hasPrefix("lld") ? 3 : 1)
        }
        return words + rest
    }
}

extension Catalogue {
    /// A text of the catalogue, with what belongs into it. Of plurals the count comes first, and chooses the form.
    static func say(_ key: String, _ given: Given...) -> String { say(key, given) }

    static func say(_ key: String, _ given: [Given]) -> String {
        #if canImport(Darwin)
            // Compiled by Xcode for every language there is; the system chooses among them, and among the forms of a plural.
            let text = Bundle.module.localizedString(forKey: key, value: nil, table: nil)
            guard !given.isEmpty else { return text }
            let arguments: [any CVarArg] = given.map {
                switch $0 {
                case .text(let words): words as NSString
                case .number(let number): number
                }
            }
            return String(format: text, locale: .current, arguments: arguments)
        #else
            return shipped?.said(key, given) ?? key
        #endif
    }
}
