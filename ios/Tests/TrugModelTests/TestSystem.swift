import Foundation

@testable import TrugModel

/// A phone's system, as tests want it.
@MainActor final class TestSystem: System {
    var country: String? = "GB"
    var hasCamera = true
    var canRing = true
    private(set) var rung: String?
    private(set) var held = 0
    private(set) var copied: String?
    private var memory: [String: String] = [:]

    /// What its owner says when asked for the position, and how often they were asked.
    var allows = false
    private(set) var asked = 0
    private(set) var isPositionAllowed = false
    private(set) var tell: (@MainActor (Reading) -> Void)?

    func ring(_ number: String, told: @escaping @MainActor (Bool) -> Void) {
        rung = number
        told(canRing)
    }

    func stayAwake() -> @MainActor @Sendable () -> Void {
        held += 1
        return { self.held -= 1 }
    }

    func remember(_ value: String, as key: String) {
        memory[key] = value
    }

    func copy(_ words: String) {
        copied = words
    }

    func remembered(_ key: String) -> String? { memory[key] }

    /// Its owner allowed it before.
    func allowPosition() {
        isPositionAllowed = true
    }

    func askPosition(told: @escaping @MainActor (Bool) -> Void) {
        asked += 1
        isPositionAllowed = allows
        told(allows)
    }

    func listenForPosition(_ tell: @escaping @MainActor (Reading) -> Void) {
        self.tell = tell
    }

    func stopListening() {
        tell = nil
    }
}

/// Photos.
enum Shot {
    /// A picture of one pixel, of a shade of grey, as a PNG: RFC 2083, with its data stored as RFC 1950 and 1951 have it.
    static func photo(_ shade: UInt8 = 128, exif: [UInt8] = []) -> Data {
        var png = Data([0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A])
        let row: [UInt8] = [0, shade]
        let (low, high) = row.reduce((1, 0)) { sums, byte in
            let low = (sums.0 + Int(byte)) % 65521
            return (low, (sums.1 + low) % 65521)
        }
        let stored: [UInt8] = [0x78, 0x01, 0x01, 2, 0, 0xFD, 0xFF] + row
        chunk("IHDR", [0, 0, 0, 1, 0, 0, 0, 1, 8, 0, 0, 0, 0], &png)
        if !exif.isEmpty { chunk("eXIf", exif, &png) }
        chunk("IDAT", stored + bytes(UInt32(high << 16 | low)), &png)
        chunk("IEND", [], &png)
        return png
    }

    private static func chunk(_ name: String, _ data: [UInt8], _ png: inout Data) {
        let named = Array(name.utf8) + data
        let sum = named.reduce(~UInt32(0)) { sum, byte in
            (0..<8).reduce(sum ^ UInt32(byte)) { sum, _ in sum & 1 == 1 ? 0xEDB8_8320 ^ sum >> 1 : sum >> 1 }
        }
        png += bytes(UInt32(data.count)) + named + bytes(~sum)
    }

    private static func bytes(_ number: UInt32) -> [UInt8] { [24, 16, 8, 0].map { UInt8(number >> UInt32($0) & 255) } }
}
