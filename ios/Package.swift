// swift-tools-version:6.0
import Foundation
import PackageDescription

// On a Mac the core comes as an xcframework, which ios/xcframework builds. Elsewhere it is the library of bindings/ffi, which lies where
// tests/swift says; and what draws is checked against stand-ins that only declare what they stand for.
#if os(macOS)
    let core: [Target] = [.binaryTarget(name: "TrugFFI", path: "TrugFFI.xcframework")]
    let link: [LinkerSetting] = []
    let late: [LinkerSetting] = []
    let standins: [Target] = []
    let drawing: [Target.Dependency] = []
#else
    let library = ProcessInfo.processInfo.environment["TRUG_LIBRARY"] ?? "\(Context.packageDirectory)/library"
    // The C side: a header and its module map, both generated.
    let core: [Target] = [.target(name: "TrugFFI")]
    let link: [LinkerSetting] = [.unsafeFlags(["-L\(library)"]), .linkedLibrary("trug_ffi")]
    // Debian's Foundation leaves symbols to be found when it is loaded.
    let late: [LinkerSetting] = [.unsafeFlags(["-Xlinker", "--allow-shlib-undefined"])]
    let standins: [Target] =
        [("CoreGraphics", []), ("ImageIO", ["CoreGraphics"]), ("CoreLocation", []), ("UniformTypeIdentifiers", [])].map(standin)
        + [("UIKit", ["CoreGraphics", "UniformTypeIdentifiers"]), ("PhotosUI", ["UIKit"]), ("SwiftUI", ["CoreGraphics", "UIKit"])].map(
            standin)
        + [
            .executableTarget(
                name: "Trug", dependencies: ["TrugApp", "SwiftUI"], path: "App/Trug",
                exclude: ["Info.plist", "InfoPlist.xcstrings", "PrivacyInfo.xcprivacy", "Trug.entitlements"], linkerSettings: late)
        ]
    let drawing: [Target.Dependency] = ["SwiftUI", "UIKit", "PhotosUI", "CoreLocation", "ImageIO", "UniformTypeIdentifiers"]

    func standin(_ name: String, _ over: [String]) -> Target {
        .target(name: name, dependencies: over.map { .target(name: $0) }, path: "Standins/\(name)")
    }
#endif

let package = Package(
    name: "Trug",
    defaultLocalization: "en",
    platforms: [.iOS(.v17), .macOS(.v14)],
    products: [.library(name: "TrugApp", targets: ["TrugApp"])],
    targets: core + standins + [
        // The Swift side of the core, generated too. The generator writes Swift 5.
        .target(
            name: "TrugCore",
            dependencies: ["TrugFFI"],
            swiftSettings: [.swiftLanguageMode(.v5)],
            linkerSettings: link),
        // What every page shows and offers, without anything that draws.
        .target(
            name: "TrugModel",
            dependencies: ["TrugCore"],
            resources: [.process("Resources")]),
        // What draws that. Whether the system's own protocols are bound to the main thread differs from SDK to SDK, and is a matter of
        // warnings in Swift 5.
        .target(
            name: "TrugApp",
            dependencies: ["TrugModel"] + drawing,
            swiftSettings: [.swiftLanguageMode(.v5)]),
        .testTarget(name: "TrugModelTests", dependencies: ["TrugModel"], linkerSettings: late),
        .testTarget(name: "TrugCoreTests", dependencies: ["TrugCore"], linkerSettings: late),
    ])
