// A stand-in for what Trug uses of UIKit; see CoreGraphics.swift. From memory, with Apple's names.
@_exported import CoreGraphics
import UniformTypeIdentifiers

/// UIViewController
@MainActor open class UIViewController: NSObject {}

/// UIImage, init(cgImage:), cgImage
public final class UIImage: @unchecked Sendable {
    public let cgImage: CGImage?

    public init(cgImage: CGImage) {
        self.cgImage = cgImage
    }
}

/// UIKeyboardType
public enum UIKeyboardType {
    case `default`
    case numberPad
    case decimalPad
}

/// UIBackgroundTaskIdentifier, invalid
public struct UIBackgroundTaskIdentifier: Equatable, Sendable {
    public static let invalid = UIBackgroundTaskIdentifier()
}

/// UIPasteboard, general, string
@MainActor public final class UIPasteboard {
    public static let general = UIPasteboard()
    public var string: String?
}

/// UIApplication, shared
@MainActor public final class UIApplication {
    public static let shared = UIApplication()
    /// isIdleTimerDisabled
    public var isIdleTimerDisabled = false

    /// UIApplication.OpenExternalURLOptionsKey
    public struct OpenExternalURLOptionsKey: Hashable {}

    /// open(_:options:completionHandler:)
    public func open(
        _ url: URL, options: [OpenExternalURLOptionsKey: Any], completionHandler: (@MainActor @Sendable (Bool) -> Void)? = nil
    ) {}

    /// beginBackgroundTask(withName:expirationHandler:)
    public func beginBackgroundTask(withName: String?, expirationHandler: (@MainActor @Sendable () -> Void)? = nil)
        -> UIBackgroundTaskIdentifier
    { .invalid }

    /// endBackgroundTask(_:)
    public func endBackgroundTask(_ identifier: UIBackgroundTaskIdentifier) {}
}

/// UIDocumentPickerDelegate
@MainActor public protocol UIDocumentPickerDelegate: AnyObject {
    /// documentPicker(_:didPickDocumentsAt:)
    func documentPicker(_ picker: UIDocumentPickerViewController, didPickDocumentsAt documents: [URL])
    /// documentPickerWasCancelled(_:)
    func documentPickerWasCancelled(_ picker: UIDocumentPickerViewController)
}

/// UIDocumentPickerViewController, init(forOpeningContentTypes:), init(forExporting:asCopy:)
public final class UIDocumentPickerViewController: UIViewController {
    public init(forOpeningContentTypes: [UTType]) {}
    public init(forExporting: [URL], asCopy: Bool) {}
    public weak var delegate: (any UIDocumentPickerDelegate)?
}

/// UIActivityViewController, init(activityItems:applicationActivities:)
public final class UIActivityViewController: UIViewController {
    public init(activityItems: [Any], applicationActivities: [UIActivity]?) {}
}

/// UIActivity
public final class UIActivity {}

/// UINavigationControllerDelegate
@MainActor public protocol UINavigationControllerDelegate: AnyObject {}

/// UIImagePickerControllerDelegate
@MainActor public protocol UIImagePickerControllerDelegate: AnyObject {
    /// imagePickerController(_:didFinishPickingMediaWithInfo:)
    func imagePickerController(
        _ picker: UIImagePickerController, didFinishPickingMediaWithInfo info: [UIImagePickerController.InfoKey: Any])
    /// imagePickerControllerDidCancel(_:)
    func imagePickerControllerDidCancel(_ picker: UIImagePickerController)
}

/// UIImagePickerController
public final class UIImagePickerController: UIViewController {
    /// UIImagePickerController.SourceType
    public enum SourceType {
        case camera
    }

    /// UIImagePickerController.InfoKey: originalImage, mediaMetadata
    public struct InfoKey: Hashable, Sendable {
        let name: String
        public static let originalImage = InfoKey(name: "originalImage")
        public static let mediaMetadata = InfoKey(name: "mediaMetadata")
    }

    /// isSourceTypeAvailable(_:)
    public static func isSourceTypeAvailable(_ source: SourceType) -> Bool { false }
    public var sourceType = SourceType.camera
    public weak var delegate: (any UIImagePickerControllerDelegate & UINavigationControllerDelegate)?
}
