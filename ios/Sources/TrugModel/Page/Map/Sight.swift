import TrugCore

/// What of the map is in view. The core has laid the map flat, in metres from the place that it is laid about; this moves and scales
/// it, and that is all. `scale` is in metres to a point, `width` and `height` in points.
struct Sight: Equatable {
    var east: Double
    var north: Double
    var scale: Double
    var width: Double
    var height: Double

    /// Metres to a point: a log fills the screen, or a country does.
    static let limits = 0.02...2500.0

    var across: Double { width * scale }
    var up: Double { height * scale }
    var middle: MapPoint { MapPoint(east: east, north: north) }

    /// Where a point of the map is on the screen.
    func spot(_ at: MapPoint) -> Spot {
        Spot(x: width / 2 + (at.east - east) / scale, y: height / 2 - (at.north - north) / scale)
    }

    /// What of the map is at a point of the screen.
    func point(_ at: Spot) -> MapPoint {
        MapPoint(east: east + (at.x - width / 2) * scale, north: north - (at.y - height / 2) * scale)
    }

    /// Whether a point is in view, or no more than so many points of the screen out of it.
    func holds(_ at: MapPoint, beyond: Double = 0) -> Bool {
        abs(at.east - east) <= across / 2 + beyond * scale && abs(at.north - north) <= up / 2 + beyond * scale
    }

    /// After the land was drawn along by so many points, right and down.
    func dragged(_ x: Double, _ y: Double) -> Sight {
        with {
            $0.east -= x * scale; $0.north += y * scale
        }
    }

    /// So many times closer, within limits, about a point of the screen, which goes on showing the same land.
    func closer(_ times: Double, about: Spot) -> Sight {
        let (stays, nearer) = (point(about), min(max(scale / times, Self.limits.lowerBound), Self.limits.upperBound))
        return with {
            $0.scale = nearer
            $0.east = stays.east - (about.x - width / 2) * nearer
            $0.north = stays.north + (about.y - height / 2) * nearer
        }
    }

    func at(_ point: MapPoint) -> Sight {
        with {
            $0.east = point.east
            $0.north = point.north
        }
    }

    /// The same land on a map that is laid about another point of this one. North hardly turns on the way there.
    func laid(about point: MapPoint) -> Sight {
        with {
            $0.east -= point.east
            $0.north -= point.north
        }
    }

    /// The same land in the middle, on a screen of another size.
    func sized(_ width: Double, _ height: Double) -> Sight {
        with {
            $0.width = width
            $0.height = height
        }
    }

    /// About the middle of the map, with at least so many metres to every side.
    static func reaching(_ metres: Double, _ width: Double, _ height: Double) -> Sight {
        let scale = 2 * metres / max(1, min(width, height))
        return Sight(east: 0, north: 0, scale: min(max(scale, limits.lowerBound), limits.upperBound), width: width, height: height)
    }

    private func with(_ change: (inout Sight) -> Void) -> Sight {
        var other = self
        change(&other)
        return other
    }
}

/// A point of the screen, from its top and its left.
public struct Spot: Equatable, Sendable {
    public let x: Double
    public let y: Double

    public init(x: Double, y: Double) {
        self.x = x
        self.y = y
    }

    func far(from other: Spot) -> Double { ((x - other.x) * (x - other.x) + (y - other.y) * (y - other.y)).squareRoot() }
}
