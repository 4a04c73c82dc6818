import Ebbstead
import Presenters
import SwiftUI

extension EnvironmentValues {
    @Entry var theme = Theme.light
    /// Where a tap goes, and what is typed into which field.
    @Entry var send: @MainActor (Action) -> Void = { _ in }
    @Entry var enter: @MainActor (String, String) -> Void = { _, _ in }
}

/// Things one after the other, by their place: two of them may read alike.
struct Each<Item, Content: View>: View {
    let items: [Item]
    @ViewBuilder let content: (Item) -> Content

    init(_ items: [Item], @ViewBuilder content: @escaping (Item) -> Content) { (self.items, self.content) = (items, content) }

    var body: some View { ForEach(items.indices, id: \.self) { content(items[$0]) } }
}

/// Text whose long words may break with a hyphen where the type is so large that they must. It is read out as it was.
struct Prose: View {
    let text: String
    @Environment(\.dynamicTypeSize) private var size

    init(_ text: String) { self.text = text }

    var body: some View { Text(size.isAccessibilitySize ? breakable(text: text) : text).accessibilityLabel(text) }
}

struct NoticeView: View {
    let text: String
    @Environment(\.theme) private var theme

    var body: some View {
        Prose(text).bold().padding(.leading, 12)
            .overlay(alignment: .leading) { Rectangle().fill(Color(theme.accent)).frame(width: 4) }
            .onAppear { AccessibilityNotification.Announcement(text).post() }
            .onChange(of: text) { _, new in AccessibilityNotification.Announcement(new).post() }
    }
}

/// The value at the right where both fit on a line, else below its name. A screen reader says them as one.
struct FigureView: View {
    let figure: Figure
    @Environment(\.theme) private var theme

    var body: some View {
        VStack(alignment: .leading, spacing: 2) {
            ViewThatFits(in: .horizontal) {
                HStack {
                    Text(figure.name)
                    Spacer(minLength: 16)
                    Text(figure.value).bold()
                }
                VStack(alignment: .leading) {
                    Prose(figure.name)
                    Prose(figure.value).bold()
                }
            }
            if !figure.note.isEmpty { Prose(figure.note).font(.footnote).foregroundStyle(Color(theme.quiet)) }
            Divider()
        }
        .accessibilityElement(children: .combine)
    }
}

struct FieldView: View {
    let field: FormField
    @Environment(\.enter) private var enter

    var body: some View {
        if case .clock = field.takes {
            DatePicker(field.name, selection: clock, displayedComponents: .hourAndMinute)
        } else {
            VStack(alignment: .leading, spacing: 4) {
                Prose(field.name).accessibilityHidden(true)
                HStack {
                    entry.textFieldStyle(.roundedBorder).accessibilityLabel(field.spokenName)
                    Text(field.unit).accessibilityHidden(true)
                }
                if let advice = field.advice { Prose(advice).bold() }
            }
            .accessibilityElement(children: .contain)
        }
    }

    @ViewBuilder private var entry: some View {
        let typed = Binding(get: { field.value }, set: { enter($0, field.id) })
        if field.takes == .secret {
            SecureField(field.name, text: typed)
        } else {
            TextField(field.name, text: typed).keyboardType(field.takes == .number ? .decimalPad : field.takes == .phone ? .phonePad : .default)
        }
    }

    private var clock: Binding<Date> {
        Binding {
            let (day, minute) = (Calendar.current.startOfDay(for: .now), Int(clockMinute(clock: field.value) ?? 0))
            return Calendar.current.date(bySettingHour: minute / 60, minute: minute % 60, second: 0, of: day) ?? day
        } set: {
            let parts = Calendar.current.dateComponents([.hour, .minute], from: $0)
            enter(clockShown(minute: Int32((parts.hour ?? 0) * 60 + (parts.minute ?? 0))), field.id)
        }
    }
}

