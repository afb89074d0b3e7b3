// swift-tools-version:6.0
import Foundation
import PackageDescription

// Where the built library of bindings/ffi lies; tests/swift says so.
let library = ProcessInfo.processInfo.environment["TRUG_LIBRARY"] ?? "\(Context.packageDirectory)/library"

// Debian's Foundation leaves symbols to be found when it is loaded.
let late: [LinkerSetting] = [.unsafeFlags(["-Xlinker", "--allow-shlib-undefined"])]

let package = Package(
    name: "Trug",
    defaultLocalization: "en",
    platforms: [.iOS(.v17), .macOS(.v14)],
    products: [.library(name: "TrugCore", targets: ["TrugCore"]), .library(name: "TrugModel", targets: ["TrugModel"])],
    targets: [
        // The C side: a header and its module map, both generated.
        .target(name: "TrugFFI"),
        // The Swift side, generated too. The generator writes Swift 5.
        .target(
            name: "TrugCore",
            dependencies: ["TrugFFI"],
            swiftSettings: [.swiftLanguageMode(.v5)],
            linkerSettings: [.unsafeFlags(["-L\(library)"]), .linkedLibrary("trug_ffi")]),
        // What every page shows and offers, without anything that draws.
        .target(
            name: "TrugModel",
            dependencies: ["TrugCore"],
            resources: [.process("Resources")]),
        .testTarget(name: "TrugModelTests", dependencies: ["TrugModel"], linkerSettings: late),
        .testTarget(name: "TrugCoreTests", dependencies: ["TrugCore"], linkerSettings: late),
    ])
