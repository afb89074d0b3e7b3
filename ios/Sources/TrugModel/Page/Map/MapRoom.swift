/// A box on the screen.
public struct MapBox: Equatable, Sendable {
    public let left: Double
    public let top: Double
    public let width: Double
    public let height: Double

    public var right: Double { left + width }
    public var bottom: Double { top + height }
    public var middle: Spot { Spot(x: left + width / 2, y: top + height / 2) }

    func meets(_ other: MapBox) -> Bool { left < other.right && other.left < right && top < other.bottom && other.top < bottom }

    /// One of this size around a point.
    static func around(_ at: Spot, _ width: Double, _ height: Double) -> MapBox {
        MapBox(left: at.x - width / 2, top: at.y - height / 2, width: width, height: height)
    }
}

/// Where names may still be printed: what is taken stays free of others, and what would be cut off is not begun.
struct MapRoom {
    let width: Double
    let height: Double
    private var taken: [MapBox] = []

    init(_ width: Double, _ height: Double) {
        self.width = width
        self.height = height
    }

    /// Keeps this much clear.
    mutating func take(_ box: MapBox) {
        taken.append(box)
    }

    /// Takes this much if it is free and in view.
    mutating func takes(_ box: MapBox) -> Bool {
        let fits = box.left >= 0 && box.top >= 0 && box.right <= width && box.bottom <= height
        guard fits, !taken.contains(where: box.meets) else { return false }
        take(box)
        return true
    }

    /// Where a name of this size may stand beside a mark: above it, below, or at either side; none where all are taken.
    mutating func beside(_ at: Spot, clear: Double, _ wide: Double, _ high: Double) -> MapBox? {
        [
            MapBox(left: at.x - wide / 2, top: at.y - clear - high, width: wide, height: high),
            MapBox(left: at.x - wide / 2, top: at.y + clear, width: wide, height: high),
            MapBox(left: at.x + clear, top: at.y - high / 2, width: wide, height: high),
            MapBox(left: at.x - clear - wide, top: at.y - high / 2, width: wide, height: high),
        ].first { takes($0) }
    }

    /// Where a name may stand on the spot itself.
    mutating func on(_ at: Spot, _ wide: Double, _ high: Double) -> MapBox? {
        let box = MapBox.around(at, wide, high)
        return takes(box) ? box : nil
    }
}
