import Foundation
import XCTest

/// What Xcode is given, as far as it can be read without it: the project holds together, and the app says of itself what is so.
final class AppTests: XCTestCase {
    private let app = URL(fileURLWithPath: #filePath).deletingLastPathComponent().deletingLastPathComponent().deletingLastPathComponent()
        .appendingPathComponent("App")

    private func plist(_ path: String) throws -> [String: Any] {
        let data = try Data(contentsOf: app.appendingPathComponent(path))
        return try XCTUnwrap(PropertyListSerialization.propertyList(from: data, format: nil) as? [String: Any])
    }

    func testEveryObjectOfTheProjectIsThereAndReached() throws {
        let text = try String(contentsOf: app.appendingPathComponent("Trug.xcodeproj/project.pbxproj"), encoding: .utf8)
        let ids = text.matches(of: #/\b72[0-9A-F]{22}\b/#).map { String($0.0) }
        let declared = text.matches(of: #/(?m)^\t\t(72[0-9A-F]{22}) = \{/#).map { String($0.1) }
        XCTAssertEqual(Set(declared).count, declared.count, "an id is there twice")
        XCTAssertEqual(Set(ids), Set(declared), "an id is spoken of and not there")
        for id in declared { XCTAssertGreaterThan(ids.filter { $0 == id }.count, 1, "nothing leads to \(id)") }
        XCTAssertEqual(text.filter { $0 == "{" }.count, text.filter { $0 == "}" }.count)
        XCTAssertEqual(text.filter { $0 == "(" }.count, text.filter { $0 == ")" }.count)
        for setting in text.matches(of: #/\t(?:INFOPLIST_FILE|CODE_SIGN_ENTITLEMENTS) = (.+);/#) {
            XCTAssertTrue(FileManager.default.fileExists(atPath: app.appendingPathComponent(String(setting.1)).path), "\(setting.1)")
        }
        XCTAssertTrue(text.contains("relativePath = ..;"), "the package is the folder above")
        XCTAssertTrue(text.contains("productName = TrugApp;"))
    }

    func testNothingIsCollected() throws {
        let privacy = try plist("Trug/PrivacyInfo.xcprivacy")
        XCTAssertEqual(privacy["NSPrivacyTracking"] as? Bool, false)
        XCTAssertEqual((privacy["NSPrivacyTrackingDomains"] as? [Any])?.count, 0)
        XCTAssertEqual((privacy["NSPrivacyCollectedDataTypes"] as? [Any])?.count, 0)
        let accessed = try XCTUnwrap(privacy["NSPrivacyAccessedAPITypes"] as? [[String: Any]])
        XCTAssertEqual(
            Set(accessed.compactMap { $0["NSPrivacyAccessedAPIType"] as? String }),
            ["NSPrivacyAccessedAPICategoryUserDefaults", "NSPrivacyAccessedAPICategoryFileTimestamp"])
        for one in accessed { XCTAssertEqual((one["NSPrivacyAccessedAPITypeReasons"] as? [String])?.count, 1) }
    }

    func testTheAppAsksForTheCameraAndThePositionInUseAndForNothingElse() throws {
        let info = try plist("Trug/Info.plist")
        let asked = info.keys.filter { $0.hasSuffix("UsageDescription") }
        XCTAssertEqual(Set(asked), ["NSCameraUsageDescription", "NSLocationWhenInUseUsageDescription"])
        XCTAssertNil(info["UIBackgroundModes"], "nothing goes on in the background")
        XCTAssertNil(info["NSAppTransportSecurity"], "there is no network")
        XCTAssertEqual((info["UIApplicationSceneManifest"] as? [String: Any])?["UIApplicationSupportsMultipleScenes"] as? Bool, false)
    }

    func testFilesOfTheKindsThatTrugMakesAreOpenedWithIt() throws {
        let info = try plist("Trug/Info.plist")
        let types = try XCTUnwrap(info["CFBundleDocumentTypes"] as? [[String: Any]])
        let opened = types.flatMap { $0["LSItemContentTypes"] as? [String] ?? [] }
        let imported = try XCTUnwrap(info["UTImportedTypeDeclarations"] as? [[String: Any]])
        XCTAssertEqual(opened, ["public.zip-archive"] + imported.compactMap { $0["UTTypeIdentifier"] as? String })
        XCTAssertEqual(types.compactMap { $0["LSHandlerRank"] as? String }, ["Alternate"], "other apps open such files too")
    }

    func testFilesAreSealedWhileThePhoneIsLockedUnlessTheyAreOpen() throws {
        let wanted = try plist("Trug/Trug.entitlements")
        XCTAssertEqual(wanted as? [String: String], ["com.apple.developer.default-data-protection": "NSFileProtectionCompleteUnlessOpen"])
    }
}
