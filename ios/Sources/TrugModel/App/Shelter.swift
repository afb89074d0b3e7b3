import Foundation

/// Keeps a folder to this phone.
enum Shelter {
    /// Leaves a folder out of the phone's backups, and has the system seal its files while the phone is locked. Files that are open
    /// stay so, so that what began before can be finished: `FileProtectionType.completeUnlessOpen`, "Encrypting Your App's Files".
    /// New files take the class of their folder. A phone that cannot do that keeps its own ways.
    static func cover(_ folder: URL) {
        #if os(iOS)
            var folder = folder
            var values = URLResourceValues()
            values.isExcludedFromBackup = true
            try? folder.setResourceValues(values)
            try? FileManager.default.setAttributes([.protectionKey: FileProtectionType.completeUnlessOpen], ofItemAtPath: folder.path)
        #endif
    }
}
