import Foundation
import TrugCore

/// Asks for a photo, and hands it to the notebook before anything else. A photo stays among the captures until the notebook has it,
/// whatever dies meanwhile.
@MainActor public final class Camera {
    private let core: Core
    private let position: Position
    private let captures: Captures
    private var awaited: Captures.Capture?
    weak var house: House?

    /// Whether it was asked for and has not come back yet.
    private var isLeaving = false

    init(_ core: Core, _ position: Position, _ captures: Captures) {
        self.core = core
        self.position = position
        self.captures = captures
    }

    /// Trug is in front again.
    func awake() {
        isLeaving = house?.wish != nil
    }

    func ask(_ purpose: Purpose, choose: Bool) {
        // A glove that touches twice wants one photo.
        if isLeaving { return }
        guard choose || house?.system.hasCamera == true else {
            house?.complain(Words.Camera.none)
            return
        }
        do {
            awaited = try captures.begin(purpose)
            isLeaving = true
            house?.wish = choose ? .photo : .camera
        } catch {
            house?.complain(Words.Camera.noRoom)
        }
    }

    // ---- What comes back

    /// What the system's camera or picker came back with.
    public enum Came: Sendable {
        /// A photo that was taken here and now.
        case shot(Data)
        /// A photo that was chosen, in a file that stays until it is answered.
        case chosen(URL)
        case nothing
    }

    /// A photo was chosen, and is being fetched: the picker closes, and `came` is told of it later.
    public func fetching() {
        house?.wish = nil
    }

    public func came(_ what: Came) {
        isLeaving = false
        house?.wish = nil
        guard let capture = awaited else { return }
        awaited = nil
        let captures = captures
        switch what {
        case .shot(let photo):
            hand(capture, here: position.best?.fix, isNow: true) { try photo.write(to: capture.file, options: .atomic) }
        case .chosen(let file):
            hand(capture, here: nil, isNow: false) {
                try captures.fill(capture, from: file)
                try? FileManager.default.removeItem(at: file)
            }
        case .nothing:
            capture.remove()
            house?.complain(Words.Camera.cancelled)
        }
    }

    private func hand(_ capture: Captures.Capture, here: Fix?, isNow: Bool, fill: @escaping @Sendable () throws -> Void) {
        core.make { book in
            try fill()
            return try Self.hand(book, capture, here)
        } then: { [weak house] handed in
            switch handed {
            case .success(let page): house?.taken(capture.purpose, page, isNow: isNow)
            case .failure(let error):
                if capture.isEmpty { capture.remove() }
                house?.complain(Self.sentence(error))
            }
        }
    }

    private static func sentence(_ error: any Error) -> String {
        switch error {
        case CocoaError.fileReadNoPermission, CocoaError.fileReadNoSuchFile:
            Words.sentence("photo-not-allowed") ?? Words.sentence(error)
        case is CocoaError: Words.Camera.noRoom
        default: Words.sentence(error)
        }
    }

    // ---- Photos that were on their way when the process died

    /// Each goes where it was meant for.
    func handLeftovers() {
        for capture in captures.all() where capture.file != awaited?.file {
            core.make {
                try Self.handLeftover($0, capture)
            } then: { [weak house] handed in
                if case .success(let page?) = handed { house?.taken(capture.purpose, page, isNow: false) }
            }
        }
    }

    nonisolated private static func handLeftover(_ book: Book, _ capture: Captures.Capture) throws -> FindPage? {
        if capture.isEmpty {
            capture.remove()
            return nil
        }
        // The notebook may have it: the process can die after that and before ours is let go of.
        if let owner = try book.findWithPhoto(path: capture.file.path), (capture.find ?? owner) == owner {
            let page = try book.findPage(id: owner)
            capture.remove()
            return page
        }
        // Where the phone is now says nothing of where it was then.
        return try hand(book, capture, nil)
    }

    /// The notebook has the photo when this returns, and only then is ours let go of. A find that is gone makes room for a new one.
    nonisolated private static func hand(_ book: Book, _ capture: Captures.Capture, _ here: Fix?) throws -> FindPage {
        let added = try capture.find.flatMap { try add(book, capture, to: $0) }
        let page = try added ?? book.beginFind(photo: capture.file.path, role: capture.role, fix: here)
        capture.remove()
        return page
    }

    nonisolated private static func add(_ book: Book, _ capture: Captures.Capture, to find: String) throws -> FindPage? {
        do {
            return try book.addPhoto(id: find, path: capture.file.path, role: capture.role)
        } catch TrugError.Said(code: "not-found", _, _) {
            return nil
        }
    }
}
