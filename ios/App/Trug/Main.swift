import SwiftUI
import TrugApp

/// The app.
@main struct Main: App {
    var body: some Scene { TrugScene() }
}
