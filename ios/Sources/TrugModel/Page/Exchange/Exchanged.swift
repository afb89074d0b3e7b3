import TrugCore

/// What came of an exchange: what came in, what went out, and what could not be read yet, and why. It is told again after the process
/// has died.
struct Exchanged: Codable, Equatable {
    let new: UInt64
    let newFinds: UInt64
    let newPhotos: UInt64
    let written: UInt64
    let leftOut: UInt64
    /// Why files were not read, one for each; more than that are not remembered.
    let unread: [String]

    init(_ report: ExchangeReport) {
        new = report.new
        newFinds = report.newFinds
        newPhotos = report.newPhotos
        written = report.written
        leftOut = report.leftOut
        unread = report.unread.prefix(200).map(\.why.code)
    }

    @MainActor var lines: [Line] {
        var body = Column(.head(Words.Exchange.done))
        for line in counts { body.words(line) }
        if leftOut > 0 { body.words(Words.Exchange.leftOut(count: Int(leftOut))) }
        if unread.isEmpty { return body.lines }
        body.part(Words.Exchange.unread)
        let all = unread.map(Self.why)
        for (at, why) in all.enumerated() where all.firstIndex(of: why) == at {
            body.words(Words.Exchange.unreadFiles(count: all.filter { $0 == why }.count), .strong)
            body.words(why)
        }
        body.words(Words.Exchange.unreadAgain, .quiet)
        return body.lines
    }

    private var counts: [String] {
        let came = [
            newFinds > 0 ? Words.Exchange.finds(count: Int(newFinds)) : nil,
            newPhotos > 0 ? Words.Exchange.photos(count: Int(newPhotos)) : nil,
        ].compactMap { $0 }
        let inside = came.isEmpty ? [new > 0 ? Words.Exchange.changes : Words.Exchange.nothingCame] : came
        return inside + [written > 0 ? Words.Exchange.written(count: Int(written)) : Words.Exchange.nothingLeft]
    }

    /// It is not whole yet, unless it is one of the reasons that somebody can do something about.
    private static func why(_ code: String) -> String {
        let called = Words.called("unread", code)
        return called == code ? Words.Exchange.unreadTorn : called
    }
}
