// See Views.swift.

/// Color, init(_:red:green:blue:opacity:), white, clear
public struct Color: Drawn, Sendable {
    /// Color.RGBColorSpace, sRGB
    public enum RGBColorSpace: Sendable {
        case sRGB
    }

    public init(_ space: RGBColorSpace = .sRGB, red: Double, green: Double, blue: Double, opacity: Double = 1) {}
    public static let white = Color(red: 1, green: 1, blue: 1)
    public static let clear = Color(red: 1, green: 1, blue: 1, opacity: 0)
}

/// Font, body, title2, footnote
public struct Font: Sendable {
    public static let body = Font()
    public static let title2 = Font()
    public static let footnote = Font()
}

/// Angle, degrees(_:)
public struct Angle: Sendable {
    public static func degrees(_ degrees: Double) -> Angle { Angle() }
}

/// Shape, path(in:), fill(_:), stroke(_:style:)
public protocol Shape: View {
    nonisolated func path(in room: CGRect) -> Path
}

extension Shape {
    public var body: some View { EmptyView() }
    @MainActor public func fill(_ style: Color) -> some View { EmptyView() }
    @MainActor public func stroke(_ content: Color, style: StrokeStyle) -> some View { EmptyView() }
}

/// Rectangle; RoundedRectangle, init(cornerRadius:style:), strokeBorder(_:lineWidth:)
public struct Rectangle: Shape {
    public init() {}
    public nonisolated func path(in room: CGRect) -> Path { Path() }
}

public struct RoundedRectangle: Shape {
    public init(cornerRadius: CGFloat) {}
    public nonisolated func path(in room: CGRect) -> Path { Path() }
    @MainActor public func strokeBorder(_ content: Color, lineWidth: CGFloat = 1) -> some View { EmptyView() }
}

/// Path: init(_:), init(ellipseIn:), move(to:), addLine(to:), addCurve(to:control1:control2:), closeSubpath(), applying(_:)
public struct Path: Sendable {
    public init() {}
    public init(_ rect: CGRect) {}
    public init(ellipseIn rect: CGRect) {}
    public mutating func move(to end: CGPoint) {}
    public mutating func addLine(to end: CGPoint) {}
    public mutating func addCurve(to end: CGPoint, control1: CGPoint, control2: CGPoint) {}
    public mutating func closeSubpath() {}
    public func applying(_ transform: CGAffineTransform) -> Path { self }
}

/// StrokeStyle, CGLineCap, CGLineJoin
public struct StrokeStyle: Sendable {
    public init(lineWidth: CGFloat = 1, lineCap: CGLineCap = .butt, lineJoin: CGLineJoin = .miter, dash: [CGFloat] = []) {}
}

public enum CGLineCap: Sendable {
    case butt
    case round
}

public enum CGLineJoin: Sendable {
    case miter
    case round
}

/// Canvas, init(renderer:); GraphicsContext, stroke(_:with:style:), GraphicsContext.Shading, color(_:)
public struct Canvas: Drawn {
    public init(renderer: @escaping (inout GraphicsContext, CGSize) -> Void) {}
}

public struct GraphicsContext {
    public struct Shading: Sendable {
        public static func color(_ color: Color) -> Shading { Shading() }
    }

    public func stroke(_ path: Path, with shading: Shading, style: StrokeStyle) {}
    public func stroke(_ path: Path, with shading: Shading, lineWidth: CGFloat = 1) {}
    public func fill(_ path: Path, with shading: Shading) {}
    /// clip(to:style:options:), translateBy(x:y:), rotate(by:)
    public mutating func clip(to path: Path, style: FillStyle) {}
    public mutating func translateBy(x: CGFloat, y: CGFloat) {}
    public mutating func rotate(by angle: Angle) {}
    /// resolve(_:), GraphicsContext.ResolvedText, measure(in:), draw(_:in:)
    public func resolve(_ text: Text) -> ResolvedText { ResolvedText() }
    public func draw(_ text: Text, in room: CGRect) {}

    public struct ResolvedText {
        public func measure(in size: CGSize) -> CGSize { size }
    }
}

/// FillStyle, init(eoFill:antialiased:)
public struct FillStyle: Sendable {
    public init(eoFill: Bool = false) {}
}

/// Axis, Edge, Alignment, HorizontalAlignment, VerticalAlignment, TextAlignment, ContentMode
public enum Axis: Sendable {
    case horizontal
    case vertical

    public struct Set: OptionSet, Sendable {
        public let rawValue: Int
        public init(rawValue: Int) {
            self.rawValue = rawValue
        }
        public static let horizontal = Set(rawValue: 1)
        public static let vertical = Set(rawValue: 2)
    }
}

public enum Edge: Sendable {
    case top
    case bottom
    case leading
    case trailing

    public struct Set: OptionSet, Sendable {
        public let rawValue: Int
        public init(rawValue: Int) {
            self.rawValue = rawValue
        }
        public static let top = Set(rawValue: 1)
        public static let bottom = Set(rawValue: 2)
        public static let horizontal = Set(rawValue: 4)
        public static let vertical = Set(rawValue: 8)
    }
}

public struct Alignment: Sendable {
    public static let center = Alignment()
    public static let leading = Alignment()
    public static let bottom = Alignment()
}

public struct HorizontalAlignment: Sendable {
    public static let center = HorizontalAlignment()
    public static let leading = HorizontalAlignment()
}

public struct VerticalAlignment: Sendable {
    public static let center = VerticalAlignment()
}

public enum TextAlignment: Sendable {
    case leading
    case center
}

public enum ContentMode: Sendable {
    case fit
    case fill
}
