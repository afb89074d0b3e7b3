import Foundation
import TrugCore

/// Where the phone is, while a find is in front. While the find is new and its finder stands by it, a better fix takes the place of
/// a worse one. `isStanding` says that they do: the find was begun here, and its photo taken now.
@MainActor final class Better {
    private let position: Position
    private let find: String
    private let isStanding: Bool
    /// Does something to the find that nobody asked for.
    var quietly: (@MainActor (@escaping @Sendable (Book) throws -> FindPage) -> Void)?
    private var listens = false
    private var improves = false
    private var sent: Reading?

    init(_ position: Position, _ find: String, isStanding: Bool) {
        self.position = position
        self.find = find
        self.isStanding = isStanding
    }

    /// Listens as long as there is something to better, or, with `always`, to show.
    func watch(_ page: FindPage, always: Bool) {
        improves = isImproving(page)
        guard improves || always else { return stop() }
        if listens { return }
        listens = true
        position.listen { [weak self] in self?.read($0) }
        if let best = position.best { read(best) }
    }

    func stop() {
        guard listens else { return }
        listens = false
        position.stop()
    }

    private func read(_ reading: Reading) {
        guard improves, let accuracy = reading.accuracyM, accuracy < sent?.accuracyM ?? .infinity else { return }
        sent = reading
        quietly? { [find] in try $0.improvePlace(id: find, fix: reading.fix) }
    }

    /// Whether a better fix is still looked for.
    func isImproving(_ page: FindPage) -> Bool {
        guard isStanding, let at = page.at else { return false }
        let age = Date().timeIntervalSince1970 - Double(at.millis) / 1000
        guard (0...Self.seconds).contains(age) else { return false }
        guard let place = page.place else { return true }
        return place.got == "fix" && place.accuracyM ?? .infinity > Self.goodM
    }

    /// As long as somebody stands by a find that they photograph and count (common practice, no source).
    private static let seconds = 180.0

    /// Good enough to come back to; phones under trees seldom do better (common practice, no source).
    private static let goodM = 5.0
}
