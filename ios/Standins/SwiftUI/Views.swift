// A stand-in for what Trug uses of SwiftUI, as it is from iOS 17 on, so that its views can be type-checked where there is none. It
// draws nothing, and shows only that the views agree with these declarations, which are from memory, with the names under which
// Apple's documentation has them.
@_exported import CoreGraphics
@_exported import Observation
import UIKit

/// View, body
@MainActor @preconcurrency public protocol View {
    associatedtype Body: View
    @ViewBuilder @MainActor @preconcurrency var body: Body { get }
}

extension Never: View {
    public var body: Never { fatalError("a view of the system's has no body") }
}

/// A view of the system's own.
public protocol Drawn: View where Body == Never {}

extension Drawn {
    public var body: Never { fatalError("a view of the system's has no body") }
}

/// EmptyView, TupleView, Optional as a View, Group
public struct EmptyView: Drawn {
    public init() {}
}

public struct TupleView<each Content: View>: Drawn {
    init(_ content: (repeat each Content)) {}
}

public struct Either<First: View, Second: View>: Drawn {}

extension Optional: View where Wrapped: View {
    public var body: Never { fatalError("a view of the system's has no body") }
}

public struct Group<Content: View>: Drawn {
    public init(@ViewBuilder content: () -> Content) {}
}

/// ViewBuilder
@resultBuilder public enum ViewBuilder {
    @MainActor public static func buildBlock() -> EmptyView { EmptyView() }
    public static func buildExpression<Content: View>(_ content: Content) -> Content { content }
    public static func buildBlock<Content: View>(_ content: Content) -> Content { content }
    @MainActor public static func buildBlock<each Content: View>(_ content: repeat each Content) -> TupleView<repeat each Content> {
        TupleView((repeat each content))
    }
    public static func buildIf<Content: View>(_ content: Content?) -> Content? { content }
    @MainActor public static func buildEither<First: View, Second: View>(first: First) -> Either<First, Second> { Either() }
    @MainActor public static func buildEither<First: View, Second: View>(second: Second) -> Either<First, Second> { Either() }
}

/// Text, init(verbatim:), bold(_:), italic(_:), monospacedDigit(), font(_:)
public struct Text: Drawn {
    public init(verbatim content: String) {}
    public func font(_ font: Font?) -> Text { self }
    public func bold() -> Text { self }
    public func bold(_ isActive: Bool) -> Text { self }
    public func italic(_ isActive: Bool) -> Text { self }
    public func monospacedDigit() -> Text { self }
    /// foregroundStyle(_:), of a text, from iOS 17 on
    public func foregroundStyle(_ style: Color) -> Text { self }
}

/// Image, init(uiImage:), resizable()
public struct Image: Drawn {
    public init(uiImage: UIImage) {}
    public func resizable() -> Image { self }
}

/// Button, init(action:label:), init(_:action:)
public struct Button<Label: View>: Drawn {
    public init(action: @escaping @MainActor () -> Void, @ViewBuilder label: () -> Label) {}
}

extension Button where Label == Text {
    public init<S: StringProtocol>(_ title: S, action: @escaping @MainActor () -> Void) {}
}

/// ButtonStyle, ButtonStyleConfiguration
@MainActor @preconcurrency public protocol ButtonStyle {
    associatedtype Body: View
    typealias Configuration = ButtonStyleConfiguration
    @ViewBuilder func makeBody(configuration: Configuration) -> Body
}

public struct ButtonStyleConfiguration {
    public struct Label: Drawn {}
    @MainActor public var label: Label { Label() }
    public let isPressed: Bool
}

/// TextField, init(_:text:axis:)
public struct TextField: Drawn {
    public init<S: StringProtocol>(_ title: S, text: Binding<String>, axis: Axis) {}
}

/// DatePicker, init(_:selection:displayedComponents:), DatePickerComponents, DatePickerStyle.graphical
public struct DatePicker: Drawn {
    public init<S: StringProtocol>(_ title: S, selection: Binding<Date>, displayedComponents: [DatePickerComponents]) {}
}

public struct DatePickerComponents: Sendable {
    public static let date = DatePickerComponents()
    public static let hourAndMinute = DatePickerComponents()
}

