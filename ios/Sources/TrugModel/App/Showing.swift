import Foundation

/// What the window shows around the page in front, and what it is asked to open.
extension House {
    /// The leaf in front.
    var frontLeaf: Leaf { front.leaf(front.leaves.count - 1) }

    /// Whether the screen stays on by itself.
    public var staysOn: Bool { frontLeaf.staysOn }

    /// Whether the way to the page for the bad day is shown: from every page but that one.
    public func leadsToIll(_ standing: Standing) -> Bool { standing.stop.place != .ill }

    /// The leaf that every way back ends at.
    public var root: Spot { spots[0] }

    /// The leaves after it, the one in front last. Set to fewer, it goes back.
    public var path: [Spot] {
        get { Array(spots.dropFirst()) }
        set { wentBack(to: newValue.count + 1) }
    }

    // ---- The system's own sheets: set to false, one was put away without an answer

    public var wantsCamera: Bool {
        get { if case .camera? = wish { true } else { false } }
        set { if !newValue, wantsCamera { camera.came(.nothing) } }
    }

    public var wantsPhoto: Bool {
        get { if case .photo? = wish { true } else { false } }
        set { if !newValue, wantsPhoto { camera.came(.nothing) } }
    }

    public var wantsTime: Bool {
        get { timeWish != nil }
        set { if !newValue, wantsTime { wish = nil } }
    }

    public var timeWish: TimeWish? {
        if case .time(let time)? = wish { time } else { nil }
    }

    public var wantsDocument: Bool {
        get { documentWish != nil }
        set { if !newValue, wantsDocument { wish = nil } }
    }

    public var documentWish: DocumentWish? {
        if case .document(let document)? = wish { document } else { nil }
    }

    /// A document or a folder was picked.
    public func picked(_ document: URL) {
        guard let name = documentWish?.name else { return }
        wish = nil
        front.answered(name, document)
    }

    public var sends: Bool {
        get { sentWords != nil || sentFile != nil }
        set { if !newValue, sends { wish = nil } }
    }

    public var sentWords: String? {
        if case .send(let words)? = wish { words } else { nil }
    }

    /// What is handed on.
    public var sent: [Any] { [sentWords as Any?, sentFile as Any?].compactMap { $0 } }

    public var sentFile: URL? {
        if case .sendFile(let file)? = wish { file } else { nil }
    }

    /// A day and an hour were chosen.
    public func choose(_ time: Date) {
        let told = timeWish?.told
        wish = nil
        told?(time)
    }
}
