import Ebbstead
import Presenters
import SwiftUI

/// A block whose lower edge is a wave.
struct TideShape: Shape {
    nonisolated func path(in rect: CGRect) -> Path {
        Path { path in
            path.addLines(PromptHeadline.edge(width: rect.width, height: rect.height).map { CGPoint(x: rect.minX + $0.x, y: rect.minY + $0.y) })
            path.closeSubpath()
        }
    }
}

/// An answer's own shape. Its word stands beside it.
struct SignView: View {
    let verdict: Verdict
    let ink: Ink

    var body: some View {
        Canvas { context, size in
            for shape in verdict.sign(side: min(size.width, size.height)) { paint(shape, ink: ink, paper: ink, in: &context) }
        }
        .accessibilityHidden(true)
    }
}

/// A shape of core's on a canvas. `paper` is what lies behind a text.
func paint(_ shape: MarkShape, ink: Ink, paper: Ink, in context: inout GraphicsContext) {
    let ink = Color(ink)
    func path(_ points: [SheetPoint], closed: Bool = false) -> Path {
        Path { path in
            path.addLines(points.map { CGPoint(x: $0.x, y: $0.y) })
            if closed { path.closeSubpath() }
        }
    }
    switch shape {
    case .line(let points, let dashes, let width, let round):
        let style = StrokeStyle(lineWidth: width, lineCap: round ? .round : .butt, lineJoin: .round, dash: dashes.map { CGFloat($0) })
        context.stroke(path(points), with: .color(ink), style: style)
    case .area(let points): context.fill(path(points, closed: true), with: .color(ink))
    case .dot(let at, let radius):
        context.fill(Path(ellipseIn: CGRect(x: at.x - radius, y: at.y - radius, width: 2 * radius, height: 2 * radius)), with: .color(ink))
    case .text(let text, let at, let anchor, let size, let backed):
        let unit: UnitPoint = switch anchor { case .start: .bottomLeading; case .middle: .bottom; case .end: .bottomTrailing }
        let written = context.resolve(Text(text).font(.system(size: size)).foregroundStyle(ink))
        // A baseline lies about a quarter of the type's size above the bottom of its line.
        let foot = CGPoint(x: at.x, y: at.y + size * 0.25)
        let room = written.measure(in: CGSize(width: CGFloat.infinity, height: .infinity))
        let box = CGRect(x: foot.x - unit.x * room.width, y: foot.y - room.height, width: room.width, height: room.height)
        if backed { context.fill(Path(box), with: .color(Color(paper).opacity(0.8))) }
        context.draw(written, at: foot, anchor: unit)
    }
}

extension Color {
    init(_ ink: Ink) { self.init(.sRGB, red: ink.red, green: ink.green, blue: ink.blue) }
}

extension Glance {
    /// Where the app and its widget both reach it.
    static var shared: URL? {
        FileManager.default.containerURL(forSecurityApplicationGroupIdentifier: "group.org.example.ebbstead")?.appending(path: "glances.json")
    }
}
