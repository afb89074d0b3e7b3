import Foundation
import Observation
import TrugCore

/// The land about whoever holds the phone, or about their patches, as a map that needs no network: the core lays it, the plate moves it,
/// and the grid is asked for again where it has come to rest.
@MainActor @Observable final class Map: Page {
    let title = Words.Map.title
    @ObservationIgnored private unowned let house: House
    /// The patch that it was opened for, if it was for one.
    @ObservationIgnored private let patch: String?
    @ObservationIgnored private let plate: MapPlate

    /// The map as it is laid; none before the core has told, or while there is nothing to lay it about.
    private var laid: Result<MapPage, any Error>?
    @ObservationIgnored private var readAt = ContinuousClock.now
    @ObservationIgnored private var latest = 0

    /// What was in view before this page was left: it is laid about the same place again.
    @ObservationIgnored private var before: Remembered?

    /// Whether the map goes along with whoever holds the phone: from "Here" until they move it themselves.
    @ObservationIgnored private var follows: Bool

    private struct Remembered: Codable {
        var latitude: Double
        var longitude: Double
        var east: Double
        var north: Double
        var scale: Double
        var follows: Bool
        var chosen: String?
    }

    init(_ house: House, _ patch: String?, _ saved: Data?) {
        self.house = house
        self.patch = patch
        before = Kept.read(Remembered.self, saved)
        follows = before?.follows ?? false
        plate = MapPlate(house.writing)
        plate.atRest = { [weak self] in self?.rested() }
        plate.moved = { [weak self] in self?.follows = false }
        plate.touched = { [weak self] in self?.touched($0) }
    }

    func save() -> Data? {
        guard let sight = plate.sight, let about = page?.about else { return before.flatMap(Kept.write) }
        return Kept.write(
            Remembered(
                latitude: about.latitude, longitude: about.longitude, east: sight.east, north: sight.north, scale: sight.scale,
                follows: follows, chosen: plate.chosen?.id ?? before?.chosen))
    }

    private var page: MapPage? {
        if case .success(let page)? = laid { page } else { nil }
    }

    func shown() {
        look(about)
        house.position.listen { [weak self] _ in
            guard let self else { return }
            if page?.about == nil || ContinuousClock.now - readAt > .seconds(10) { look(about) } else { rested() }
        }
    }

    func left() { house.position.stop() }

    func back() -> Bool { false }

    private var about: Fix? {
        page?.about ?? before.map { Fix(latitude: $0.latitude, longitude: $0.longitude, accuracyM: nil) }
    }

    // ---- The core

    /// Asks for everything on the map about a place; without one, the core chooses.
    private func look(_ about: Fix?) {
        readAt = .now
        let here = house.position.best?.fix
        house.core.make {
            try $0.mapPage(here: here, about: about)
        } then: { [weak self] answered in
            guard let self else { return }
            switch answered {
            case .success(let told):
                show(told)
                rested()
            case .failure(let error): if page == nil { laid = .failure(error) } else { house.complain(error) }
            }
        }
    }

    private func show(_ told: MapPage) {
        laid = .success(told)
        plate.show(told)
        if let chosen = before?.chosen { plate.chosen = plate.things.first { $0.id == chosen } }
    }

    /// The map has come to rest, or the phone elsewhere: the grid and the words are asked for, for more than is in view.
    private func rested() {
        guard let told = page, let about = told.about, plate.size.width > 0 else { return }
        guard let sight = plate.sight else { return begin(told) }
        // So many times what is in view, so that fingers do not outrun it.
        let window = MapWindow(
            about: about, middle: sight.middle, acrossM: sight.across * 3, upM: sight.up * 3, closestM: plate.closestMetres)
        let here = house.position.best?.fix
        latest += 1
        let number = latest
        house.core.make {
            try $0.mapSheet(here: here, window: window)
        } then: { [weak self] answered in
            guard let self, number == latest else { return }
            switch answered {
            case .success(let sheet): show(sheet, window, told)
            case .failure(let error): house.complain(error)
            }
        }
    }

