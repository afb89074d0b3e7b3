import Foundation

/// Files on their way out, until they are saved or sent: each in a folder of its own, so that it can bear its own name. What nobody
/// needs any more is taken away; what was sent stays for a day, because its receiver may read it late.
struct Outbox: Sendable {
    private let folder: URL

    init(_ folder: URL) {
        self.folder = folder
    }

    /// A place for a new file of this name.
    func begin(_ name: String) throws -> (id: String, file: URL) {
        let id = UUID().uuidString
        let own = folder.appendingPathComponent(id)
        try FileManager.default.createDirectory(at: own, withIntermediateDirectories: true)
        Shelter.cover(folder)
        return (id, own.appendingPathComponent(name))
    }

    /// The file of this mark and name, if it is there.
    func named(_ id: String, _ name: String) -> URL? {
        let file = folder.appendingPathComponent(id).appendingPathComponent(name)
        return FileManager.default.fileExists(atPath: file.path) ? file : nil
    }

    /// It has been handed to somebody, who may read it late.
    func sent(_ id: String) {
        try? Data().write(to: folder.appendingPathComponent(id).appendingPathComponent(Self.sent))
    }

    /// Takes everything away but `kept` and what was sent of late.
    func sweep(_ kept: String?) {
        for own in (try? FileManager.default.contentsOfDirectory(at: folder, includingPropertiesForKeys: nil)) ?? [] {
            let sent = own.appendingPathComponent(Self.sent)
            let at = (try? FileManager.default.attributesOfItem(atPath: sent.path)[.modificationDate]) as? Date
            let isLate = at.map { $0.timeIntervalSinceNow > -24 * 60 * 60 } ?? false
            if own.lastPathComponent != kept, !isLate { try? FileManager.default.removeItem(at: own) }
        }
    }

    private static let sent = ".sent"
}

/// A file that was made, and what has become of it.
struct Made: Codable, Equatable {
    let id: String
    let name: String
    /// The name it was saved under; none while it is not.
    var savedAs: String?
    var wasSent = false

    var isOut: Bool { savedAs != nil || wasSent }
}
