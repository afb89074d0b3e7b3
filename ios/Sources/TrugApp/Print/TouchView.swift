import SwiftUI
import TrugModel

/// Words that can be touched.
struct TouchView: View {
    let touch: Touch
    @Environment(\.ink) private var ink

    var body: some View {
        Button(action: touch.act) {
            Text(verbatim: touch.words)
                .font(.body)
                .bold(touch.weight.isBold)
                .foregroundStyle(touch.weight.isFilled ? ink.paper.color : ink.touch.color)
                .multilineTextAlignment(.center)
        }
        .buttonStyle(style)
        .accessibilityLabel(touch.said)
        .accessibilityAddTraits(touch.weight == .pressed ? .isSelected : [])
    }

    private var style: FrameStyle {
        FrameStyle(
            line: touch.weight == .pressed ? ink.text.color : ink.touch.color,
            width: touch.weight == .pressed ? Measure.chosen : Measure.hair,
            fill: touch.weight.isFilled ? ink.touch.color : .clear,
            height: touch.weight.isTall ? Measure.thumb : Measure.target)
    }
}

/// A row that can be touched.
struct RowView: View {
    let row: Row
    @Environment(\.ink) private var ink

    var body: some View {
        Button(action: row.act) {
            HStack(spacing: Measure.margin) {
                if let picture = row.picture {
                    PhotoView(path: picture, side: Measure.figure).frame(width: Measure.figure, height: Measure.figure).clipped()
                }
                VStack(alignment: .leading, spacing: 0) {
                    Text(verbatim: row.words).font(.body).foregroundStyle(ink.touch.color)
                    if !row.about.isEmpty { SayingView(words: row.about, tone: .quiet) }
                    if let mark = row.mark { SayingView(words: mark, tone: .strong) }
                    if let strip = row.strip { StripView(strip: strip) }
                }
                .multilineTextAlignment(.leading)
                .frame(maxWidth: .infinity, alignment: .leading)
            }
        }
        .buttonStyle(FrameStyle(line: .clear))
        .accessibilityLabel(row.said)
    }
}

/// A list to choose from: with their figures or as words, two side by side unless the type is very large.
struct StatesView: View {
    let states: States
    @Environment(\.dynamicTypeSize) private var type

    var body: some View {
        LazyVGrid(columns: Array(repeating: GridItem(.flexible(), spacing: Measure.gap), count: columns), spacing: Measure.gap) {
            ForEach(states.all) { StateView(state: $0, isDrawn: states.isDrawn, act: states.act) }
        }
    }

    private var columns: Int { states.isList || type.isAccessibilitySize ? 1 : 2 }
}

/// One thing that can be chosen.
struct StateView: View {
    let state: Offered
    let isDrawn: Bool
    let act: @MainActor (String) -> Void
    @Environment(\.ink) private var ink

    var body: some View {
        let layout = isDrawn ? AnyLayout(VStackLayout(spacing: Measure.gap)) : AnyLayout(HStackLayout(spacing: Measure.gap))
        Button {
            act(state.id)
        } label: {
            layout {
                if let figure = state.drawing { FigureView(figure: figure).frame(width: Measure.figure, height: Measure.figure) }
                Text(verbatim: state.label).font(.body).bold(state.isChosen).foregroundStyle(ink.text.color)
                    .multilineTextAlignment(isDrawn ? .center : .leading)
            }
            .frame(maxWidth: .infinity, alignment: isDrawn ? .center : .leading)
        }
        .buttonStyle(
            FrameStyle(line: state.isChosen ? ink.text.color : ink.touch.color, width: state.isChosen ? Measure.chosen : Measure.hair)
        )
        .accessibilityLabel(state.said)
        .accessibilityAddTraits(state.isChosen ? .isSelected : [])
    }
}

/// A line figure, in the colour of the text.
struct FigureView: View {
    let figure: Figure
    @Environment(\.ink) private var ink

    var body: some View {
        Canvas { context, size in
            let scale = size.width / figure.width
            for stroke in figure.strokes {
                context.stroke(
                    path(stroke).applying(CGAffineTransform(scaleX: scale, y: scale)), with: .color(ink.text.color),
                    style: StrokeStyle(lineWidth: stroke.thickness * scale, lineCap: .round, lineJoin: .round))
            }
        }
        .accessibilityHidden(true)
    }

    private func path(_ stroke: Figure.Stroke) -> Path {
        var path = Path()
        for step in stroke.steps {
            switch step {
            case .move(let to): path.move(to: point(to))
            case .line(let to): path.addLine(to: point(to))
            case .curve(let first, let second, let to): path.addCurve(to: point(to), control1: point(first), control2: point(second))
            case .close: path.closeSubpath()
            }
        }
        return path
    }

    private func point(_ point: Figure.Point) -> CGPoint { CGPoint(x: point.x, y: point.y) }
}
