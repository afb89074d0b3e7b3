// See Views.swift.
import UIKit

/// A view that something was said of.
public struct Modified<Content: View>: Drawn {
    init(_ content: Content) {}
}

extension View {
    // ---- Room: padding(_:_:), padding(_:), frame(width:height:alignment:), frame(minWidth:…), fixedSize(horizontal:vertical:),
    // clipped(), aspectRatio(_:contentMode:), ignoresSafeArea()
    public func padding(_ length: CGFloat) -> some View { Modified(self) }
    public func padding(_ edges: Edge.Set, _ length: CGFloat? = nil) -> some View { Modified(self) }
    public func frame(width: CGFloat? = nil, height: CGFloat? = nil, alignment: Alignment = .center) -> some View { Modified(self) }
    public func frame(
        minWidth: CGFloat? = nil, idealWidth: CGFloat? = nil, maxWidth: CGFloat? = nil, minHeight: CGFloat? = nil,
        idealHeight: CGFloat? = nil, maxHeight: CGFloat? = nil, alignment: Alignment = .center
    ) -> some View { Modified(self) }
    public func fixedSize(horizontal: Bool, vertical: Bool) -> some View { Modified(self) }
    public func clipped() -> some View { Modified(self) }
    public func aspectRatio(_ ratio: CGFloat? = nil, contentMode: ContentMode) -> some View { Modified(self) }
    public func ignoresSafeArea() -> some View { Modified(self) }

    // ---- Looks: font(_:), bold(_:), foregroundStyle(_:), background(_:), overlay(alignment:content:), tint(_:),
    // opacity(_:), colorMultiply(_:), rotationEffect(_:), lineLimit(_:), multilineTextAlignment(_:), preferredColorScheme(_:)
    public func font(_ font: Font?) -> some View { Modified(self) }
    public func bold(_ isActive: Bool = true) -> some View { Modified(self) }
    public func foregroundStyle(_ style: Color) -> some View { Modified(self) }
    public func background(_ style: Color) -> some View { Modified(self) }
    public func overlay<Over: View>(alignment: Alignment = .center, @ViewBuilder content: () -> Over) -> some View { Modified(self) }
    public func tint(_ tint: Color?) -> some View { Modified(self) }
    public func opacity(_ opacity: Double) -> some View { Modified(self) }
    public func colorMultiply(_ color: Color) -> some View { Modified(self) }
    public func rotationEffect(_ angle: Angle) -> some View { Modified(self) }
    /// minimumScaleFactor(_:), scaleEffect(x:y:anchor:)
    public func minimumScaleFactor(_ factor: CGFloat) -> some View { Modified(self) }
    public func scaleEffect(x: CGFloat = 1, y: CGFloat = 1) -> some View { Modified(self) }
    public func lineLimit(_ number: Int?) -> some View { Modified(self) }
    public func multilineTextAlignment(_ alignment: TextAlignment) -> some View { Modified(self) }
    public func preferredColorScheme(_ scheme: ColorScheme?) -> some View { Modified(self) }
    /// textSelection(_:)
    public func textSelection(_ selectability: EnabledTextSelectability) -> some View { Modified(self) }

    // ---- Touch: buttonStyle(_:), contentShape(_:), datePickerStyle(_:), labelsHidden()
    public func buttonStyle<S: ButtonStyle>(_ style: S) -> some View { Modified(self) }
    public func contentShape<S: Shape>(_ shape: S) -> some View { Modified(self) }
    public func datePickerStyle<S: DatePickerStyle>(_ style: S) -> some View { Modified(self) }
    public func labelsHidden() -> some View { Modified(self) }

    // ---- Typing: keyboardType(_:), textInputAutocapitalization(_:), autocorrectionDisabled(_:), submitLabel(_:), focused(_:),
    // onSubmit(of:_:), scrollDismissesKeyboard(_:)
    public func keyboardType(_ type: UIKeyboardType) -> some View { Modified(self) }
    public func textInputAutocapitalization(_ capitals: TextInputAutocapitalization?) -> some View { Modified(self) }
    public func autocorrectionDisabled(_ disable: Bool = true) -> some View { Modified(self) }
    public func submitLabel(_ label: SubmitLabel) -> some View { Modified(self) }
    public func focused(_ condition: FocusState<Bool>.Binding) -> some View { Modified(self) }
    public func onSubmit(_ action: @escaping () -> Void) -> some View { Modified(self) }
    public func scrollDismissesKeyboard(_ mode: ScrollDismissesKeyboardMode) -> some View { Modified(self) }

    // ---- Time: onAppear(perform:), onChange(of:initial:_:), task(id:priority:_:), id(_:)
    public func onAppear(perform action: (() -> Void)? = nil) -> some View { Modified(self) }
    public func onChange<V: Equatable>(of value: V, initial: Bool = false, _ action: @escaping (V, V) -> Void) -> some View {
        Modified(self)
    }
    public func task<T: Equatable>(id: T, _ action: @escaping @MainActor @Sendable () async -> Void) -> some View { Modified(self) }
    public func id<ID: Hashable>(_ id: ID) -> some View { Modified(self) }

