/// A line figure: lines in one colour, with round ends and corners, over a field of so much.
public struct Figure: Sendable {
    public let width: Double
    public let height: Double
    public let strokes: [Stroke]

    init(_ width: Double, _ height: Double, _ strokes: [Stroke]) {
        self.width = width
        self.height = height
        self.strokes = strokes
    }

    /// One line, so thick.
    public struct Stroke: Sendable {
        public let thickness: Double
        private let outline: String

        init(_ thickness: Double, _ outline: String) {
            self.thickness = thickness
            self.outline = outline
        }

        /// Its outline, from its beginning to its end.
        public var steps: [Step] { Step.read(outline) }
    }

    /// A point of a figure's field, from its top and its left.
    public struct Point: Equatable, Sendable {
        public let x: Double
        public let y: Double
    }

    /// One step of an outline.
    public enum Step: Equatable, Sendable {
        case move(Point)
        case line(Point)
        case curve(Point, Point, to: Point)
        case close

        /// Reads what `bindings/words/outline.py` writes: M, L, C and Z with absolute numbers.
        static func read(_ outline: String) -> [Step] {
            var steps: [Step] = []
            var rest = outline[...]
            while let letter = rest.popFirst() {
                let numbers = rest.prefix { !"MLCZ".contains($0) }
                rest = rest.dropFirst(numbers.count)
                let given = numbers.split(separator: " ").compactMap { Double($0) }
                let points = stride(from: 0, to: given.count - given.count % 2, by: 2).map { Point(x: given[$0], y: given[$0 + 1]) }
                switch (letter, points.count) {
                case ("M", 1): steps.append(.move(points[0]))
                case ("L", 1): steps.append(.line(points[0]))
                case ("C", 3): steps.append(.curve(points[0], points[1], to: points[2]))
                case ("Z", 0): steps.append(.close)
                default: return []
                }
            }
            return steps
        }
    }
}
