/// A square of the map among its neighbours, north at the top: its edge black, within it the squares of a tenth of its side.
public struct SquareDrawn {
    /// Nine names, from the north-west on, row by row, its own in the middle; none where there is no such square.
    public let around: [String?]
    public let said: String
}
