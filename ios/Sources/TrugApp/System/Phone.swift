import CoreLocation
import Foundation
import TrugModel
import UIKit

/// The phone's own system, and the one notebook of the process.
@MainActor final class Phone: System {
    static let shared = Phone()
    private let locator = Locator()
    private lazy var folder = FileManager.default.urls(for: .applicationSupportDirectory, in: .userDomainMask)[0]
    private lazy var core = Core(folder: folder.appendingPathComponent("notebook"))

    /// The pages over the notebook, as they were.
    func house(_ saved: Data?) -> House {
        House(core: core, system: self, room: folder, saved: saved)
    }

    func ring(_ number: String, told: @escaping @MainActor (Bool) -> Void) {
        guard let number = URL(string: "tel:\(number)") else { return told(false) }
        UIApplication.shared.open(number, options: [:]) { couldOpen in Task { @MainActor in told(couldOpen) } }
    }

    func stayAwake() -> @MainActor @Sendable () -> Void {
        let asked = Background()
        asked.begin()
        return { asked.end() }
    }

    /// The system tells nobody which network the phone is in: where its owner set it to is the best there is.
    var country: String? { Locale.current.region?.identifier }

    var hasCamera: Bool { UIImagePickerController.isSourceTypeAvailable(.camera) }

    func remember(_ value: String, as key: String) { UserDefaults.standard.set(value, forKey: key) }

    func remembered(_ key: String) -> String? { UserDefaults.standard.string(forKey: key) }

    func copy(_ words: String) { UIPasteboard.general.string = words }

    var isPositionAllowed: Bool { locator.isAllowed }

    func askPosition(told: @escaping @MainActor (Bool) -> Void) { locator.ask(told) }

    func listenForPosition(_ tell: @escaping @MainActor (Reading) -> Void) { locator.listen(tell) }

    func stopListening() { locator.stop() }
}

/// A stretch of time in the background that the system was asked for.
@MainActor private final class Background {
    private var task = UIBackgroundTaskIdentifier.invalid

    func begin() {
        task = UIApplication.shared.beginBackgroundTask(withName: "notebook") { [weak self] in
            MainActor.assumeIsolated { self?.end() }
        }
    }

    func end() {
        guard task != .invalid else { return }
        UIApplication.shared.endBackgroundTask(task)
        task = .invalid
    }
}
