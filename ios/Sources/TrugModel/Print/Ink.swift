/// What pages are printed with: text, quieter text, the one colour for what can be touched, and the paper. The same on both phones.
public struct Ink: Equatable, Sendable {
    public let text: Colour
    public let quiet: Colour
    public let touch: Colour
    public let paper: Colour
    /// Whether pictures are seen through red light too: it keeps eyes used to the dark.
    public let isRed: Bool

    /// A colour of sRGB, each part from 0 to 1.
    public struct Colour: Equatable, Sendable {
        public let red: Double
        public let green: Double
        public let blue: Double

        init(_ hex: UInt32) {
            red = Double(hex >> 16 & 255) / 255
            green = Double(hex >> 8 & 255) / 255
            blue = Double(hex & 255) / 255
        }
    }

    static let light = Ink(
        text: Colour(0x1C1A15), quiet: Colour(0x5C5546), touch: Colour(0x7A3A0C), paper: Colour(0xFAF7EE), isRed: false)
    static let dark = Ink(
        text: Colour(0xEFEADC), quiet: Colour(0xB4AC9A), touch: Colour(0xE9AC72), paper: Colour(0x14130F), isRed: false)
    static let red = Ink(
        text: Colour(0xFF3626), quiet: Colour(0xF01408), touch: Colour(0xFF6A52), paper: Colour(0x000000), isRed: true)
}

/// How pages look. Red for night keeps eyes used to the dark.
public enum Look: String, CaseIterable, Sendable {
    case phone
    case light
    case dark
    case red

    /// What it is called.
    var words: String {
        switch self {
        case .phone: Words.App.lookPhone
        case .light: Words.App.lookLight
        case .dark: Words.App.lookDark
        case .red: Words.App.lookRed
        }
    }

    /// Its ink, on a phone that is itself dark or not.
    public func ink(phoneIsDark: Bool) -> Ink {
        switch self {
        case .phone: phoneIsDark ? .dark : .light
        case .light: .light
        case .dark: .dark
        case .red: .red
        }
    }

    /// Whether the system's own parts, such as the keyboard, are to be dark; none where they are as the phone is.
    public var isDark: Bool? {
        switch self {
        case .phone: nil
        case .light: false
        case .dark, .red: true
        }
    }
}
