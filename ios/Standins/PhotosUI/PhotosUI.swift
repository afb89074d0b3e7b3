// A stand-in for what Trug uses of PhotosUI; see CoreGraphics.swift. From memory, with Apple's names.
@_exported import UIKit

/// NSItemProvider
public final class NSItemProvider: @unchecked Sendable {
    /// loadFileRepresentation(forTypeIdentifier:completionHandler:)
    public func loadFileRepresentation(
        forTypeIdentifier: String, completionHandler: @escaping @Sendable (URL?, (any Error)?) -> Void
    ) -> Progress { Progress(totalUnitCount: 1) }
}

/// PHPickerFilter, images
public struct PHPickerFilter: Sendable {
    public static let images = PHPickerFilter()
}

/// PHPickerConfiguration: filter, selectionLimit, preferredAssetRepresentationMode
public struct PHPickerConfiguration {
    /// PHPickerConfiguration.AssetRepresentationMode, current
    public enum AssetRepresentationMode {
        case current
    }

    public init() {}
    public var filter: PHPickerFilter?
    public var selectionLimit = 1
    public var preferredAssetRepresentationMode = AssetRepresentationMode.current
}

/// PHPickerResult, itemProvider
public struct PHPickerResult {
    public let itemProvider: NSItemProvider
}

/// PHPickerViewControllerDelegate
@MainActor public protocol PHPickerViewControllerDelegate: AnyObject {
    /// picker(_:didFinishPicking:)
    func picker(_ picker: PHPickerViewController, didFinishPicking results: [PHPickerResult])
}

/// PHPickerViewController, init(configuration:)
public final class PHPickerViewController: UIViewController {
    public init(configuration: PHPickerConfiguration) {}
    public weak var delegate: (any PHPickerViewControllerDelegate)?
}
