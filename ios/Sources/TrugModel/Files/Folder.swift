import Foundation
import TrugCore

/// A folder that somebody chose with the system's picker, as the core exchanges over it. Whoever keeps it, a card or another app, may
/// have to fetch a file first, and may write at the same time: every reading and writing is agreed with them. Called by the core's own
/// thread.
final class Folder: SharedFolder {
    private let root: URL

    init(_ root: URL) {
        self.root = root
    }

    func files() throws -> [FolderFile] {
        try asked { try walk(root, "", 3) }
    }

    func fetch(name: String, to: String) throws {
        try asked {
            try agreed(reading: root.appendingPathComponent(name)) { file in
                let target = URL(fileURLWithPath: to)
                try? FileManager.default.removeItem(at: target)
                try FileManager.default.copyItem(at: file, to: target)
            }
        }
    }

    /// Under a hidden name first, which others pass over, and then whole under its own.
    func put(name: String, from: String) throws {
        try asked {
            let target = root.appendingPathComponent(name)
            let parent = target.deletingLastPathComponent()
            try FileManager.default.createDirectory(at: parent, withIntermediateDirectories: true)
            let half = parent.appendingPathComponent(Self.half + target.lastPathComponent)
            try? FileManager.default.removeItem(at: half)
            defer { try? FileManager.default.removeItem(at: half) }
            try FileManager.default.copyItem(at: URL(fileURLWithPath: from), to: half)
            try agreed(writing: target) { file in
                try? FileManager.default.removeItem(at: file)
                try FileManager.default.moveItem(at: half, to: file)
            }
        }
    }

    func remove(name: String) throws {
        try asked {
            try agreed(writing: root.appendingPathComponent(name)) { try FileManager.default.removeItem(at: $0) }
        }
    }

    private func walk(_ folder: URL, _ path: String, _ depth: Int) throws -> [FolderFile] {
        let keys: [URLResourceKey] = [.isDirectoryKey, .fileSizeKey, .contentModificationDateKey]
        let found = try FileManager.default.contentsOfDirectory(at: folder, includingPropertiesForKeys: keys)
        return try found.sorted { $0.path < $1.path }.flatMap { file -> [FolderFile] in
            let name = path.isEmpty ? file.lastPathComponent : "\(path)/\(file.lastPathComponent)"
            // What was left half written by an earlier exchange of ours is no file of anybody's.
            if file.lastPathComponent.hasPrefix(Self.half) { try? FileManager.default.removeItem(at: file) }
            if file.lastPathComponent.hasPrefix(".") { return [] }
            let values = try file.resourceValues(forKeys: Set(keys))
            if values.isDirectory == true { return depth > 1 ? try walk(file, name, depth - 1) : [] }
            let written = values.contentModificationDate.map { UInt64(max(0, $0.timeIntervalSince1970 * 1000)) } ?? 0
            return [FolderFile(name: name, bytes: UInt64(values.fileSize ?? 0), writtenMillis: written)]
        }
    }

    // ---- Agreed with whoever else uses the folder: NSFileCoordinator, which also has a file fetched that is not on the phone yet

    private func agreed(reading file: URL, _ act: (URL) throws -> Void) throws {
        #if canImport(Darwin)
            try coordinated(act) { NSFileCoordinator().coordinate(readingItemAt: file, options: [], error: $0, byAccessor: $1) }
        #else
            try act(file)
        #endif
    }

    private func agreed(writing file: URL, _ act: (URL) throws -> Void) throws {
        #if canImport(Darwin)
            try coordinated(act) { NSFileCoordinator().coordinate(writingItemAt: file, options: .forReplacing, error: $0, byAccessor: $1) }
        #else
            try act(file)
        #endif
    }

    #if canImport(Darwin)
        private func coordinated(_ act: (URL) throws -> Void, by: (NSErrorPointer, (URL) -> Void) -> Void) throws {
            var refused: NSError?
            var failed: (any Error)?
            by(&refused) { file in
                do { try act(file) } catch { failed = error }
            }
            if let error = failed ?? refused { throw error }
        }
    #endif

    /// What the system says in its way, said in the core's.
    private func asked<T>(_ ask: () throws -> T) throws -> T {
        do {
            return try ask()
        } catch CocoaError.fileWriteOutOfSpace {
            throw FolderError.NoRoom
        } catch CocoaError.fileReadNoSuchFile, CocoaError.fileNoSuchFile, CocoaError.fileReadNoPermission, CocoaError.fileWriteNoPermission
        {
            throw FolderError.Gone
        } catch {
            throw FolderError.Failed
        }
    }

    private static let half = ".part-"
}
