import Foundation
import TrugCore
import XCTest

@testable import TrugModel

/// Notebooks of several years: their finds are photos taken then, brought in now. Woods and patches are invented.
extension Shot {
    /// A picture of one pixel that says when it was taken: 2025-11-08, at ten in the morning by a clock on UTC.
    static func taken(_ day: String, _ shade: UInt8) -> Data {
        let (time, offset) = (ascii("\(day.replacing("-", with: ":")) 10:00:00\0"), ascii("+00:00\0"))
        // A TIFF of two directories, as EXIF 2.32 has them: the first leads to the second, and that has the time and the clock.
        var tiff = ascii("II") + short(42) + long(8)
        tiff += short(1) + entry(0x8769, 4, 1, 26) + long(0)
        tiff += short(2) + entry(0x9003, 2, time.count, 56) + entry(0x9011, 2, offset.count, 56 + time.count) + long(0)
        tiff += time + offset
        // PNG has a chunk for it: PNG, third edition, 11.3.4.5, eXIf.
        return photo(shade, exif: tiff)
    }

    private static func ascii(_ text: String) -> [UInt8] { Array(text.utf8) }
    private static func short(_ number: Int) -> [UInt8] { [UInt8(number & 255), UInt8(number >> 8 & 255)] }
    private static func long(_ number: Int) -> [UInt8] { short(number) + short(number >> 16) }
    private static func entry(_ tag: Int, _ type: Int, _ count: Int, _ value: Int) -> [UInt8] {
        short(tag) + short(type) + long(count) + long(value)
    }
}

extension Phone {
    /// A find of that day, and what is said of it; at a patch of its own, if one is named.
    @discardableResult
    func found(_ day: String, _ name: String?, _ said: [String: String] = [:], patch: String? = nil) async throws -> String {
        let photo = root.appendingPathComponent("\(UUID().uuidString).png")
        shades += 1
        try Shot.taken(day, shades).write(to: photo)
        return try await core { book in
            let find = try book.beginFind(photo: photo.path, role: "whole", fix: nil).id
            if let name { _ = try book.nameFind(id: find, name: name, how: "sight", sure: nil, who: nil) }
            _ = try book.amendFind(id: find, values: said.map { FieldValue(field: $0, value: $1) })
            if let patch { _ = try book.foundPatch(id: find, name: patch) }
            return find
        }
    }

    /// Two winters of velvet shank, in one of them with a patch where another fungus came too; and what else comes in a year.
    func winters() async throws {
        try await found("2023-11-20", "velvet-shank", ["seen": "4"])
        try await found("2024-01-14", "velvet-shank", ["seen": "12", "taken": "5", "grams": "60"])
        try await found("2024-02-29", "velvet-shank", ["seen": "2"])
        let elder = try await found("2024-11-08", "velvet-shank", ["seen": "7", "taken": "3", "grams": "42"], patch: "old elder")
        try await found("2025-01-03", "velvet-shank", ["seen": "35", "taken": "10", "grams": "150", "by": "R."])
        let ear = try await found("2024-12-20", "jelly-ear", ["seen": "120", "taken": "40"])
        try await found("2024-09-03", "cep", ["seen": "2", "taken": "1", "grams": "210"])
        let open = try await found("2024-10-05", "velvet-shank", ["seen": "1"])
        try await found("2024-10-19", nil)
        _ = try await core { book in
            let patch = try XCTUnwrap(book.findPage(id: elder).patch).id
            _ = try book.joinPatch(id: ear, patch: patch)
            _ = try book.nameFind(id: open, name: "funeral-bell", how: "told", sure: nil, who: "R.")
        }
    }
}
