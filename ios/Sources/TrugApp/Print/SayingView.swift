import SwiftUI
import TrugModel

/// Words.
struct SayingView: View {
    let words: String
    let tone: Saying.Tone
    @Environment(\.ink) private var ink

    var body: some View {
        Text(verbatim: words)
            .font(.body)
            .bold(tone == .strong)
            .italic(tone == .latin)
            .monospacedDigit()
            .foregroundStyle(tone == .quiet || tone == .latin ? ink.quiet.color : ink.text.color)
            .fixedSize(horizontal: false, vertical: true)
    }
}

/// A heading, which a screen reader can go to.
struct HeadView: View {
    let words: String
    let isLarge: Bool
    @Environment(\.ink) private var ink

    var body: some View {
        Text(verbatim: words)
            .font(isLarge ? .title2 : .body)
            .bold()
            .foregroundStyle(ink.text.color)
            .fixedSize(horizontal: false, vertical: true)
            .accessibilityAddTraits(.isHeader)
    }
}

/// A heading within a leaf, below a rule.
struct PartView: View {
    let words: String

    var body: some View {
        VStack(alignment: .leading, spacing: Measure.gap) {
            RuleView()
            HeadView(words: words, isLarge: false)
        }
        .padding(.top, Measure.gap)
    }
}

/// A rule, lying or upright.
struct RuleView: View {
    var isUpright = false
    @Environment(\.ink) private var ink

    var body: some View {
        Rectangle()
            .fill(ink.quiet.color)
            .frame(width: isUpright ? Measure.hair : nil, height: isUpright ? nil : Measure.hair)
            .accessibilityHidden(true)
    }
}

/// Words in an edge that is the same in every look, or in a line; touched, some say more.
struct BandView: View {
    let band: Band
    @Environment(\.ink) private var ink

    var body: some View {
        if let act = band.act {
            Button(action: act) { words }
                .buttonStyle(FrameStyle(line: ink.text.color, width: width))
                .accessibilityLabel(band.said ?? band.lines.map(\.words).joined(separator: " "))
        } else {
            words
                .padding(Measure.margin)
                .overlay { RoundedRectangle(cornerRadius: Measure.corner).strokeBorder(ink.text.color, lineWidth: width) }
        }
    }

    private var width: CGFloat { band.isEdged ? Measure.edge : Measure.hair }

    private var words: some View {
        VStack(alignment: .leading, spacing: Measure.gap) {
            if let head = band.head { HeadView(words: head, isLarge: true) }
            ForEach(band.lines) { SayingView(words: $0.words, tone: $0.tone) }
        }
        .multilineTextAlignment(.leading)
        .frame(maxWidth: .infinity, alignment: .leading)
    }
}

/// A name and, lined up at the other edge, how much of it.
struct AmountView: View {
    let amount: Amount

    var body: some View {
        VStack(alignment: .leading, spacing: 0) {
            HStack {
                SayingView(words: amount.name, tone: .plain)
                Spacer()
                SayingView(words: amount.amount, tone: .strong)
            }
            .accessibilityElement(children: .combine)
            ForEach(amount.limits, id: \.self) { SayingView(words: $0, tone: .quiet) }
        }
    }
}

/// Something some way off, with an arrow on a page whose top is north; the words beside it say the same.
struct WayView: View {
    let way: Way
    @Environment(\.ink) private var ink

    var body: some View {
        HStack {
            VStack(alignment: .leading, spacing: 0) {
                SayingView(words: way.name, tone: .strong)
                SayingView(words: way.words, tone: .plain)
                SayingView(words: way.about, tone: .quiet)
            }
            Spacer()
            if let bearing = way.bearing {
                ArrowShape()
                    .stroke(ink.text.color, style: StrokeStyle(lineWidth: Measure.edge, lineCap: .round, lineJoin: .round))
                    .frame(width: Measure.gap * 2, height: Measure.gap * 4)
                    .rotationEffect(.degrees(bearing))
                    .frame(width: Measure.target)
                    .accessibilityHidden(true)
            }
        }
        .accessibilityElement(children: .combine)
    }
}

/// An arrow that points up.
struct ArrowShape: Shape {
    func path(in room: CGRect) -> Path {
        var path = Path()
        path.move(to: CGPoint(x: room.midX, y: room.maxY))
        path.addLine(to: CGPoint(x: room.midX, y: room.minY))
        path.move(to: CGPoint(x: room.minX, y: room.minY + room.width / 2))
        path.addLine(to: CGPoint(x: room.midX, y: room.minY))
        path.addLine(to: CGPoint(x: room.maxX, y: room.minY + room.width / 2))
        return path
    }
}
