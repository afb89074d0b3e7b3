import Foundation

/// What a photo is for: a find's, or a new find's, and what it shows.
struct Purpose: Equatable {
    let find: String?
    let role: String
}

/// Photos on their way from the camera to the notebook. A file's name says what it is for, so that a photo whose page, or whose
/// process, is gone still finds its way.
struct Captures: Sendable {
    /// A photo, or the empty file that is to be filled.
    struct Capture: Sendable {
        let file: URL
        let find: String?
        let role: String

        var purpose: Purpose { Purpose(find: find, role: role) }

        var isEmpty: Bool {
            let size = try? FileManager.default.attributesOfItem(atPath: file.path)[.size] as? NSNumber
            return (size?.int64Value ?? 0) == 0
        }

        func remove() {
            try? FileManager.default.removeItem(at: file)
        }
    }

    private let folder: URL

    init(_ folder: URL) {
        self.folder = folder
    }

    /// An empty file for a photo. Throws where there is no room.
    func begin(_ purpose: Purpose) throws -> Capture {
        try FileManager.default.createDirectory(at: folder, withIntermediateDirectories: true)
        Shelter.cover(folder)
        let name = [UUID().uuidString.lowercased(), purpose.role, purpose.find ?? Self.new].joined(separator: "~") + ".jpg"
        let file = folder.appendingPathComponent(name)
        try Data().write(to: file)
        return Capture(file: file, find: purpose.find, role: purpose.role)
    }

    /// A capture by the name of its file.
    func named(_ name: String) -> Capture? {
        guard let found = name.wholeMatch(of: /[0-9a-f-]{36}~([a-z-]{1,20})~(new|[0-9a-f-]{36})\.jpg/) else { return nil }
        let find = String(found.2)
        return Capture(file: folder.appendingPathComponent(name), find: find == Self.new ? nil : find, role: String(found.1))
    }

    /// Fills a capture from another file, wholly or not at all: half a photo is none. That file stays where it is.
    func fill(_ capture: Capture, from: URL) throws {
        let part = folder.appendingPathComponent("part")
        // There is one at a time, so that one which was left is written over.
        try? FileManager.default.removeItem(at: part)
        defer { try? FileManager.default.removeItem(at: part) }
        try FileManager.default.copyItem(at: from, to: part)
        try FileManager.default.removeItem(at: capture.file)
        try FileManager.default.moveItem(at: part, to: capture.file)
    }

    /// Everything that lies here, the oldest first.
    func all() -> [Capture] {
        let files =
            (try? FileManager.default.contentsOfDirectory(at: folder, includingPropertiesForKeys: [.contentModificationDateKey])) ?? []
        let dated = files.map { file in
            (file, (try? file.resourceValues(forKeys: [.contentModificationDateKey]))?.contentModificationDate ?? .distantPast)
        }
        return dated.sorted { $0.1 < $1.1 }.compactMap { named($0.0.lastPathComponent) }
    }

    private static let new = "new"
}
