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
