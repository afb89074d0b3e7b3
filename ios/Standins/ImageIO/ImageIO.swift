// A stand-in for what Trug uses of Image I/O; see CoreGraphics.swift. From memory, with Apple's names.
@_exported import CoreGraphics

/// CGImageSource, CGImageDestination
public final class CGImageSource {}
public final class CGImageDestination {}

/// CGImageSourceCreateWithURL(_:_:)
// swift-format-ignore: AlwaysUseLowerCamelCase
public func CGImageSourceCreateWithURL(_ url: CFURL, _ options: CFDictionary?) -> CGImageSource? { nil }

/// CGImageSourceCreateThumbnailAtIndex(_:_:_:)
// swift-format-ignore: AlwaysUseLowerCamelCase
public func CGImageSourceCreateThumbnailAtIndex(_ source: CGImageSource, _ index: Int, _ options: CFDictionary?) -> CGImage? { nil }

/// kCGImageSourceCreateThumbnailFromImageAlways, kCGImageSourceCreateThumbnailWithTransform, kCGImageSourceThumbnailMaxPixelSize
public let kCGImageSourceCreateThumbnailFromImageAlways: CFString = ""
public let kCGImageSourceCreateThumbnailWithTransform: CFString = ""
public let kCGImageSourceThumbnailMaxPixelSize: CFString = ""

/// CGImageDestinationCreateWithData(_:_:_:_:)
// swift-format-ignore: AlwaysUseLowerCamelCase
public func CGImageDestinationCreateWithData(
    _ data: CFMutableData, _ type: CFString, _ count: Int, _ options: CFDictionary?
) -> CGImageDestination? { nil }

/// CGImageDestinationAddImage(_:_:_:)
// swift-format-ignore: AlwaysUseLowerCamelCase
public func CGImageDestinationAddImage(_ destination: CGImageDestination, _ image: CGImage, _ properties: CFDictionary?) {}

/// CGImageDestinationFinalize(_:)
// swift-format-ignore: AlwaysUseLowerCamelCase
public func CGImageDestinationFinalize(_ destination: CGImageDestination) -> Bool { false }
