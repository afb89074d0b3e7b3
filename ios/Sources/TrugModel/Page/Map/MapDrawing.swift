import TrugCore

/// Everything that is to be drawn of the map, in points of the screen, the undermost first.
public struct MapDrawing {
    /// What it is drawn with.
    public enum Pen: Sendable {
        case fine, firm, bold, dashed
        /// In the colour of what can be touched; the second for what rests.
        case mark, resting
    }

    /// One thing.
    public enum Shape {
        case line([Spot], Pen)
        /// Closed outlines.
        case outline([[Spot]], Pen)
        /// Slanting lines within closed outlines.
        case hatch([[Spot]], [[Spot]])
        case circle(Spot, radius: Double, Pen)
        /// A filled spot: of something that can be touched, or of whoever holds the phone.
        case spot(Spot, radius: Double, isHere: Bool)
        /// The needle that points north, turned by so many degrees.
        case needle(MapBox, degrees: Double)
    }

    /// Words on paper of their own, so that no line runs through them.
    public struct Printed {
        public let words: String
        public let box: MapBox
        public let isStrong: Bool
        public let isTouch: Bool
    }

    public internal(set) var shapes: [Shape] = []
    public internal(set) var printed: [Printed] = []
}

/// Prints the land and what stands on it.
struct MapPrinter {
    let sight: Sight
    let page: MapPage
    let sheet: MapSheet?
    let chosen: String?
    let isFromRight: Bool
    let writing: Writing
    /// How wide and how high words are when they are printed.
    let measure: (String, Bool) -> (Double, Double)

    private var drawing = MapDrawing()
    private var room: MapRoom

    init(
        _ sight: Sight, _ page: MapPage, _ sheet: MapSheet?, chosen: String?, isFromRight: Bool, _ writing: Writing,
        measure: @escaping (String, Bool) -> (Double, Double)
    ) {
        self.sight = sight
        self.page = page
        self.sheet = sheet
        self.chosen = chosen
        self.isFromRight = isFromRight
        self.writing = writing
        self.measure = measure
        room = MapRoom(sight.width, sight.height)
    }

    /// All of it; `inView` are the things that can be touched.
    mutating func draw(_ things: [MapThing], inView: [MapThing]) -> MapDrawing {
        for thing in things { area(thing) }
        for line in sheet?.lines ?? [] {
            drawing.shapes.append(.line(line.points.map(sight.spot), line.isTenth ? .firm : .fine))
        }
        scale()
        north()
        figures()
        rings()
        for thing in inView where thing.isFind { cross(thing) }
        for thing in things { patch(thing) }
        middle()
        here()
        for thing in inView where thing.id == chosen { name(thing) }
        for thing in inView where thing.id != chosen && !thing.isFind { name(thing) }
        return drawing
    }

    // ---- The land

    /// An area: hatched and firmly edged where it is closed, with a broken edge where a code holds.
    private mutating func area(_ thing: MapThing) {
        guard case .area(let area) = thing.kind else { return }
        let rings = area.rings.map { $0.map(sight.spot) }
        if area.closed { drawing.shapes.append(.hatch(rings, slants(rings))) }
        drawing.shapes.append(.outline(rings, area.closed || thing.id == chosen ? .bold : .dashed))
    }

    /// Slanting lines that lie on the land, not on the screen: they go along with it. Each slant is where x + y is the same.
    private func slants(_ rings: [[Spot]]) -> [[Spot]] {
        let spots = rings.joined()
        let (left, right) = (max(0, spots.map(\.x).min() ?? 0), min(sight.width, spots.map(\.x).max() ?? 0))
        let (top, bottom) = (max(0, spots.map(\.y).min() ?? 0), min(sight.height, spots.map(\.y).max() ?? 0))
        guard left < right, top < bottom else { return [] }
        let origin = sight.spot(MapPoint(east: 0, north: 0))
        let apart = 12.0
        let first = origin.x + origin.y + ((left + top - origin.x - origin.y) / apart).rounded(.up) * apart
        return stride(from: first, to: right + bottom, by: apart).map { [Spot(x: $0 - top, y: top), Spot(x: $0 - bottom, y: bottom)] }
    }

    /// Figures stand where their lines enter: those of eastings along the top, of northings down the side where reading begins.
    private mutating func figures() {
        for line in sheet?.lines ?? [] where !line.name.isEmpty {
            let (wide, high) = size(line.name, false)
            let side = isFromRight ? sight.width - wide / 2 : wide / 2
            let at =
                line.isEasting
                ? crossing(line) { $0.y - high / 2 }.map { Spot(x: $0.x, y: high / 2) }
                : crossing(line) { $0.x - side }.map { Spot(x: side, y: $0.y) }
            if let at { print(line.name, room.on(at, wide, high)) }
        }
        for square in sheet?.squares ?? [] {
            let (wide, high) = size(square.name, false)
            print(square.name, room.on(sight.spot(square.at), wide, high))
        }
    }

    /// Where a line comes to nought, in points of the screen.
    private func crossing(_ line: MapLine, _ of: (Spot) -> Double) -> Spot? {
        let spots = line.points.map(sight.spot)
        return zip(spots, spots.dropFirst()).lazy.compactMap { from, to -> Spot? in
            let (before, after) = (of(from), of(to))
            guard before * after <= 0, before != after else { return nil }
            let share = before / (before - after)
            return Spot(x: from.x + (to.x - from.x) * share, y: from.y + (to.y - from.y) * share)
        }.first
    }

