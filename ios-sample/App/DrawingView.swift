import Presenters
import SwiftUI

/// A drawing's marks on a canvas, its legend and what was noted. A screen reader gets its words.
struct DrawingView: View {
    let drawing: Drawing
    let theme: Theme

    var body: some View {
        VStack(alignment: .leading, spacing: 4) {
            Canvas { context, size in
                context.scaleBy(x: size.width / drawing.width, y: size.height / drawing.height)
                for mark in drawing.marks { paint(mark, theme, in: &context) }
            }
            .aspectRatio(drawing.width / drawing.height, contentMode: .fit)
            .accessibilityElement()
            .accessibilityLabel(drawing.text)
            .accessibilityAddTraits(.isImage)
            ForEach(drawing.legend, id: \.name) { LegendView(legend: $0, theme: theme) }.font(.footnote)
            ForEach(drawing.noted, id: \.self) { Text($0) }.font(.footnote)
        }
    }
}

/// A name behind a sample of its mark.
struct LegendView: View {
    let legend: Drawing.Legend
    let theme: Theme

    var body: some View {
        HStack {
            Canvas { context, size in
                for mark in legend.sample(width: size.width, height: size.height) { paint(mark, theme, in: &context) }
            }
            .frame(width: 30, height: 16)
            .accessibilityHidden(true)
            Text(legend.name)
        }
    }
}

private func paint(_ mark: Mark, _ theme: Theme, in context: inout GraphicsContext) {
    paint(mark.shape, ink: theme.ink(mark.role), fill: theme.fill(mark.role), paper: theme.paper, in: &context)
}

func paint(_ shape: Presenters.Shape, ink: Ink, fill: Ink, paper: Ink, in context: inout GraphicsContext) {
    let ink = Color(ink)
    func path(_ places: [Place], closed: Bool) -> Path {
        Path { path in
            path.addLines(places.map { CGPoint(x: $0.x, y: $0.y) })
            if closed { path.closeSubpath() }
        }
    }
    switch shape {
    case .line(let places, let dashes, let width):
        let style = StrokeStyle(lineWidth: width, lineCap: dashes.isEmpty ? .round : .butt, lineJoin: .round, dash: dashes.map { CGFloat($0) })
        context.stroke(path(places, closed: false), with: .color(ink), style: style)
    case .area(let places): context.fill(path(places, closed: true), with: .color(Color(fill)))
    case .dot(let at, let radius):
        context.fill(Path(ellipseIn: CGRect(x: at.x - radius, y: at.y - radius, width: 2 * radius, height: 2 * radius)), with: .color(ink))
    case .diamond(let at, let radius):
        let corners = Presenters.Shape.corners(of: at, radius: radius)
        context.fill(path(corners, closed: true), with: .color(Color(paper)))
        context.stroke(path(corners, closed: true), with: .color(ink), lineWidth: 2)
    case .text(let text, let at, let anchor, let size):
        let unit: UnitPoint = switch anchor { case .start: .bottomLeading; case .middle: .bottom; case .end: .bottomTrailing }
        // A baseline lies about a quarter of the type's size above the bottom of its line.
        context.draw(Text(text).font(.system(size: size)).foregroundStyle(ink), at: CGPoint(x: at.x, y: at.y + size * 0.25), anchor: unit)
    }
}