public protocol DatePickerStyle {}

public struct GraphicalDatePickerStyle: DatePickerStyle {}

extension DatePickerStyle where Self == GraphicalDatePickerStyle {
    public static var graphical: GraphicalDatePickerStyle { GraphicalDatePickerStyle() }
}

/// VStack, HStack, ZStack, Spacer, ScrollView, LazyVGrid, GridItem, ForEach
public struct VStack<Content: View>: Drawn {
    public init(alignment: HorizontalAlignment = .center, spacing: CGFloat? = nil, @ViewBuilder content: () -> Content) {}
}

public struct HStack<Content: View>: Drawn {
    public init(alignment: VerticalAlignment = .center, spacing: CGFloat? = nil, @ViewBuilder content: () -> Content) {}
}

public struct ZStack<Content: View>: Drawn {
    public init(alignment: Alignment = .center, @ViewBuilder content: () -> Content) {}
}

public struct Spacer: Drawn {
    public init() {}
}

public struct ScrollView<Content: View>: Drawn {
    public init(_ axes: Axis.Set = .vertical, showsIndicators: Bool = true, @ViewBuilder content: () -> Content) {}
}

public struct LazyVGrid<Content: View>: Drawn {
    public init(columns: [GridItem], spacing: CGFloat? = nil, @ViewBuilder content: () -> Content) {}
}

public struct GridItem: Sendable {
    /// GridItem.Size, flexible(minimum:maximum:), adaptive(minimum:maximum:)
    public enum Size: Sendable {
        case flexible(minimum: CGFloat = 10, maximum: CGFloat = .infinity)
        case adaptive(minimum: CGFloat, maximum: CGFloat = .infinity)
    }

    public init(_ size: Size, spacing: CGFloat? = nil) {}
}

public struct ForEach<Data: RandomAccessCollection, ID: Hashable, Content: View>: Drawn {
    public init(_ data: Data, id: KeyPath<Data.Element, ID>, @ViewBuilder content: @escaping (Data.Element) -> Content) {}
}

extension ForEach where Data.Element: Identifiable, ID == Data.Element.ID {
    public init(_ data: Data, @ViewBuilder content: @escaping (Data.Element) -> Content) {}
}

/// GeometryReader, GeometryProxy, size
public struct GeometryReader<Content: View>: Drawn {
    public init(@ViewBuilder content: @escaping (GeometryProxy) -> Content) {}
}

public struct GeometryProxy {
    public let size: CGSize
}

/// Layout, AnyLayout, HStackLayout, VStackLayout
public protocol Layout {}

public struct HStackLayout: Layout {
    public init(alignment: VerticalAlignment = .center, spacing: CGFloat? = nil) {}
}

public struct VStackLayout: Layout {
    public init(alignment: HorizontalAlignment = .center, spacing: CGFloat? = nil) {}
}

public struct AnyLayout: Layout {
    public init(_ layout: some Layout) {}
    @MainActor public func callAsFunction<Content: View>(@ViewBuilder _ content: () -> Content) -> some View { content() }
}

/// NavigationStack, init(path:root:)
public struct NavigationStack<Root: View>: Drawn {
    public init<Data: MutableCollection & RandomAccessCollection & RangeReplaceableCollection>(
        path: Binding<Data>, @ViewBuilder root: () -> Root
    ) where Data.Element: Hashable {}
}

/// UIViewControllerRepresentable
@MainActor @preconcurrency public protocol UIViewControllerRepresentable: View where Body == Never {
    associatedtype UIViewControllerType: UIViewController
    associatedtype Coordinator = Void
    typealias Context = UIViewControllerRepresentableContext<Self>
    func makeUIViewController(context: Context) -> UIViewControllerType
    func updateUIViewController(_ controller: UIViewControllerType, context: Context)
    func makeCoordinator() -> Coordinator
}

extension UIViewControllerRepresentable where Coordinator == Void {
    public func makeCoordinator() {}
}

extension UIViewControllerRepresentable {
    public var body: Never { fatalError("a view of the system's has no body") }
}

public struct UIViewControllerRepresentableContext<Representable: UIViewControllerRepresentable> {
    public let coordinator: Representable.Coordinator
}
