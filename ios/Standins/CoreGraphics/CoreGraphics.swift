// A stand-in for what Trug uses of Core Graphics and Core Foundation, so that its views can be type-checked where there is neither.
// It draws nothing. Every declaration is from memory, with the name under which Apple's documentation has it.
@_exported import Foundation

/// CGImage
public final class CGImage {}

/// CGAffineTransform, init(scaleX:y:)
public struct CGAffineTransform {
    public init(scaleX: CGFloat, y: CGFloat) {}
}

/// CFString, CFDictionary, CFURL and CFMutableData: bridged there, the same here.
public typealias CFString = String
public typealias CFDictionary = [CFString: Any]
public typealias CFURL = URL
public typealias CFMutableData = NSMutableData
