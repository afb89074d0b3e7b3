import TrugCore

extension Writing {
    /// A length of the map: in metres below a kilometre, in kilometres from there.
    func length(_ metres: Double) -> String {
        metres < 1000
            ? Words.Map.metres(metres: Self.rounded(metres)) : Words.Map.kilometres(kilometres: number((metres / 100).rounded() / 10))
    }

    /// Where whoever holds the phone is, as far as it knows.
    func here(_ sheet: MapSheet) -> String? {
        guard let here = sheet.here else { return nil }
        guard let within = here.accuracyM else { return Words.Map.hereAt(place: here.name) }
        return Words.Map.hereWithin(place: here.name, metres: Int(within.rounded()))
    }

    /// Where the middle of the map is, and the way there.
    func middle(_ sheet: MapSheet) -> String {
        guard let here = sheet.here, here.metres >= 1 else { return Words.Map.middle(place: sheet.middleName) }
        return Words.Map.middleWay(place: sheet.middleName, way: way(here.metres, here.bearing))
    }

    /// How far the north of the grid is from true north; none where that is not known.
    func gridNorth(_ sheet: MapSheet) -> String? {
        guard let degrees = sheet.gridNorth else { return nil }
        let tenths = (abs(degrees) * 10).rounded() / 10
        if tenths == 0 { return Words.Map.gridNorthSame }
        return Words.Map.gridNorth(degrees: number(tenths), compass: Words.called("compass", degrees > 0 ? "e" : "w"))
    }
}
