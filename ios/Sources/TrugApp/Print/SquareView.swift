import SwiftUI
import TrugModel

/// A square of the map among its neighbours. A map has its west at the left, whichever way people read.
struct SquareView: View {
    let square: SquareDrawn
    @Environment(\.ink) private var ink

    var body: some View {
        Canvas { context, size in
            let side = (min(size.width, size.height) - Measure.chosen) / 3
            let start = CGPoint(x: (size.width - side * 3) / 2, y: Measure.chosen / 2)
            for (at, name) in square.around.enumerated() {
                let room = CGRect(x: start.x + side * CGFloat(at % 3), y: start.y + side * CGFloat(at / 3), width: side, height: side)
                let isOwn = at == 4
                if isOwn { fine(in: room, context) }
                if let name { draw(name, in: room, isOwn, context) }
            }
        }
        .frame(height: Measure.square)
        .environment(\.layoutDirection, .leftToRight)
        .accessibilityElement()
        .accessibilityLabel(square.said)
    }

    /// The squares of a tenth of its side.
    private func fine(in room: CGRect, _ context: GraphicsContext) {
        var path = Path()
        for step in 1..<10 {
            let along = room.width * CGFloat(step) / 10
            path.move(to: CGPoint(x: room.minX + along, y: room.minY))
            path.addLine(to: CGPoint(x: room.minX + along, y: room.maxY))
            path.move(to: CGPoint(x: room.minX, y: room.minY + along))
            path.addLine(to: CGPoint(x: room.maxX, y: room.minY + along))
        }
        context.stroke(path, with: .color(ink.quiet.color), lineWidth: 0.5)
    }

    /// Its edge, and its name in the middle; the own one on paper, so that no line runs through it.
    private func draw(_ name: String, in room: CGRect, _ isOwn: Bool, _ context: GraphicsContext) {
        let color = isOwn ? ink.text.color : ink.quiet.color
        context.stroke(Path(room), with: .color(color), lineWidth: isOwn ? Measure.chosen : Measure.hair)
        let words = Text(verbatim: name).font(.footnote).bold(isOwn)
        let size = context.resolve(words).measure(in: room.size)
        let box = CGRect(x: room.midX - size.width / 2, y: room.midY - size.height / 2, width: size.width, height: size.height)
        context.fill(Path(box.insetBy(dx: -4, dy: 0)), with: .color(ink.paper.color))
        context.draw(words.foregroundStyle(color), in: box)
    }
}
