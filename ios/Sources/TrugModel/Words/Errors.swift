import TrugCore

extension Words {
    /// What went wrong and what to do, as a sentence. What no sentence was written for is said in the core's own words.
    static func sentence(_ error: any Error) -> String {
        guard case .Said(let code, let arguments, let fallback)? = error as? TrugError else {
            return sentence("unknown", ["code": String(describing: type(of: error))]) ?? ""
        }
        let given = Dictionary(arguments.map { ($0.name, $0.value) }) { first, _ in first }
        return sentence(code, given) ?? fallback.prefix(1).uppercased() + fallback.dropFirst()
    }

    /// The sentence of a code; none where none was written, or where something that belongs into it was not given.
    static func sentence(_ code: String, _ given: [String: String] = [:]) -> String? {
        guard let sentence = errors[code] else { return nil }
        let arguments = sentence.arguments.compactMap { given[$0].map(Given.text) }
        return arguments.count == sentence.arguments.count ? Catalogue.say(sentence.key, arguments) : nil
    }
}
