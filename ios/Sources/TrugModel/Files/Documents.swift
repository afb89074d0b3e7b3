import Foundation

/// Documents that the system's own pickers point at, copied to files of Trug's own, so that nothing is read half or written half.
enum Documents {
    /// Copies a document to a file, which is there only once it is whole. Never on the main thread: it may have to be fetched first.
    static func bringIn(_ document: URL, into file: URL) throws {
        let isLent = document.startsLending()
        defer { if isLent { document.stopsLending() } }
        try FileManager.default.createDirectory(at: file.deletingLastPathComponent(), withIntermediateDirectories: true)
        let part = file.appendingPathExtension("part")
        try? FileManager.default.removeItem(at: part)
        defer { try? FileManager.default.removeItem(at: part) }
        try FileManager.default.copyItem(at: document, to: part)
        try FileManager.default.moveItem(at: part, to: file)
        if isLeftHere(document) { try? FileManager.default.removeItem(at: document) }
    }

    /// Whether the system copied a document over for Trug: such are not left lying about.
    private static func isLeftHere(_ document: URL) -> Bool {
        let home = URL(fileURLWithPath: NSHomeDirectory()).resolvingSymlinksInPath().path
        let folder = document.deletingLastPathComponent().resolvingSymlinksInPath()
        return folder.path.hasPrefix(home + "/") && folder.lastPathComponent == "Inbox"
    }

    /// Why a document could not be copied in, and what to do.
    static func notFetched(_ error: any Error) -> String {
        switch error {
        case CocoaError.fileWriteOutOfSpace: Words.sentence("no-room") ?? Words.sentence(error)
        case CocoaError.fileReadNoSuchFile, CocoaError.fileNoSuchFile, CocoaError.fileReadNoPermission: Words.Receive.gone
        default: Words.sentence("import-read-failed") ?? Words.sentence(error)
        }
    }
}

extension URL {
    /// What another app lets Trug use has to be asked for each time; what is Trug's own has not.
    func startsLending() -> Bool {
        #if canImport(Darwin)
            startAccessingSecurityScopedResource()
        #else
            false
        #endif
    }

    func stopsLending() {
        #if canImport(Darwin)
            stopAccessingSecurityScopedResource()
        #endif
    }
}

/// A folder that was chosen once and is used from then on: what the system needs to find it again.
struct LentFolder {
    let url: URL

    /// As it is kept: a bookmark, on a phone.
    func kept() -> Data? {
        #if canImport(Darwin)
            let isLent = url.startsLending()
            defer { if isLent { url.stopsLending() } }
            return try? url.bookmarkData(options: [], includingResourceValuesForKeys: nil, relativeTo: nil)
        #else
            return Data(url.path.utf8)
        #endif
    }

    /// None where the system lets Trug use it no more.
    init?(_ kept: Data) {
        #if canImport(Darwin)
            var isStale = false
            guard let url = try? URL(resolvingBookmarkData: kept, options: [], relativeTo: nil, bookmarkDataIsStale: &isStale), !isStale
            else {
                return nil
            }
            self.url = url
        #else
            url = URL(fileURLWithPath: String(decoding: kept, as: UTF8.self))
            guard FileManager.default.fileExists(atPath: url.path) else { return nil }
        #endif
    }

    init(_ url: URL) {
        self.url = url
    }
}
