import TrugCore

/// What a bundle would bring, or has brought: from whom, what, and what of it stays out. It is told again after the process has died:
/// nothing tells it a second time.
struct Brought: Codable, Equatable {
    let forOwn: Bool
    let paired: Bool
    let from: String?
    let owner: String?
    let place: String?
    let later: Bool
    let new: UInt64
    let leftOut: UInt64
    let newFinds: UInt64
    let newCopies: UInt64
    let newPhotos: UInt64
    let missing: UInt64

    init(_ bundle: BundleRead) {
        forOwn = bundle.forOwn
        paired = bundle.paired
        from = bundle.from
        owner = bundle.owner
        place = bundle.place
        later = bundle.later
        new = bundle.new
        leftOut = bundle.leftOut
        newFinds = bundle.newFinds
        newCopies = bundle.newCopies
        newPhotos = bundle.newPhotos
        missing = bundle.missing
    }

    /// Whether nothing in it is new here.
    var isAllHere: Bool { new == 0 && newPhotos == 0 }

    @MainActor func lines(taken: Bool) -> [Line] {
        var body = Column(.head(sender))
        body.words(places, .quiet)
        body.put(.rule)
        let counts = counts(taken: taken)
        if counts.isEmpty { body.words(taken ? Words.Receive.takenNothing : Words.Receive.allHere) }
        for line in counts { body.words(line) }
        for line in bearInMind(taken: taken) { body.words(line, .quiet) }
        return body.lines
    }

    private var sender: String {
        if !forOwn { return owner.map { Words.Receive.copiesOf(owner: $0) } ?? Words.Receive.copiesNameless }
        if !paired { return Words.Receive.ownUnpaired }
        return from.map { Words.Receive.ownOf(name: $0) } ?? Words.Receive.ownSelf
    }

    private var places: String? {
        switch place {
        case "10km": Words.Receive.place10km
        case "1km": Words.Receive.place1km
        case "exact": Words.Receive.placeExact
        default: nil
        }
    }

    /// How many there are of what is new; nothing for what is not.
    private func counts(taken: Bool) -> [String] {
        let finds = { taken ? Words.Receive.findsTaken(count: $0) : Words.Receive.findsNew(count: $0) }
        let copies = { taken ? Words.Receive.copiesTaken(count: $0) : Words.Receive.copiesNew(count: $0) }
        let photos = { taken ? Words.Receive.photosTaken(count: $0) : Words.Receive.photosNew(count: $0) }
        let told = [(newFinds, finds), (newCopies, copies), (newPhotos, photos)].compactMap { count, words in
            count > 0 ? words(Int(count)) : nil
        }
        // What changes finds that are here, and everything that is no find.
        let isMore = new > 0 && (told.isEmpty || paired)
        return isMore ? told + [taken ? Words.Receive.changesTaken : Words.Receive.changesNew] : told
    }

    private func bearInMind(taken: Bool) -> [String] {
        [
            forOwn ? nil : Words.Receive.apart,
            forOwn && !paired && !taken ? Words.Receive.onlyAdds : nil,
            leftOut > 0 ? Words.Receive.leftOut(count: Int(leftOut)) : nil,
            later ? Words.Receive.later : nil,
            missing > 0 ? Words.Receive.missing : nil,
        ].compactMap { $0 }
    }
}
