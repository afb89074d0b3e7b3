import TrugCore

/// Something on the map that can be touched: what it is called, what is said of it, and its page, if it has one.
struct MapThing: Identifiable {
    enum Kind {
        case patch(MapPatch)
        case area(MapArea)
        case find(MapFind)
    }

    let kind: Kind
    let id: String
    let at: MapPoint
    let name: String
    let about: String
    let page: Stop?

    var isArea: Bool {
        if case .area = kind { true } else { false }
    }

    var isFind: Bool {
        if case .find = kind { true } else { false }
    }

    init(_ patch: MapPatch, _ writing: Writing) {
        let look = patch.lastLook.map {
            Words.Now.lastLook(day: writing.day($0), outcome: Words.called("outcome", patch.lastOutcome ?? ""))
        }
        kind = .patch(patch)
        id = patch.id
        at = patch.at
        name = patch.name ?? patch.kind?.english ?? Words.Now.patchUnnamed
        about = Words.joined([
            patch.name == nil ? nil : patch.kind?.english, patch.metres.map { writing.way($0, patch.bearing) },
            look ?? Words.Now.neverLooked, patch.restsUntil.map { Words.Now.rests(day: writing.day($0)) },
        ])
        page = nil
    }

    init(_ area: MapArea, _ writing: Writing) {
        let says = area.closed ? Words.Map.closed : area.code ?? Words.Map.ruled
        kind = .area(area)
        id = area.id
        at = area.at
        name = Words.Map.area(name: area.name, says: says)
        about = area.aroundHere ? Words.Map.around : area.metres.map { writing.way($0, area.bearing) } ?? ""
        page = nil
    }

    init(_ find: MapFind, _ writing: Writing) {
        kind = .find(find)
        id = find.id
        at = find.at
        name = find.name?.english ?? Words.Now.noName
        about = Words.joined([Words.Map.find, find.day.map { writing.day($0) }, find.metres.map { writing.way($0, find.bearing) }])
        page = Stop(.find, find: find.id)
    }

    /// Whether a point of the map is in it: within an odd number of its outlines.
    func holds(_ at: MapPoint) -> Bool {
        guard case .area(let area) = kind else { return false }
        return area.rings.reduce(false) { isIn, ring in
            zip(ring, ring.dropFirst() + ring.prefix(1)).reduce(isIn) { isIn, side in
                let (from, to) = side
                guard (from.north > at.north) != (to.north > at.north) else { return isIn }
                let east = from.east + (at.north - from.north) / (to.north - from.north) * (to.east - from.east)
                return at.east < east ? !isIn : isIn
            }
        }
    }
}
