import Observation

/// Where the phone is: the best that its system has said lately, and never an old one. Listens only while somebody asks.
@MainActor @Observable public final class Position {
    /// Whether its owner lets Trug know, exactly or roughly.
    public private(set) var isAllowed: Bool
    @ObservationIgnored private let system: any System
    private var known: Reading?
    @ObservationIgnored private var told: (@MainActor (Reading) -> Void)?

    init(_ system: any System) {
        self.system = system
        isAllowed = system.isPositionAllowed
    }

    /// Whether its owner was ever asked: Trug asks once by itself, and then only where it is told to.
    var wasAsked: Bool { system.remembered(Self.asked) != nil }

    /// The best reading; none where none is fresh.
    var best: Reading? { known.flatMap { $0.isStale(.now) ? nil : $0 } }

    /// Asks its owner, and tells the answer.
    func ask(_ answered: @escaping @MainActor (Bool) -> Void) {
        system.remember("yes", as: Self.asked)
        system.askPosition { [weak self] allowed in
            self?.isAllowed = allowed
            answered(allowed)
        }
    }

    /// Listens, and tells every better reading, until `stop`. Does nothing where it may not.
    func listen(_ tell: @escaping @MainActor (Reading) -> Void) {
        told = tell
        isAllowed = system.isPositionAllowed
        guard isAllowed else { return }
        system.listenForPosition { [weak self] in self?.read($0) }
    }

    func stop() {
        told = nil
        system.stopListening()
    }

    private func read(_ reading: Reading) {
        let best = Reading.best(known, reading, .now)
        if best == known { return }
        known = best
        if let best { told?(best) }
    }

    private static let asked = "position-asked"
}
