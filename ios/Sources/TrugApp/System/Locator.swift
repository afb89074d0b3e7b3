import CoreLocation
import Foundation
import TrugModel

/// The phone's position, while the app is used and somebody listens.
@MainActor final class Locator: NSObject, CLLocationManagerDelegate {
    private let manager = CLLocationManager()
    private var tell: (@MainActor (Reading) -> Void)?
    private var asked: (@MainActor (Bool) -> Void)?

    override init() {
        super.init()
        manager.delegate = self
        manager.desiredAccuracy = kCLLocationAccuracyBest
        manager.activityType = .other
    }

    var isAllowed: Bool { manager.authorizationStatus == .authorizedWhenInUse || manager.authorizationStatus == .authorizedAlways }

    /// Asks its owner; where they were asked before, the system asks no more, and the answer is known.
    func ask(_ told: @escaping @MainActor (Bool) -> Void) {
        guard manager.authorizationStatus == .notDetermined else { return told(isAllowed) }
        asked = told
        manager.requestWhenInUseAuthorization()
    }

    func listen(_ tell: @escaping @MainActor (Reading) -> Void) {
        self.tell = tell
        manager.startUpdatingLocation()
    }

    func stop() {
        tell = nil
        manager.stopUpdatingLocation()
    }

    nonisolated func locationManagerDidChangeAuthorization(_ manager: CLLocationManager) {
        MainActor.assumeIsolated {
            guard self.manager.authorizationStatus != .notDetermined, let told = asked else { return }
            asked = nil
            told(isAllowed)
        }
    }

    nonisolated func locationManager(_ manager: CLLocationManager, didUpdateLocations locations: [CLLocation]) {
        MainActor.assumeIsolated {
            for location in locations { tell?(Reading(location)) }
        }
    }

    /// It goes on trying by itself; until then there is none.
    nonisolated func locationManager(_ manager: CLLocationManager, didFailWithError error: any Error) {}
}

extension Reading {
    /// The system dates a reading by the clock, which somebody may set: only its age is taken from there.
    init(_ location: CLLocation) {
        let age = max(0, -location.timestamp.timeIntervalSinceNow)
        self.init(
            latitude: location.coordinate.latitude, longitude: location.coordinate.longitude,
            accuracyM: location.horizontalAccuracy >= 0 ? location.horizontalAccuracy : nil, at: .now - .seconds(age))
    }
}
