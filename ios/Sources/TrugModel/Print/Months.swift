/// How a month of the year is drawn: a filled stroke for what was found, the taller the more; hatched where it was looked for in vain;
/// hollow where something was there that nobody counted; and nothing but the line it stands on where nobody looked.
public enum Mark: Equatable, Sendable {
    /// Of five levels, the tallest the most.
    case found(level: Int)
    case nothing
    case noted
    case blank
    /// Still to come.
    case ahead
}

/// Months drawn in a line, in reading order, with their letters below. Whatever they stand in tells them in words.
public struct MonthStrip: Equatable, Sendable {
    public let marks: [Mark]
    public let letters: [String]
}

/// Twelve months to be touched, in reading order.
public struct MonthGrid {
    /// One of them; where there is nothing to show, it leads nowhere.
    public struct Cell: Identifiable {
        public let id: String
        public let mark: Mark
        public let name: String
        public let number: String
        public let said: String
        public let act: (@MainActor () -> Void)?
    }

    public let cells: [Cell]
}

/// A mark, and what it means.
public struct MarkKey {
    public let mark: Mark
    public let words: String
}

/// From the first day to the last of a year, and every day on which something was there, on twelve equal months.
public struct RunLine {
    public let name: String
    public let dates: String
    public let said: String
    /// Each day, in months from the beginning of the line.
    public let days: [Double]
    public let end: Double
    /// The letters of the months, for the last of several.
    public let letters: [String]
}
