import SwiftUI
import TrugModel

/// A leaf of a page: what scrolls, and at the thumb, behind a rule, what to do next: below it, or beside it where the screen is so low
/// that little would be left between the two.
struct LeafView: View {
    /// Keeps the page for as long as it is seen.
    let standing: House.Standing
    let at: Int
    @Environment(\.verticalSizeClass) private var height
    @Environment(\.dynamicTypeSize) private var type
    @Environment(\.ink) private var ink

    var body: some View {
        let leaf = standing.leaf(at)
        let isLow = height == .compact
        let layout = isLow ? AnyLayout(HStackLayout(spacing: 0)) : AnyLayout(VStackLayout(spacing: 0))
        // In large type, which would leave the rest no room, and on a low screen, what stands above scrolls along.
        let scrollsAlong = isLow || type.isAccessibilitySize
        layout {
            VStack(spacing: 0) {
                if !scrollsAlong { LinesView(lines: leaf.above) }
                ScrollView {
                    if scrollsAlong { LinesView(lines: leaf.above) }
                    LinesView(lines: leaf.body).padding(Measure.margin)
                }
                .scrollDismissesKeyboard(.interactively)
                // Another question begins at its top.
                .id(leaf.said)
            }
            if !leaf.thumb.isEmpty {
                RuleView(isUpright: isLow)
                if isLow { ScrollView { thumb(leaf) }.frame(width: Measure.beside) } else { thumb(leaf) }
            }
        }
        .background(ink.paper.color)
        .onChange(of: leaf.said) { _, words in AccessibilityNotification.Announcement(words).post() }
    }

    private func thumb(_ leaf: Leaf) -> some View {
        LinesView(lines: leaf.thumb).padding(.horizontal, Measure.margin).padding(.vertical, Measure.gap)
    }
}

/// Lines, one below the other.
struct LinesView: View {
    let lines: [Line]

    var body: some View {
        VStack(alignment: .leading, spacing: Measure.gap) {
            ForEach(lines) { PrintView(print: $0.print).frame(maxWidth: .infinity, alignment: .leading) }
        }
    }
}

/// Each thing that can be printed, drawn in its one way.
struct PrintView: View {
    let print: Print

    var body: some View {
        switch print {
        case .head(let words): HeadView(words: words, isLarge: true)
        case .part(let words): PartView(words: words)
        case .subhead(let words): HeadView(words: words, isLarge: false)
        case .rule: RuleView()
        case .saying(let saying): SayingView(words: saying.words, tone: saying.tone)
        case .band(let band): BandView(band: band)
        case .touch(let touch): TouchView(touch: touch)
        case .row(let row): RowView(row: row)
        case .amount(let amount): AmountView(amount: amount)
        case .way(let way): WayView(way: way)
        case .states(let states): StatesView(states: states)
        case .field(let field): FieldView(field: field)
        case .counter(let counter): CounterView(counter: counter)
        case .photos(let photos): PhotosView(photos: photos)
        case .picture(let picture): PictureView(picture: picture)
        case .square(let square): SquareView(square: square)
        case .map(let plate): MapView(plate: plate)
        case .months(let grid): MonthGridView(grid: grid)
        case .mark(let key): MarkKeyView(key: key)
        case .run(let run): RunView(run: run)
        case .beside(let lines): BesideView(lines: lines)
        case .column(let lines): LinesView(lines: lines)
        }
    }
}

/// Side by side, equally wide; in very large type one below the other.
struct BesideView: View {
    let lines: [Line]
    @Environment(\.dynamicTypeSize) private var type

    var body: some View {
        let layout =
            type.isAccessibilitySize ? AnyLayout(VStackLayout(spacing: Measure.gap)) : AnyLayout(HStackLayout(spacing: Measure.gap))
        layout {
            ForEach(lines) { PrintView(print: $0.print).frame(maxWidth: .infinity) }
        }
    }
}
