import Observation
import TrugCore

/// The map, as a plate in a book. It holds what the core told and moves it under fingers without asking anything; its page is told when
/// it has come to rest somewhere else.
@MainActor @Observable public final class MapPlate {
    @ObservationIgnored private let writing: Writing
    private(set) var page: MapPage?
    private(set) var things: [MapThing] = []
    var sheet: MapSheet?
    /// What is in view; none before the map is laid and has a size.
    var sight: Sight?
    /// What was touched last.
    var chosen: MapThing?
    @ObservationIgnored private(set) var size: (width: Double, height: Double) = (0, 0)

    @ObservationIgnored var atRest: (@MainActor () -> Void)?
    @ObservationIgnored var moved: (@MainActor () -> Void)?
    @ObservationIgnored var touched: (@MainActor (MapThing?) -> Void)?

    /// Metres to a point before the fingers began.
    @ObservationIgnored private var before: Sight?

    init(_ writing: Writing) {
        self.writing = writing
    }

    /// Another map, or the same with what has changed on it.
    func show(_ told: MapPage) {
        page = told
        things =
            told.patches.map { MapThing($0, writing) } + told.areas.map { MapThing($0, writing) } + told.finds.map { MapThing($0, writing) }
        chosen = chosen.flatMap { was in things.first { $0.id == was.id } }
    }

    /// How close lines of the grid may stand, in metres: what their figures need beside each other.
    var closestMetres: Double { (sight?.scale ?? 1) * 64 }

    // ---- Under fingers

    /// The room that it has.
    public func fit(_ width: Double, _ height: Double) {
        guard width != size.width || height != size.height else { return }
        size = (width, height)
        sight = sight?.sized(width, height)
        atRest?()
    }

    /// Drawn along by so much since a finger came down.
    public func drag(_ x: Double, _ y: Double) {
        moved?()
        before = before ?? sight
        sight = before?.dragged(x, y)
    }

    /// So many times closer since two fingers came down, about a point of the screen.
    public func pinch(_ times: Double, about: Spot) {
        before = before ?? sight
        sight = before?.closer(max(times, 0.01), about: about)
    }

    /// The fingers are gone.
    public func letGo() {
        before = nil
        atRest?()
    }

    /// So many times closer, about the middle.
    public func closer(_ times: Double) {
        sight = sight.map { $0.closer(times, about: Spot(x: $0.width / 2, y: $0.height / 2)) }
        atRest?()
    }

    /// To another part of the land: by a quarter of what is in view, east and north.
    func move(_ east: Double, _ north: Double) {
        moved?()
        sight = sight.map { $0.dragged(-east * $0.width / 4, north * $0.height / 4) }
        atRest?()
    }

    /// The patch or find that is nearest to a touch, or else the area that it is in.
    public func tap(_ at: Spot) {
        guard let sight else { return }
        let near = inView.filter { !$0.isArea && sight.spot($0.at).far(from: at) <= 28 }
            .min { sight.spot($0.at).far(from: at) < sight.spot($1.at).far(from: at) }
        touched?(near ?? things.first { $0.holds(sight.point(at)) })
    }

    // ---- What is seen

    /// What can be touched now: what is in view, finds only where all there are would be seen.
    var inView: [MapThing] {
        guard let sight else { return [] }
        return things.filter { sight.holds($0.at) && (!$0.isFind || showsFinds) }
    }

    private var showsFinds: Bool {
        guard let page, let sight else { return false }
        return (sight.across * sight.across + sight.up * sight.up).squareRoot() / 2 + page.holdsM <= page.findsWithinM
    }

    /// Everything that is to be drawn; `measure` tells how wide and how high words are, plain or strong.
    public func drawing(isFromRight: Bool, measure: @escaping (String, Bool) -> (Double, Double)) -> MapDrawing {
        guard let sight, let page else { return MapDrawing() }
        var printer = MapPrinter(sight, page, sheet, chosen: chosen?.id, isFromRight: isFromRight, writing, measure: measure)
        return printer.draw(things, inView: inView)
    }

    // ---- For whoever does not see it

    /// What is in view.
    public var said: String {
        guard let sight else { return Words.Map.title }
        let seen = inView
        let (areas, finds) = (seen.filter(\.isArea).count, seen.filter(\.isFind).count)
        let patches = seen.count - areas - finds
        return Words.listed([
            Words.Map.wide(length: writing.length(sight.across)),
            patches == 0 ? Words.Map.noPatches : Words.Map.patches(count: patches),
            areas == 0 ? nil : Words.Map.areas(count: areas),
            finds == 0 ? nil : Words.Map.finds(count: finds),
            sheet.map(writing.middle),
        ])
    }

    /// What can be touched, and what can be done, one by one.
    public var rows: [Row] {
        inView.map { thing in Row(thing.name, thing.about) { [weak self] in self?.touched?(thing) } }
    }

    public var moves: [Touch] {
        [
            Touch(Words.Map.moveNorth) { [weak self] in self?.move(0, 1) }, Touch(Words.Map.moveSouth) { [weak self] in self?.move(0, -1) },
            Touch(Words.Map.moveEast) { [weak self] in self?.move(1, 0) }, Touch(Words.Map.moveWest) { [weak self] in self?.move(-1, 0) },
            Touch(Words.Map.closer) { [weak self] in self?.closer(2) }, Touch(Words.Map.farther) { [weak self] in self?.closer(0.5) },
        ]
    }
}