    /// The scale: the longest length that reads well and has room, in the corner where reading begins.
    private mutating func scale() {
        guard let metres = page.roundM.last(where: { $0 / sight.scale <= 140 }) else { return }
        let long = metres / sight.scale
        let words = writing.length(metres)
        let (wide, high) = size(words, false)
        let box = MapBox(
            left: isFromRight ? sight.width - 8 - max(long, wide) : 8, top: sight.height - 14 - high, width: max(long, wide),
            height: high + 6)
        room.take(box)
        print(words, MapBox(left: box.left, top: box.top, width: wide, height: high))
        let (from, foot) = (box.left, box.bottom)
        drawing.shapes.append(
            .line(
                [Spot(x: from, y: foot - 6), Spot(x: from, y: foot), Spot(x: from + long, y: foot), Spot(x: from + long, y: foot - 6)],
                .bold))
    }

    /// North, in the corner where reading ends.
    private mutating func north() {
        let (wide, high) = size(Words.Map.north, true)
        let needle = MapBox(left: isFromRight ? 8 : sight.width - 28, top: high + 8, width: 20, height: 40)
        room.take(MapBox(left: needle.left, top: needle.top, width: 20, height: 40 + high))
        drawing.shapes.append(.needle(needle, degrees: sheet?.trueNorth ?? 0))
        print(Words.Map.north, .around(Spot(x: needle.middle.x, y: needle.bottom + high / 2), wide, high), isStrong: true)
    }

    // ---- What stands on it

    /// Rings of distance, each at a length that reads well, as far as the view reaches.
    private mutating func rings() {
        let about = sight.spot(sheet?.here?.at ?? sight.middle)
        let farthest = (sight.width * sight.width + sight.height * sight.height).squareRoot()
        for metres in page.roundM where (56...farthest).contains(metres / sight.scale) {
            let radius = metres / sight.scale
            drawing.shapes.append(.circle(about, radius: radius, .fine))
            let words = writing.length(metres)
            let (wide, high) = size(words, false)
            print(words, room.on(Spot(x: about.x, y: about.y - radius), wide, high))
        }
    }

    /// A patch: as wide as it is, with a spot in its middle that is seen from afar. One that rests has a broken edge.
    private mutating func patch(_ thing: MapThing) {
        guard case .patch(let patch) = thing.kind else { return }
        let (at, radius) = (sight.spot(thing.at), patch.radiusM / sight.scale)
        guard sight.holds(thing.at, beyond: radius) else { return }
        if radius > 5 { drawing.shapes.append(.circle(at, radius: radius, patch.restsUntil == nil ? .mark : .resting)) }
        drawing.shapes.append(.spot(at, radius: 5, isHere: false))
        if thing.id == chosen { drawing.shapes.append(.circle(at, radius: 14, .bold)) }
    }

    /// A find that belongs to no patch: a cross.
    private mutating func cross(_ thing: MapThing) {
        let at = sight.spot(thing.at)
        drawing.shapes.append(.line([Spot(x: at.x - 6, y: at.y - 6), Spot(x: at.x + 6, y: at.y + 6)], .mark))
        drawing.shapes.append(.line([Spot(x: at.x - 6, y: at.y + 6), Spot(x: at.x + 6, y: at.y - 6)], .mark))
        if thing.id == chosen { drawing.shapes.append(.circle(at, radius: 14, .bold)) }
    }

    /// The middle of the map, which the words below are about.
    private mutating func middle() {
        let at = Spot(x: sight.width / 2, y: sight.height / 2)
        drawing.shapes.append(.line([Spot(x: at.x - 6, y: at.y), Spot(x: at.x + 6, y: at.y)], .firm))
        drawing.shapes.append(.line([Spot(x: at.x, y: at.y - 6), Spot(x: at.x, y: at.y + 6)], .firm))
    }

    /// Where whoever holds the phone is: within the thin circle, and most likely at the spot.
    private mutating func here() {
        guard let here = sheet?.here else { return }
        let at = sight.spot(here.at)
        if let within = here.accuracyM { drawing.shapes.append(.circle(at, radius: within / sight.scale, .fine)) }
        drawing.shapes.append(.spot(at, radius: 5, isHere: true))
        drawing.shapes.append(.circle(at, radius: 9, .bold))
    }

    private mutating func name(_ thing: MapThing) {
        let isStrong = thing.isArea || thing.id == chosen
        let (wide, high) = size(thing.name, isStrong)
        let at = sight.spot(thing.at)
        let box = thing.isArea ? room.on(at, wide, high) : room.beside(at, clear: 10, wide, high)
        print(thing.name, box, isStrong: isStrong, isTouch: !thing.isArea)
    }

    private func size(_ words: String, _ isStrong: Bool) -> (Double, Double) {
        let (wide, high) = measure(words, isStrong)
        return (wide + 6, high)
    }

    private mutating func print(_ words: String, _ box: MapBox?, isStrong: Bool = false, isTouch: Bool = false) {
        if let box { drawing.printed.append(MapDrawing.Printed(words: words, box: box, isStrong: isStrong, isTouch: isTouch)) }
    }
}
