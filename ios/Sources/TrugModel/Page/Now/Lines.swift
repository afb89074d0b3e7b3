import TrugCore

/// The lines of the first page.
@MainActor struct Lines {
    let now: NowPage
    let writing: Writing

    func outing() -> [Print] {
        guard let outing = now.outing else { return [.head(Words.Now.noOuting)] }
        let since = outing.began.map { Words.Now.since(time: writing.hour($0)) }
        return [
            .head(outing.place ?? Words.Now.outing),
            .saying(Saying(words: Words.joined([since, Words.called("may-pick", outing.mayPick)]), tone: .quiet)),
        ]
    }

    func basket() -> [Print] {
        let basket = now.basket
        let carried = basket.carried.map {
            Print.amount(Amount(name: Self.name($0.name), amount: amount($0), limits: $0.limits.map(\.words)))
        }
        let empty: [Print] = carried.isEmpty ? [.saying(Saying(words: Words.Now.basketEmpty, tone: .plain))] : []
        return empty + carried + basket.limits.map { .saying(Saying(words: $0.words, tone: .quiet)) }
    }

    private func amount(_ carried: Carried) -> String {
        let least = String(carried.count)
        let number = carried.orMore ? Words.Now.carriedMore(number: least) : least
        let weighed =
            carried.grams > 0 ? Words.Now.carriedGrams(number: number, grams: Int(carried.grams.rounded(.toNearestOrEven))) : number
        let study = Int(carried.specimens)
        return study == 0 ? weighed : Words.joined([weighed, Words.Now.carriedSpecimens(count: study)])
    }

    /// The light; without any what is said of where the phone is.
    func light() -> Saying? {
        guard let light = now.light else { return nil }
        let left = light.minutesLeft
        let isSoon = left.map { (0...60).contains($0) } ?? false
        return Saying(words: told(light), tone: isSoon ? .strong : .plain)
    }

    private func told(_ light: Light) -> String {
        guard let sunset = light.sunset else { return light.staysUp ? Words.Now.lightStays : Words.Now.lightNone }
        if let rise = light.sunrise, now.now.millis < rise.millis {
            return Words.Now.lightLater(rise: writing.hour(rise), set: writing.hour(sunset))
        }
        guard let left = light.minutesLeft, left >= 0 else { return Words.Now.lightGone(time: writing.hour(sunset)) }
        return Words.Now.lightLeft(time: writing.hour(sunset), left: writing.span(left))
    }

    func patch(_ patch: PatchNear) -> Way {
        let look = patch.lastLook.map {
            Words.Now.lastLook(day: writing.day($0, now: now.now), outcome: Words.called("outcome", patch.lastOutcome ?? ""))
        }
        let rests = patch.restsUntil.map { Words.Now.rests(day: writing.day($0, now: now.now)) }
        return Way(
            name: patch.name ?? patch.kind?.english ?? Words.Now.patchUnnamed,
            words: writing.way(patch.metres, patch.bearing),
            about: Words.joined([look ?? Words.Now.neverLooked, rests]),
            bearing: patch.bearing)
    }

    func waiting(_ waiting: WaitingFind, open: @escaping @MainActor (String) -> Void) -> Row {
        let nights = Int(waiting.nights)
        let what: String? =
            switch waiting.waitsFor {
            case .sporePrint: nights == 0 ? Words.Now.printTonight : Words.Now.printNights(count: nights)
            case .settling: Words.Now.waitsSettling
            // Its row is headed by that already.
            case .name: nil
            }
        return row(waiting.find, Words.joined([what, waiting.find.at.map { writing.day($0.day, now: now.now) }]), open)
    }

    func find(_ find: FindLine, open: @escaping @MainActor (String) -> Void) -> Row {
        let seen = find.seenLeast.map { Words.Now.findSeen(count: Int($0)) }
        let taken = find.taken.map { Words.Now.findTaken(count: Int($0)) }
        return row(find, Words.joined([find.at.map(writing.hour), seen, taken]), open)
    }

    private func row(_ find: FindLine, _ about: String, _ open: @escaping @MainActor (String) -> Void) -> Row {
        Row(Self.name(find.name), about, picture: find.thumbnail) { open(find.id) }
    }

    static func name(_ name: NameShown?) -> String { name?.english ?? Words.Now.noName }
}
