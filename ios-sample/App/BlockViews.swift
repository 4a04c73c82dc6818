import Presenters
import SwiftUI

struct NoticeView: View {
    let text: String
    let theme: Theme

    var body: some View {
        Text(text).bold().padding(.leading, 12)
            .overlay(alignment: .leading) { Rectangle().fill(Color(theme.accent)).frame(width: 4) }
            .onAppear { AccessibilityNotification.Announcement(text).post() }
            .onChange(of: text) { _, new in AccessibilityNotification.Announcement(new).post() }
    }
}

struct ListBlock: View {
    let name: String
    let items: [String]

    var body: some View {
        VStack(alignment: .leading, spacing: 6) {
            Text(name).font(.headline).accessibilityAddTraits(.isHeader)
            ForEach(items, id: \.self) { Text("– \($0)") }
        }
    }
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
                    Text(figure.name)
                    Text(figure.value).bold()
                }
            }
            if !figure.note.isEmpty { Text(figure.note).font(.footnote).foregroundStyle(Color(theme.quiet)) }
            Divider()
        }
        .accessibilityElement(children: .combine)
    }
}

struct FieldView: View {
    let field: Field
    @Binding var typed: String

    var body: some View {
        VStack(alignment: .leading, spacing: 4) {
            Text(field.name)
            HStack {
                TextField(field.name, text: $typed).keyboardType(field.isNumber ? .decimalPad : .default).textFieldStyle(.roundedBorder)
                Text(field.unit)
            }
            if let advice = field.advice { Text(advice).bold() }
        }
        .accessibilityElement(children: .contain)
    }
}

struct ChoiceView: View {
    let choice: Choice
    let send: (Action) -> Void

    var body: some View {
        if choice.showsName { picker } else { picker.labelsHidden() }
    }

    private var picker: some View {
        Picker(choice.name, selection: chosen) {
            ForEach(choice.options, id: \.action) { Text($0.name).tag(Optional($0.action)) }
        }
        .pickerStyle(.inline)
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
            Text(button.name).frame(maxWidth: .infinity, minHeight: isForNight ? 60 : 48).bold(button.isMain)
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
            Text("\(row.clock)  \(row.text)")
            ForEach([row.putRight, row.takeBack].compactMap { $0 }, id: \.action) { button in
                SwiftUI.Button(button.name) { send(button.action) }.frame(minHeight: 44)
                    .accessibilityLabel("\(button.name): \(row.text)")
            }
            Divider()
        }
    }
}

extension Color {
    init(_ ink: Ink) { self.init(.sRGB, red: ink.red, green: ink.green, blue: ink.blue) }
}
