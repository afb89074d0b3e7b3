import Foundation

/// What only the phone's own system can do.
@MainActor public protocol System: AnyObject {
    /// Opens the telephone at a number of figures; tells whether there is one.
    func ring(_ number: String, told: @escaping @MainActor (Bool) -> Void)

    /// Asks not to be stopped in the background, until what it answers with is called.
    func stayAwake() -> @MainActor @Sendable () -> Void

    /// The ISO 3166 code of the country that the phone is set to.
    var country: String? { get }

    /// Whether there is a camera.
    var hasCamera: Bool { get }

    /// Small things that stay on this phone: never a place, a name or a note.
    func remember(_ value: String, as key: String)
    func remembered(_ key: String) -> String?

    /// Keeps words to be put in elsewhere.
    func copy(_ words: String)

    // ---- Position

    /// Whether its owner lets Trug know where the phone is, exactly or roughly.
    var isPositionAllowed: Bool { get }

    /// Asks its owner; tells the answer. Where it was refused for good, at once.
    func askPosition(told: @escaping @MainActor (Bool) -> Void)

    /// Tells every reading until it is stopped. Does nothing where it may not.
    func listenForPosition(_ tell: @escaping @MainActor (Reading) -> Void)
    func stopListening()
}

/// What is asked of one of the system's own sheets.
public enum Wish {
    /// The system's camera.
    case camera
    /// A photo that is on the phone already.
    case photo
    /// A day and an hour.
    case time(TimeWish)
    /// A document or a folder.
    case document(DocumentWish)
    /// Words for another app.
    case send(String)
    /// A file for another app.
    case sendFile(URL)
}

/// A document that is wanted, or a place for one.
public struct DocumentWish: Equatable, Sendable {
    /// What is to be picked.
    public enum Kind: Equatable, Sendable {
        /// A document, to be read.
        case open
        /// A folder, to be used from then on.
        case folder
        /// A place for a file that is there already.
        case save(URL)

        /// That file.
        public var file: URL? {
            if case .save(let file) = self { file } else { nil }
        }
    }

    public let kind: Kind
    /// The name under which it was asked for.
    public let name: String
}

/// A day and an hour that are wanted.
public struct TimeWish {
    public let words: String
    public let from: Date
    /// Whether the hour is wanted too.
    public let withHour: Bool
    public let told: @MainActor (Date) -> Void
}
