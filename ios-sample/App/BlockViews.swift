import Ebbstead
import Presenters
import SwiftUI

/// Text whose long words may break with a hyphen where the type is so large that they must. It is read out as it was.
struct Prose: View {
    let text: String
    @Environment(\.dynamicTypeSize) private var size

    init(_ text: String) { self.text = text }

    var body: some View { Text(size.isAccessibilitySize ? breakable(text) : text).accessibilityLabel(text) }
}

struct NoticeView: View {
    let text: String
    let theme: Theme

    var body: some View {
        Prose(text).bold().padding(.leading, 12)
            .overlay(alignment: .leading) { Rectangle().fill(Color(theme.accent)).frame(width: 4) }
            .onAppear { AccessibilityNotification.Announcement(text).post() }
            .onChange(of: text) { _, new in AccessibilityNotification.Announcement(new).post() }
    }
}

/// The dash is for the eye alone.
struct ItemsView: View {
    let items: [String]

    var body: some View { ForEach(items, id: \.self) { Prose("– \($0)").accessibilityLabel($0) } }
}

/// The value at the right where both fit on a line, else below its name. A screen reader says them as one.
struct FigureView: View {
    let figure: Figure
    let theme: Theme

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
    @Binding var typed: String

    var body: some View {
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

    @ViewBuilder private var entry: some View {
        if field.takes == .secret {
            SecureField(field.name, text: $typed)
        } else {
            TextField(field.name, text: $typed).keyboardType(field.takes == .number ? .decimalPad : field.takes == .phone ? .phonePad : .default)
        }
    }
}

/// Of many, the chosen one in a menu; of few, each with its mark: nothing looks chosen that is not.
struct ChoiceView: View {
    let choice: Choice
    let send: (Action) -> Void

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
    let theme: Theme
    let isForNight: Bool
    let send: (Action) -> Void

    var body: some View {
        SwiftUI.Button { send(button.action) } label: {
            Prose(button.name).frame(maxWidth: .infinity, minHeight: isForNight ? 60 : 48).bold(button.isMain)
                .foregroundStyle(Color(button.isMain ? theme.paper : theme.accent))
        }
        .background { RoundedRectangle(cornerRadius: 10).fill(button.isMain ? Color(theme.accent) : .clear) }
        .overlay { RoundedRectangle(cornerRadius: 10).stroke(Color(theme.accent), lineWidth: 1.5) }
    }
}

struct EntryView: View {
    let row: EntryRow
    let send: (Action) -> Void

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
