// See Views.swift.

/// Gesture, onChanged(_:), onEnded(_:), simultaneously(with:)
@MainActor @preconcurrency public protocol Gesture {
    associatedtype Value
}

public struct Felt<Value>: Gesture {}

extension Gesture {
    public func onChanged(_ action: @escaping (Value) -> Void) -> Felt<Value> { Felt() }
    public func onEnded(_ action: @escaping (Value) -> Void) -> Felt<Value> { Felt() }
    public func simultaneously<Other: Gesture>(with other: Other) -> Felt<Void> { Felt() }
}

/// DragGesture, DragGesture.Value, translation
public struct DragGesture: Gesture {
    public init() {}

    public struct Value {
        public let translation: CGSize
    }
}

/// MagnifyGesture, MagnifyGesture.Value: magnification, startLocation
public struct MagnifyGesture: Gesture {
    public init() {}

    public struct Value {
        public let magnification: CGFloat
        public let startLocation: CGPoint
    }
}

extension View {
    /// gesture(_:), onTapGesture(count:coordinateSpace:perform:), border(_:width:), accessibilityChildren(children:)
    public func gesture<G: Gesture>(_ gesture: G) -> some View { Modified(self) }
    public func onTapGesture(perform action: @escaping (CGPoint) -> Void) -> some View { Modified(self) }
    public func border(_ style: Color, width: CGFloat = 1) -> some View { Modified(self) }
    public func accessibilityChildren<V: View>(@ViewBuilder children: () -> V) -> some View { Modified(self) }
}
