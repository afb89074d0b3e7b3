import SwiftUI
import TrugModel

/// Lengths, in points.
enum Measure {
    static let gap: CGFloat = 8
    static let margin: CGFloat = 16
    /// What can be touched is at least so high and wide.
    static let target: CGFloat = 56
    /// The next thing to do, for a gloved thumb.
    static let thumb: CGFloat = 72
    static let figure: CGFloat = 64
    static let photo: CGFloat = 104
    /// What stands beside a leaf on a screen that is low.
    static let beside: CGFloat = 280
    /// The map, at least.
    static let map: CGFloat = 360
    static let square: CGFloat = 300
    static let hair: CGFloat = 1
    static let edge: CGFloat = 3
    static let chosen: CGFloat = 4
    static let corner: CGFloat = 2
}

extension EnvironmentValues {
    /// What pages are printed with.
    var ink: Ink {
        get { self[InkKey.self] }
        set { self[InkKey.self] = newValue }
    }
}

private struct InkKey: EnvironmentKey {
    static let defaultValue = Look.phone.ink(phoneIsDark: false)
}

extension Ink.Colour {
    var color: Color { Color(.sRGB, red: red, green: green, blue: blue, opacity: 1) }
}

extension Ink {
    /// What pictures are seen through: nothing, or red light.
    var glass: Color { isRed ? Color(.sRGB, red: 1, green: 0, blue: 0, opacity: 1) : Color.white }
}

/// A frame around what can be touched, and what a touch does to it.
struct FrameStyle: ButtonStyle {
    let line: Color
    var width: CGFloat = Measure.hair
    var fill = Color.clear
    var height: CGFloat = Measure.target
    @Environment(\.ink) private var ink

    func makeBody(configuration: Configuration) -> some View {
        configuration.label
            .padding(Measure.gap)
            .frame(maxWidth: .infinity, minHeight: height)
            .background(fill)
            .overlay { RoundedRectangle(cornerRadius: Measure.corner).strokeBorder(line, lineWidth: width) }
            .contentShape(Rectangle())
            .opacity(configuration.isPressed ? 0.6 : 1)
    }
}
