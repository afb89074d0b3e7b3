import TrugCore

/// Where the phone was, as its system said, and when. Times are those of a clock that nobody sets.
public struct Reading: Equatable, Sendable {
    public let latitude: Double
    public let longitude: Double
    public let accuracyM: Double?
    public let at: ContinuousClock.Instant

    public init(latitude: Double, longitude: Double, accuracyM: Double?, at: ContinuousClock.Instant) {
        self.latitude = latitude
        self.longitude = longitude
        self.accuracyM = accuracyM
        self.at = at
    }

    /// As the core takes it.
    var fix: Fix { Fix(latitude: latitude, longitude: longitude, accuracyM: accuracyM) }

    /// Whether it is too old to say where the phone is now.
    func isStale(_ now: ContinuousClock.Instant) -> Bool { now - at > Self.fresh }

    /// Somebody who walks is 25 m further after this (at 1.4 m/s, common practice).
    private static let fresh = Duration.seconds(20)

    /// The better of what is known and what is new: the new one where the known is stale, else the one with the smaller radius.
    /// One that does not tell its accuracy is worse than any that does. Of equals the new one.
    static func best(_ known: Reading?, _ new: Reading, _ now: ContinuousClock.Instant) -> Reading? {
        let fresh = known.flatMap { $0.isStale(now) ? nil : $0 }
        guard !new.isStale(now) else { return fresh }
        guard let fresh else { return new }
        return new.accuracyM ?? .infinity <= fresh.accuracyM ?? .infinity ? new : fresh
    }
}