    // ---- Around: onOpenURL(perform:), environment(_:_:), navigationTitle(_:), navigationBarTitleDisplayMode(_:), navigationDestination(for:destination:),
    // toolbar(content:), toolbarBackground(_:for:), sheet(isPresented:…), fullScreenCover(isPresented:…), presentationDetents(_:)
    public func onOpenURL(perform action: @escaping (URL) -> Void) -> some View { Modified(self) }
    public func environment<V>(_ path: WritableKeyPath<EnvironmentValues, V>, _ value: V) -> some View { Modified(self) }
    public func navigationTitle<S: StringProtocol>(_ title: S) -> some View { Modified(self) }
    public func navigationBarTitleDisplayMode(_ mode: NavigationBarItem.TitleDisplayMode) -> some View { Modified(self) }
    public func navigationDestination<D: Hashable, C: View>(for data: D.Type, @ViewBuilder destination: @escaping (D) -> C) -> some View {
        Modified(self)
    }
    public func toolbar<Content: ToolbarContent>(@ToolbarContentBuilder content: () -> Content) -> some View { Modified(self) }
    public func toolbarBackground(_ style: Color, for bars: ToolbarPlacement) -> some View { Modified(self) }
    public func sheet<C: View>(isPresented: Binding<Bool>, @ViewBuilder content: @escaping () -> C) -> some View { Modified(self) }
    public func fullScreenCover<C: View>(isPresented: Binding<Bool>, @ViewBuilder content: @escaping () -> C) -> some View {
        Modified(self)
    }
    public func presentationDetents(_ detents: Set<PresentationDetent>) -> some View { Modified(self) }

    // ---- Screen readers: accessibilityLabel(_:), accessibilityAddTraits(_:), accessibilityHidden(_:), accessibilityElement(children:)
    public func accessibilityLabel<S: StringProtocol>(_ label: S) -> some View { Modified(self) }
    public func accessibilityAddTraits(_ traits: AccessibilityTraits) -> some View { Modified(self) }
    public func accessibilityHidden(_ hidden: Bool) -> some View { Modified(self) }
    public func accessibilityElement(children: AccessibilityChildBehavior = .ignore) -> some View { Modified(self) }
}

/// TextSelectability.enabled
public struct EnabledTextSelectability: Sendable {
    public static let enabled = EnabledTextSelectability()
}

/// AccessibilityTraits, AccessibilityChildBehavior, AccessibilityNotification.Announcement
public struct AccessibilityTraits: SetAlgebra, Sendable {
    public static let isHeader = AccessibilityTraits()
    public static let isSelected = AccessibilityTraits()
    public static let isImage = AccessibilityTraits()
    public typealias Element = AccessibilityTraits
    public init() {}
    public func contains(_ member: AccessibilityTraits) -> Bool { false }
    public func union(_ other: AccessibilityTraits) -> AccessibilityTraits { self }
    public func intersection(_ other: AccessibilityTraits) -> AccessibilityTraits { self }
    public func symmetricDifference(_ other: AccessibilityTraits) -> AccessibilityTraits { self }
    public mutating func insert(_ new: AccessibilityTraits) -> (inserted: Bool, memberAfterInsert: AccessibilityTraits) { (false, self) }
    public mutating func remove(_ member: AccessibilityTraits) -> AccessibilityTraits? { nil }
    public mutating func update(with new: AccessibilityTraits) -> AccessibilityTraits? { nil }
    public mutating func formUnion(_ other: AccessibilityTraits) {}
    public mutating func formIntersection(_ other: AccessibilityTraits) {}
    public mutating func formSymmetricDifference(_ other: AccessibilityTraits) {}
}

public struct AccessibilityChildBehavior: Sendable {
    public static let ignore = AccessibilityChildBehavior()
    public static let combine = AccessibilityChildBehavior()
}

public enum AccessibilityNotification {
    public struct Announcement {
        public init(_ announcement: String) {}
        public func post() {}
    }
}

/// ToolbarContent, ToolbarContentBuilder, ToolbarItem, ToolbarItemGroup, ToolbarItemPlacement, ToolbarPlacement
@MainActor public protocol ToolbarContent {}

public struct ToolbarItem<Content: View>: ToolbarContent {
    public init(placement: ToolbarItemPlacement, @ViewBuilder content: () -> Content) {}
}

public struct ToolbarItemGroup<Content: View>: ToolbarContent {
    public init(placement: ToolbarItemPlacement, @ViewBuilder content: () -> Content) {}
}

public struct ToolbarItemPlacement: Sendable {
    public static let topBarTrailing = ToolbarItemPlacement()
    public static let keyboard = ToolbarItemPlacement()
}

public struct ToolbarPlacement: Sendable {
    public static let navigationBar = ToolbarPlacement()
}

extension Optional: ToolbarContent where Wrapped: ToolbarContent {}

@resultBuilder public enum ToolbarContentBuilder {
    public static func buildBlock<Content: ToolbarContent>(_ content: Content) -> Content { content }
    public static func buildIf<Content: ToolbarContent>(_ content: Content?) -> Content? { content }
}

/// NavigationBarItem.TitleDisplayMode, PresentationDetent, ScrollDismissesKeyboardMode, SubmitLabel, TextInputAutocapitalization
public enum NavigationBarItem {
    public enum TitleDisplayMode {
        case inline
    }
}

public struct PresentationDetent: Hashable, Sendable {
    public static let large = PresentationDetent()
}

public struct ScrollDismissesKeyboardMode: Sendable {
    public static let interactively = ScrollDismissesKeyboardMode()
}

public struct SubmitLabel: Sendable {
    public static let done = SubmitLabel()
}

public struct TextInputAutocapitalization: Sendable {
    public static let never = TextInputAutocapitalization()
    public static let sentences = TextInputAutocapitalization()
}