    private func show(_ sheet: MapSheet, _ window: MapWindow, _ told: MapPage) {
        plate.sheet = sheet
        let middle = window.middle
        if (middle.east * middle.east + middle.north * middle.north).squareRoot() > told.holdsM {
            lay(about: sheet.middle, window)
        } else if follows {
            follow()
        }
    }

    /// The middle has gone as far as the map holds: it is laid afresh about where it is, and goes on showing the same land.
    private func lay(about place: Fix, _ window: MapWindow) {
        let here = house.position.best?.fix
        var again = window
        again.about = place
        again.middle = MapPoint(east: 0, north: 0)
        house.core.make { [again] in
            (try $0.mapPage(here: here, about: place), try $0.mapSheet(here: here, window: again))
        } then: { [weak self] answered in
            guard let self, case .success(let (told, sheet)) = answered, page?.about == window.about else { return }
            plate.sight = plate.sight?.laid(about: window.middle)
            show(told)
            plate.sheet = sheet
        }
    }

    /// What is in view at first: what was before, or the patch that the map was opened for, or what the core says.
    private func begin(_ told: MapPage) {
        let (width, height) = plate.size
        if let before {
            self.before = nil
            plate.sight = Sight(east: before.east, north: before.north, scale: before.scale, width: width, height: height)
        } else {
            plate.sight = .reaching(told.reachM, width, height)
            if let opened = plate.things.first(where: { $0.id == patch }) {
                plate.sight = plate.sight?.at(opened.at)
                plate.chosen = opened
            }
        }
        rested()
    }

    private func goHere() {
        follows = true
        follow()
    }

    private func follow() {
        guard let here = plate.sheet?.here?.at, let sight = plate.sight else { return }
        let (east, north) = (here.east - sight.east, here.north - sight.north)
        if (east * east + north * north).squareRoot() < sight.scale { return }
        plate.sight = sight.at(here)
        rested()
    }

    /// Something was touched, or nothing: what has a page is opened, of everything else the foot of the page tells.
    private func touched(_ thing: MapThing?) {
        plate.chosen = thing
        if let page = thing?.page { house.go(page) }
    }

    // ---- What it shows

    let leaves = ["map"]

    func leaf(_ at: Int) -> Leaf {
        switch laid {
        case nil: return .busy(title)
        case .failure(let error): return .failed(title, error) { [weak self] in self?.look(self?.about) }
        case .success(let told):
            guard told.about != nil else { return Leaf(said: title, body: nothing) }
            return Leaf(said: title, body: lines, thumb: thumb)
        }
    }

    private var nothing: [Line] {
        var body = Column()
        body.words(Words.Map.nothing)
        if house.position.isAllowed {
            body.words(Words.Now.noFix, .quiet)
        } else {
            body.touch(Words.Now.askPosition) { [house] in house.askPosition() }
        }
        return body.lines
    }

    /// The map; below it where am I, and what was touched.
    private var lines: [Line] {
        var body = Column(.map(plate))
        if let thing = plate.chosen {
            if let page = thing.page {
                body.put(.row(Row(thing.name, thing.about) { [house] in house.go(page) }))
            } else {
                body.words(thing.name, .strong)
                body.words(thing.about)
            }
        }
        guard let sheet = plate.sheet else { return body.lines }
        let unknown = house.position.isAllowed ? Words.Now.noFix : Words.Now.noPosition
        body.words(house.writing.here(sheet) ?? unknown, .strong)
        body.words(house.writing.middle(sheet))
        body.words(house.writing.gridNorth(sheet), .quiet)
        if !house.position.isAllowed { body.touch(Words.Now.askPosition) { [house] in house.askPosition() } }
        return body.lines
    }

    private var thumb: [Line] {
        var thumb = Column()
        let here = Touch(Words.Map.here) { [weak self] in self?.goHere() }
        thumb.beside(
            .touch(Touch(Words.Map.minus, said: Words.Map.farther) { [plate] in plate.closer(0.5) }),
            .touch(Touch(Words.Map.plus, said: Words.Map.closer) { [plate] in plate.closer(2) }),
            plate.sheet?.here == nil ? nil : .touch(here))
        return thumb.lines
    }
}
