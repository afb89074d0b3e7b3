import Foundation
import Observation

/// A field that keeps what is typed into it: a moment after the last letter, and at once when it is left. What the page knows
/// better never overwrites what somebody is typing, nor the same number written otherwise, nor what could not be kept.
@MainActor @Observable public final class Field {
    /// What is typed.
    public enum Kind: Sendable {
        case whole
        case decimal
        case text
        case lines
        case name
        /// A long line that is pasted, seen whole.
        case code
        /// A passphrase, in the open: several words are not typed blind. No keyboard is to learn them.
        case secret

        /// Whether it may take several lines.
        public var isTall: Bool { self == .lines || self == .code }
        /// Whether the keyboard is to leave the letters as they are.
        public var isExact: Bool { self == .name || self == .code || self == .secret }
    }

    /// What belongs into it; also what a screen reader calls it.
    public let label: String
    public let kind: Kind
    /// Whether it is typed into at once when its page opens.
    public let opens: Bool
    /// What stands in the field now.
    public private(set) var text = ""
    /// What the keyboard's own key does, where it does more than leave the field.
    @ObservationIgnored var done: (@MainActor () -> Void)?
    /// Told of every change of what is typed, as it is typed.
    @ObservationIgnored var typing: (@MainActor (String) -> Void)?

    @ObservationIgnored private let keeping: @MainActor (Field, String) -> Void
    /// What needs no keeping: what is on record, or on its way there.
    @ObservationIgnored private var known = ""
    @ObservationIgnored private var recorded = ""
    @ObservationIgnored private var later: Task<Void, Never>?

    init(_ label: String, _ kind: Kind = .text, opens: Bool = false, keeping: @escaping @MainActor (Field, String) -> Void = { _, _ in }) {
        self.label = label
        self.kind = kind
        self.opens = opens
        self.keeping = keeping
    }

    /// What stands in the field, without blanks at its ends.
    var typed: String { text.trimmingCharacters(in: .whitespacesAndNewlines) }

    /// Letters were typed.
    public func type(_ letters: String) {
        guard letters != text else { return }
        text = letters
        typing?(letters)
        later?.cancel()
        later = Task { [weak self] in
            try? await Task.sleep(for: .milliseconds(600))
            if !Task.isCancelled { self?.flush() }
        }
    }

    /// The field has the keyboard now, or has it no more.
    public func focus(_ has: Bool) {
        if !has { flush() }
    }

    /// The keyboard's own key.
    public func submit() {
        flush()
        done?()
    }

    /// Begins with what was typed before.
    func begin(_ before: String) {
        text = before
        known = typed
    }

    /// Shows what is on record, unless something newer is being typed.
    func show(_ value: String) {
        let isNewer = typed != known
        recorded = value
        known = value
        if isNewer { return }
        if isSame(typed, value) {
            known = typed
        } else {
            text = value
        }
    }

    /// Keeps what is typed and not kept yet.
    func flush() {
        later?.cancel()
        guard typed != known else { return }
        known = typed
        keeping(self, typed)
    }

    /// What was kept last is not on record after all: it stands here still, and is tried again when the field is left.
    func refused() {
        known = recorded
    }

    /// Gives up what is typed for what is on record.
    func forget(_ value: String) {
        known = typed
        show(value)
    }

    /// "35", "35." and "35,0" are one number.
    private func isSame(_ one: String, _ other: String) -> Bool {
        guard kind == .whole || kind == .decimal, let first = number(one), let second = number(other) else { return one == other }
        return first == second
    }

    private func number(_ typed: String) -> Double? {
        let plain = Writing.plain(typed)
        return Double(plain.hasSuffix(".") ? String(plain.dropLast()) : plain)
    }
}

/// A whole number: typed, or one more and one fewer.
@MainActor public final class Counter {
    public let label: String
    public let field: Field

    init(_ label: String, keeping: @escaping @MainActor (Field, String) -> Void) {
        self.label = label
        field = Field(label, .whole, keeping: keeping)
    }

    /// What a screen reader says of the two buttons.
    public var fewer: String { Words.Find.fewerOf(what: label) }
    public var more: String { Words.Find.moreOf(what: label) }

    /// One more, or one fewer; of a range, than its end.
    public func step(_ by: Int) {
        let now = field.typed.split(separator: "-").last.flatMap { Int($0) } ?? 0
        field.type(String(min(max(now + by, 0), 9999)))
    }
}