/// Of many, the chosen one in a menu; of few, each with its mark: nothing looks chosen that is not.
struct ChoiceView: View {
    let choice: Choice
    @Environment(\.send) private var send

    var body: some View {
        VStack(alignment: .leading, spacing: 4) {
            // A menu does not write its own name.
            if choice.showsName { Prose(choice.name).font(.headline).accessibilityHidden(choice.isFolded) }
            if choice.isFolded {
                Picker(choice.name, selection: chosen) { ForEach(choice.options, id: \.action) { Text($0.name).tag(Optional($0.action)) } }
                    .pickerStyle(.menu)
            } else {
                ForEach(choice.options, id: \.action) { option in
                    SwiftUI.Button { send(option.action) } label: {
                        SwiftUI.Label { Prose(option.name) } icon: { Image(systemName: option.isChosen ? "checkmark.square.fill" : "square") }
                            .frame(maxWidth: .infinity, minHeight: 44, alignment: .leading)
                    }
                    .accessibilityAddTraits(option.isChosen ? .isSelected : [])
                }
            }
        }
    }

    private var chosen: Binding<Action?> {
        Binding(get: { choice.options.first(where: \.isChosen)?.action }, set: { if let action = $0 { send(action) } })
    }
}

struct ButtonView: View {
    let button: Presenters.Button
    @Environment(\.theme) private var theme
    @Environment(\.send) private var send
    @State private var taps = 0

    var body: some View {
        SwiftUI.Button {
            taps += 1
            send(button.action)
        } label: {
            Prose(button.name).frame(maxWidth: .infinity, minHeight: theme == .night ? 60 : 48).bold(button.isMain)
                .foregroundStyle(Color(button.isMain ? theme.paper : theme.accent))
        }
        .background { RoundedRectangle(cornerRadius: 10).fill(button.isMain ? Color(theme.accent) : .clear) }
        .overlay { RoundedRectangle(cornerRadius: 10).stroke(Color(theme.accent), lineWidth: 1.5) }
        .sensoryFeedback(.impact, trigger: taps)
    }
}

struct EntryView: View {
    let row: EntryRow
    @Environment(\.send) private var send

    var body: some View {
        VStack(alignment: .leading) {
            Prose("\(row.clock)  \(row.text)")
            ForEach(row.buttons, id: \.action) { button in
                SwiftUI.Button(button.name) { send(button.action) }.frame(minHeight: 44)
                    .accessibilityLabel(row.spokenName(of: button))
            }
            Divider()
        }
    }
}

/// Things on a screen, one below the other.
struct BlocksView: View {
    let blocks: [Block]
    @Environment(\.theme) private var theme

    init(_ blocks: [Block]) { self.blocks = blocks }

    var body: some View { Each(blocks) { view($0) } }

    @ViewBuilder private func view(_ block: Block) -> some View {
        switch block {
        case .headline(let headline): HeadlineView(headline: headline)
        case .sentence(let text): Prose(text).font(theme == .night ? .title : .title3)
        case .text(let text): Prose(text).foregroundStyle(Color(theme.quiet))
        case .said(let text): Prose(text)
        case .fold(let name, let blocks):
            DisclosureGroup {
                VStack(alignment: .leading, spacing: 14) { BlocksView(blocks) }.padding(.top, 8)
            } label: { Prose(name).font(.headline).frame(minHeight: 44) }
        case .heading(let text): Prose(text).font(.headline).padding(.top, 8).accessibilityAddTraits(.isHeader)
        case .figures(let figures): Each(figures) { FigureView(figure: $0) }
        case .notice(let text): NoticeView(text: text)
        // The dash is for the eye alone.
        case .items(let items): Each(items) { Prose("– \($0)").accessibilityLabel($0) }
        case .chart(let chart): ChartView(chart: chart)
        case .field(let field): FieldView(field: field)
        case .choice(let choice): ChoiceView(choice: choice)
        case .button(let button): ButtonView(button: button)
        case .entry(let row): EntryView(row: row)
        }
    }
}
