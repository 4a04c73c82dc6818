import Ebbstead
import Presenters
import SwiftUI
import WidgetKit

/// What to do, and the newest reading with its age, on the home screen and the lock screen. What stands there at which minute is the
/// presenter's to say.
@main
struct GlanceWidget: Widget {
    var body: some WidgetConfiguration {
        StaticConfiguration(kind: "glance", provider: GlanceProvider()) { GlanceView(glance: $0.glance) }
            .configurationDisplayName(Bundle.main.object(forInfoDictionaryKey: "CFBundleDisplayName") as? String ?? "")
            .supportedFamilies([.systemSmall, .systemMedium, .accessoryRectangular, .accessoryInline])
    }
}

struct GlanceEntry: TimelineEntry {
    let date: Date
    let glance: Glance?
}

struct GlanceProvider: TimelineProvider {
    func placeholder(in context: Context) -> GlanceEntry { GlanceEntry(date: .now, glance: nil) }

    func getSnapshot(in context: Context, completion: @escaping (GlanceEntry) -> Void) {
        completion(entries().last { $0.date <= .now } ?? placeholder(in: context))
    }

    /// The last one says that the reading is too old, and holds until the app writes anew.
    func getTimeline(in context: Context, completion: @escaping (Timeline<GlanceEntry>) -> Void) {
        let entries = entries()
        completion(Timeline(entries: entries.isEmpty ? [placeholder(in: context)] : entries, policy: .never))
    }

    private func entries() -> [GlanceEntry] { (Glance.shared.map(Glance.kept) ?? []).map { GlanceEntry(date: $0.date, glance: $0) } }
}

struct GlanceView: View {
    let glance: Glance?
    @Environment(\.widgetFamily) private var family
    @Environment(\.colorScheme) private var scheme

    var body: some View {
        let look = (scheme == .dark ? Theme.dark : .light).look(of: (glance?.verdict ?? .clear).weight)
        Group {
            switch family {
            case .accessoryInline: Text([glance?.word, glance?.amount].compactMap { $0 }.joined(separator: " · ")).privacySensitive()
            case .accessoryRectangular: block(ink: look.ink, side: 18).font(.footnote)
            default:
                block(ink: look.ink, side: 30).foregroundStyle(Color(look.ink))
                    .frame(maxWidth: .infinity, maxHeight: .infinity, alignment: .topLeading)
            }
        }
        .containerBackground(for: .widget) {
            Color(look.ground).overlay { if look.outline > 0 { ContainerRelativeShape().strokeBorder(Color(look.ink), lineWidth: look.outline) } }
        }
        .accessibilityElement(children: .combine)
    }

    private func block(ink: Ink, side: Double) -> some View {
        VStack(alignment: .leading, spacing: 2) {
            HStack {
                SignView(verdict: glance?.verdict ?? .clear, ink: ink).frame(width: side, height: side)
                Text(glance?.word ?? "").font(.headline).minimumScaleFactor(0.6)
            }
            if let glance, let amount = glance.amount {
                Text(amount).bold().privacySensitive()
                ForEach(glance.accessory, id: \.self) { Text($0).privacySensitive() }
            } else {
                Text(glance?.sentence ?? "").minimumScaleFactor(0.6)
            }
        }
    }
}
