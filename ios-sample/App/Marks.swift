import Presenters
import SwiftUI

/// A block whose lower edge is a wave.
struct TideShape: SwiftUI.Shape {
    nonisolated func path(in rect: CGRect) -> Path {
        Path { path in
            path.addLines(Headline.edge(width: rect.width, height: rect.height).map { CGPoint(x: rect.minX + $0.x, y: rect.minY + $0.y) })
            path.closeSubpath()
        }
    }
}

/// An answer's own shape. Its word stands beside it.
struct SignView: View {
    let tone: Tone
    let ink: Ink

    var body: some View {
        Canvas { context, size in
            for shape in tone.sign(side: min(size.width, size.height)) { paint(shape, ink: ink, fill: ink, paper: ink, in: &context) }
        }
        .accessibilityHidden(true)
    }
}

/// A shape of the presenters' on a canvas.
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

extension Color {
    init(_ ink: Ink) { self.init(.sRGB, red: ink.red, green: ink.green, blue: ink.blue) }
}

extension Glance {
    /// Where the app and its widget both reach it.
    static var shared: URL? {
        FileManager.default.containerURL(forSecurityApplicationGroupIdentifier: "group.org.example.ebbstead")?.appending(path: "glances.json")
    }
}
