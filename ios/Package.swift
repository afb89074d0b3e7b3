// swift-tools-version:6.0
import Foundation
import PackageDescription

// Where the built library of bindings/ffi lies; tests/swift says so.
let library = ProcessInfo.processInfo.environment["TRUG_LIBRARY"] ?? "\(Context.packageDirectory)/library"

let package = Package(
    name: "Trug",
    platforms: [.iOS(.v16), .macOS(.v13)],
    products: [.library(name: "TrugCore", targets: ["TrugCore"])],
    targets: [
        // The C side: a header and its module map, both generated.
        .target(name: "TrugFFI"),
        // The Swift side, generated too. The generator writes Swift 5.
        .target(
            name: "TrugCore",
            dependencies: ["TrugFFI"],
            swiftSettings: [.swiftLanguageMode(.v5)],
            linkerSettings: [.unsafeFlags(["-L\(library)"]), .linkedLibrary("trug_ffi")]),
        .testTarget(name: "TrugCoreTests", dependencies: ["TrugCore"]),
    ])
