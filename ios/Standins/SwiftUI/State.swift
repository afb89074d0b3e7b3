// See Views.swift.

/// State
@propertyWrapper public struct State<Value> {
    private final class Box {
        var value: Value

        init(_ value: Value) {
            self.value = value
        }
    }

    private let box: Box

    public init(wrappedValue: Value) {
        box = Box(wrappedValue)
    }

    public init() where Value: ExpressibleByNilLiteral {
        box = Box(nil)
    }

    public var wrappedValue: Value {
        get { box.value }
        nonmutating set { box.value = newValue }
    }

    public var projectedValue: Binding<Value> { Binding(get: { box.value }, set: { box.value = $0 }) }
}

/// Binding, init(get:set:)
@propertyWrapper public struct Binding<Value> {
    private let get: () -> Value
    private let set: (Value) -> Void

    public init(get: @escaping () -> Value, set: @escaping (Value) -> Void) {
        self.get = get
        self.set = set
    }

    public var wrappedValue: Value {
        get { get() }
        nonmutating set { set(newValue) }
    }

    public var projectedValue: Binding<Value> { self }
}

/// Bindable
@propertyWrapper @dynamicMemberLookup public struct Bindable<Value: AnyObject & Observable> {
    public var wrappedValue: Value

    public init(wrappedValue: Value) {
        self.wrappedValue = wrappedValue
    }

    public var projectedValue: Bindable<Value> { self }

    public subscript<Subject>(dynamicMember path: ReferenceWritableKeyPath<Value, Subject>) -> Binding<Subject> {
        Binding(get: { wrappedValue[keyPath: path] }, set: { wrappedValue[keyPath: path] = $0 })
    }
}

/// FocusState, FocusState.Binding
@propertyWrapper public struct FocusState<Value: Hashable> {
    private let state: State<Value>

    public init() where Value == Bool {
        state = State(wrappedValue: false)
    }

    public var wrappedValue: Value {
        get { state.wrappedValue }
        nonmutating set { state.wrappedValue = newValue }
    }

    public var projectedValue: Binding { Binding() }

    public struct Binding {}
}

/// SceneStorage
@propertyWrapper public struct SceneStorage<Value> {
    private let state: State<Value>

    public init(_ key: String) where Value == Data? {
        state = State(wrappedValue: nil)
    }

    public var wrappedValue: Value {
        get { state.wrappedValue }
        nonmutating set { state.wrappedValue = newValue }
    }
}

/// Environment, EnvironmentValues, EnvironmentKey
@propertyWrapper public struct Environment<Value> {
    private let path: KeyPath<EnvironmentValues, Value>

    public init(_ path: KeyPath<EnvironmentValues, Value>) {
        self.path = path
    }

    public var wrappedValue: Value { EnvironmentValues()[keyPath: path] }
}

public protocol EnvironmentKey {
    associatedtype Value
    static var defaultValue: Value { get }
}

public struct EnvironmentValues {
    public subscript<K: EnvironmentKey>(key: K.Type) -> K.Value {
        get { K.defaultValue }
        set {}
    }

    /// layoutDirection
    public var layoutDirection: LayoutDirection {
        get { .leftToRight }
        set {}
    }
    /// colorScheme, scenePhase, dynamicTypeSize, verticalSizeClass, displayScale, accessibilityReduceMotion
    public var colorScheme: ColorScheme { .light }
    public var scenePhase: ScenePhase { .active }
    public var dynamicTypeSize: DynamicTypeSize { .large }
    public var verticalSizeClass: UserInterfaceSizeClass? { .regular }
    public var displayScale: CGFloat { 1 }
    public var accessibilityReduceMotion: Bool { false }
}

/// LayoutDirection
public enum LayoutDirection: Sendable {
    case leftToRight
    case rightToLeft
}

/// ColorScheme, ScenePhase, DynamicTypeSize, isAccessibilitySize, UserInterfaceSizeClass
public enum ColorScheme: Sendable {
    case light
    case dark
}

public enum ScenePhase: Sendable {
    case background
    case inactive
    case active
}

public enum DynamicTypeSize: Sendable {
    case large
    case accessibility1

    public var isAccessibilitySize: Bool { self == .accessibility1 }
}

public enum UserInterfaceSizeClass: Sendable {
    case compact
    case regular
}

/// Scene, SceneBuilder, WindowGroup, App, main()
@MainActor @preconcurrency public protocol Scene {
    associatedtype Body: Scene
    @SceneBuilder @MainActor @preconcurrency var body: Body { get }
}

extension Never: Scene {}

@resultBuilder public enum SceneBuilder {
    public static func buildBlock<Content: Scene>(_ content: Content) -> Content { content }
}

public struct WindowGroup<Content: View>: Scene {
    public init(@ViewBuilder content: () -> Content) {}
    public var body: Never { fatalError("a scene of the system's has no body") }
}

@MainActor @preconcurrency public protocol App {
    associatedtype Body: Scene
    init()
    @SceneBuilder @MainActor @preconcurrency var body: Body { get }
}

extension App {
    /// Nothing can be shown here.
    public static func main() {}
}
