import SwiftUI
import TrugModel

/// The map, as a plate in a book: it moves under one finger, comes closer under two, and tells what was touched.
struct MapView: View {
    let plate: MapPlate
    @Environment(\.ink) private var ink
    @Environment(\.layoutDirection) private var direction

    var body: some View {
        GeometryReader { room in
            Canvas { context, size in
                let type = context
                let drawing = plate.drawing(isFromRight: direction == .rightToLeft) { words, isStrong in
                    let size = type.resolve(text(words, isStrong)).measure(in: size)
                    return (size.width, size.height)
                }
                for shape in drawing.shapes { draw(shape, context) }
                for printed in drawing.printed { draw(printed, context) }
            }
            .border(ink.quiet.color)
            .contentShape(Rectangle())
            .gesture(drag.simultaneously(with: pinch(room.size)))
            .onTapGesture { plate.tap(Spot(x: $0.x, y: $0.y)) }
            .onAppear { plate.fit(room.size.width, room.size.height) }
            .onChange(of: room.size) { _, size in plate.fit(size.width, size.height) }
        }
        .frame(minHeight: Measure.map)
        .environment(\.layoutDirection, .leftToRight)
        .accessibilityElement()
        .accessibilityLabel(plate.said)
        .accessibilityChildren {
            ForEach(plate.rows) { RowView(row: $0) }
            ForEach(plate.moves) { TouchView(touch: $0) }
        }
    }

    private var drag: some Gesture {
        DragGesture().onChanged { plate.drag($0.translation.width, $0.translation.height) }.onEnded { _ in plate.letGo() }
    }

    private func pinch(_ size: CGSize) -> some Gesture {
        MagnifyGesture()
            .onChanged { plate.pinch($0.magnification, about: Spot(x: $0.startLocation.x, y: $0.startLocation.y)) }
            .onEnded { _ in plate.letGo() }
    }

    private func text(_ words: String, _ isStrong: Bool) -> Text { Text(verbatim: words).font(.footnote).bold(isStrong).monospacedDigit() }

    private func draw(_ printed: MapDrawing.Printed, _ context: GraphicsContext) {
        let box = CGRect(x: printed.box.left, y: printed.box.top, width: printed.box.width, height: printed.box.height)
        context.fill(Path(box), with: .color(ink.paper.color))
        let color = printed.isTouch ? ink.touch.color : ink.text.color
        context.draw(text(printed.words, printed.isStrong).foregroundStyle(color), in: box.insetBy(dx: 3, dy: 0))
    }

    private func draw(_ shape: MapDrawing.Shape, _ context: GraphicsContext) {
        switch shape {
        case .line(let spots, let pen): stroke(path([spots], isClosed: false), pen, context)
        case .outline(let rings, let pen): stroke(path(rings, isClosed: true), pen, context)
        case .hatch(let rings, let slants):
            var within = context
            within.clip(to: path(rings, isClosed: true), style: FillStyle(eoFill: true))
            stroke(path(slants, isClosed: false), .fine, within)
        case .circle(let at, let radius, let pen): stroke(circle(at, radius), pen, context)
        case .spot(let at, let radius, let isHere):
            context.fill(circle(at, radius), with: .color(isHere ? ink.text.color : ink.touch.color))
        case .needle(let box, let degrees):
            var turned = context
            turned.translateBy(x: box.middle.x, y: box.middle.y)
            turned.rotate(by: .degrees(degrees))
            turned.fill(needle(box), with: .color(ink.text.color))
        }
    }

    private func stroke(_ path: Path, _ pen: MapDrawing.Pen, _ context: GraphicsContext) {
        let color = pen.isTouch ? ink.touch.color : pen == .bold ? ink.text.color : ink.quiet.color
        context.stroke(path, with: .color(color), style: StrokeStyle(lineWidth: pen.width, dash: pen.isBroken ? [5, 5] : []))
    }

    private func path(_ rings: [[Spot]], isClosed: Bool) -> Path {
        var path = Path()
        for ring in rings {
            for (at, spot) in ring.enumerated() {
                let point = CGPoint(x: spot.x, y: spot.y)
                if at == 0 { path.move(to: point) } else { path.addLine(to: point) }
            }
            if isClosed { path.closeSubpath() }
        }
        return path
    }

    private func circle(_ at: Spot, _ radius: Double) -> Path {
        Path(ellipseIn: CGRect(x: at.x - radius, y: at.y - radius, width: radius * 2, height: radius * 2))
    }

    /// A needle around the middle of its box, its point up.
    private func needle(_ box: MapBox) -> Path {
        var path = Path()
        path.move(to: CGPoint(x: 0, y: -box.height / 2))
        path.addLine(to: CGPoint(x: box.width / 4, y: box.height / 2))
        path.addLine(to: CGPoint(x: 0, y: box.height / 4))
        path.addLine(to: CGPoint(x: -box.width / 4, y: box.height / 2))
        path.closeSubpath()
        return path
    }
}

extension MapDrawing.Pen {
    fileprivate var width: CGFloat {
        switch self {
        case .fine: 0.75
        case .firm, .dashed: 1.5
        case .bold, .mark, .resting: 2.5
        }
    }

    fileprivate var isTouch: Bool { self == .mark || self == .resting }
    fileprivate var isBroken: Bool { self == .dashed || self == .resting }
}
