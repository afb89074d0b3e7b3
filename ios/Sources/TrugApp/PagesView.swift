import SwiftUI
import TrugModel
import UIKit

/// What stands around every page: the way back, its title, what is wrong, and *Someone is ill*.
struct PagesView: View {
    @Bindable var house: House
    @Environment(\.ink) private var ink

    var body: some View {
        VStack(spacing: 0) {
            if let complaint = house.complaint {
                SayingView(words: complaint, tone: .strong).padding(.horizontal, Measure.margin).padding(.vertical, Measure.gap)
            }
            NavigationStack(path: $house.path) {
                page(house.root).navigationDestination(for: House.Spot.self) { page($0) }
            }
        }
        .background(ink.paper.color)
        .tint(ink.touch.color)
        .onChange(of: house.complaint) { _, words in AccessibilityNotification.Announcement(words ?? "").post() }
        .onChange(of: house.staysOn, initial: true) { _, stays in UIApplication.shared.isIdleTimerDisabled = stays }
        .fullScreenCover(isPresented: $house.wantsCamera) { CameraSheet(camera: house.camera).ignoresSafeArea() }
        .sheet(isPresented: $house.wantsPhoto) { PhotoSheet(camera: house.camera) }
        .sheet(isPresented: $house.wantsTime) { TimeSheet(house: house) }
        .sheet(isPresented: $house.wantsDocument) { DocumentSheet(house: house) }
        .sheet(isPresented: $house.sends) { SendSheet(house: house) }
        .onOpenURL { house.open($0) }
    }

    @ViewBuilder private func page(_ spot: House.Spot) -> some View {
        if let standing = house.standing(spot) {
            LeafView(standing: standing, at: spot.at)
                .navigationTitle(standing.page.title)
                .navigationBarTitleDisplayMode(.inline)
                .toolbarBackground(ink.paper.color, for: .navigationBar)
                .toolbar {
                    if house.leadsToIll(standing) {
                        ToolbarItem(placement: .topBarTrailing) { Button(Words.App.ill) { house.someoneIsIll() } }
                    }
                }
        }
    }
}
