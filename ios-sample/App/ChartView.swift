import Ebbstead
import Presenters
import SwiftUI

/// A chart's marks on a canvas as wide as there is room, its legend and what was noted. A screen reader gets its words.
struct ChartView: View {
    let chart: Charted
    @Environment(\.theme) private var theme
    @ScaledMetric(relativeTo: .footnote) private var typeSize = 12
    @State private var width = 358.0

    var body: some View {
        let drawing = chart.drawing(width: width, typeSize: typeSize)
        VStack(alignment: .leading, spacing: 4) {
            Canvas { context, _ in for mark in drawing.marks { paint(mark, theme, in: &context) } }
                .frame(height: drawing.height)
                .background {
                    GeometryReader { room in
                        Color.clear.onAppear { width = room.size.width }.onChange(of: room.size.width) { _, new in width = new }
                    }
                }
                .accessibilityElement()
                .accessibilityLabel(drawing.text)
                .accessibilityAddTraits(.isImage)
            Group {
                // A name behind a sample of its mark.
                Each(drawing.legend) { legend in
                    HStack {
                        Canvas { context, _ in for mark in legend.sample { paint(mark, theme, in: &context) } }
                            .frame(width: 30, height: 16)
                            .accessibilityHidden(true)
                        Text(legend.name)
                    }
                }
                Each(drawing.noted) { Text($0) }
            }
            .font(.footnote)
        }
    }
}

private func paint(_ mark: Mark, _ theme: Theme, in context: inout GraphicsContext) {
    paint(mark.shape, ink: theme.ink(mark.role), paper: theme.paper, in: &context)
}
