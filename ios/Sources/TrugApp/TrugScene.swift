import SwiftUI
import TrugModel

/// The one window of the app.
public struct TrugScene: Scene {
    public init() {}

    public var body: some Scene {
        WindowGroup { WindowView() }
    }
}

/// Makes the house when the window comes, as it was when the window went.
struct WindowView: View {
    @SceneStorage("stack") private var saved: Data?
    @State private var house: House?
    @Environment(\.scenePhase) private var phase
    @Environment(\.colorScheme) private var scheme

    var body: some View {
        ZStack {
            Color.clear
            if let house {
                PagesView(house: house)
                    .environment(\.ink, house.look.ink(phoneIsDark: scheme == .dark))
                    .preferredColorScheme(house.look.isDark.map { $0 ? .dark : .light })
            }
        }
        .onAppear { house = house ?? Phone.shared.house(saved) }
        .onChange(of: phase, initial: true) { _, phase in
            switch phase {
            case .active: house?.shown()
            case .background:
                house?.left()
                saved = house?.save()
            default: break
            }
        }
    }
}
