import SwiftUI
import TrugModel

/// One month, drawn as large as its room: its lower edge is what it stands on.
struct MarkView: View {
    let mark: Mark
    @Environment(\.ink) private var ink

    var body: some View {
        Canvas { context, size in
            let ground = line(CGPoint(x: 0, y: size.height - 1), CGPoint(x: size.width, y: size.height - 1))
            context.stroke(ground, with: .color(ink.quiet.color), style: StrokeStyle(lineWidth: Measure.hair, dash: mark.dash))
            let box = stroke(in: size)
            switch mark {
            case .found: context.fill(box, with: .color(ink.text.color))
            case .noted: context.stroke(box, with: .color(ink.text.color), lineWidth: 2)
            case .nothing:
                context.stroke(box, with: .color(ink.text.color), lineWidth: Measure.hair)
                context.stroke(hatch(in: size), with: .color(ink.text.color), lineWidth: Measure.hair)
            case .blank, .ahead: break
            }
        }
        .accessibilityHidden(true)
    }

    private func frame(in size: CGSize) -> CGRect {
        let width = min(size.width * 0.6, 28)
        let height = (size.height - 1) * mark.height
        return CGRect(x: (size.width - width) / 2, y: size.height - 1 - height, width: width, height: height)
    }

    private func stroke(in size: CGSize) -> Path { Path(frame(in: size)) }

    /// Lines from the lower left to the upper right, within the frame.
    private func hatch(in size: CGSize) -> Path {
        let frame = frame(in: size)
        var path = Path()
        for from in stride(from: frame.minX - frame.height, to: frame.maxX, by: 5) {
            let (start, end) = (max(from, frame.minX), min(from + frame.height, frame.maxX))
            path.move(to: CGPoint(x: start, y: frame.maxY - (start - from)))
            path.addLine(to: CGPoint(x: end, y: frame.maxY - (end - from)))
        }
        return path
    }

    private func line(_ from: CGPoint, _ to: CGPoint) -> Path {
        var path = Path()
        path.move(to: from)
        path.addLine(to: to)
        return path
    }
}

extension Mark {
    /// How tall it stands, of its room.
    fileprivate var height: CGFloat {
        switch self {
        case .found(let level): CGFloat(level) / 5
        case .nothing: 2 / 5
        case .noted: 1 / 5
        case .blank, .ahead: 0
        }
    }

    fileprivate var dash: [CGFloat] { self == .ahead ? [2, 3] : [] }
}

/// Months in a line, with their letters below.
struct StripView: View {
    let strip: MonthStrip
    @Environment(\.ink) private var ink

    var body: some View {
        HStack(spacing: 0) {
            ForEach(Array(strip.marks.indices), id: \.self) { at in
                VStack(spacing: 0) {
                    MarkView(mark: strip.marks[at]).frame(height: 40)
                    LetterView(letter: strip.letters[at])
                }
                .frame(maxWidth: .infinity)
            }
        }
        .accessibilityHidden(true)
    }
}

/// The letter of a month, small enough to stand among twelve.
struct LetterView: View {
    let letter: String
    @Environment(\.ink) private var ink

    var body: some View {
        Text(verbatim: letter).font(.body).foregroundStyle(ink.quiet.color).lineLimit(1).minimumScaleFactor(0.4)
    }
}

/// Twelve months to be touched: as many side by side as there is room for.
struct MonthGridView: View {
    let grid: MonthGrid
    @Environment(\.ink) private var ink

    var body: some View {
        LazyVGrid(columns: [GridItem(.adaptive(minimum: Measure.target), spacing: 0)], spacing: Measure.gap) {
            ForEach(grid.cells) { cell in
                if let act = cell.act {
                    Button(action: act) { month(cell, ink.touch.color) }
                        .buttonStyle(FrameStyle(line: .clear))
                        .accessibilityLabel(cell.said)
                } else {
                    month(cell, ink.quiet.color).padding(Measure.gap).accessibilityElement().accessibilityLabel(cell.said)
                }
            }
        }
    }

    private func month(_ cell: MonthGrid.Cell, _ color: Color) -> some View {
        VStack(spacing: 0) {
            MarkView(mark: cell.mark).frame(height: Measure.target)
            Text(verbatim: cell.name).font(.body).foregroundStyle(color)
            SayingView(words: cell.number, tone: .strong)
        }
    }
}

/// A mark, and what it means.
struct MarkKeyView: View {
    let key: MarkKey

    var body: some View {
        HStack(spacing: Measure.margin) {
            MarkView(mark: key.mark).frame(width: 32, height: 32)
            SayingView(words: key.words, tone: .plain)
        }
    }
}

/// From the first day to the last, and every day on which it was there.
struct RunView: View {
    let run: RunLine
    @Environment(\.ink) private var ink
    @Environment(\.layoutDirection) private var direction

    var body: some View {
        VStack(alignment: .leading, spacing: 0) {
            SayingView(words: run.name, tone: .strong)
            SayingView(words: run.dates, tone: .plain)
            Canvas { context, size in
                let each = size.width / 12
                let stands = size.height - 2
                context.fill(Path(CGRect(x: 0, y: stands, width: size.width, height: 1)), with: .color(ink.quiet.color))
                for month in 0...12 {
                    context.fill(Path(CGRect(x: each * CGFloat(month), y: stands - 4, width: 1, height: 4)), with: .color(ink.quiet.color))
                }
                for day in run.days {
                    context.fill(
                        Path(CGRect(x: each * CGFloat(day), y: size.height / 2 - 6, width: max(2, each / 30), height: 12)),
                        with: .color(ink.text.color))
                }
                let from = each * CGFloat(run.days.first ?? 0)
                context.fill(
                    Path(CGRect(x: from, y: size.height / 2 - 1, width: max(0, each * CGFloat(run.end) - from), height: 2)),
                    with: .color(ink.text.color))
            }
            .frame(height: 28)
            .scaleEffect(x: direction == .rightToLeft ? -1 : 1)
            HStack(spacing: 0) {
                ForEach(Array(run.letters.indices), id: \.self) { LetterView(letter: run.letters[$0]).frame(maxWidth: .infinity) }
            }
        }
        .accessibilityElement()
        .accessibilityLabel(run.said)
    }
}
