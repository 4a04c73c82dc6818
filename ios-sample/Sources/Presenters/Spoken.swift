/// One thing that a screen reader stops at: what it is, its name, and what is set or typed there.
public struct Spoken: Equatable, Sendable {
    public enum Kind: String, CaseIterable, Sendable {
        case heading, text
        /// Read out as soon as it appears, wherever the reader is.
        case announced
        /// A name with its value, said as one.
        case value
        /// A drawing, in its own words.
        case picture
        case button, field, secret, time
        /// A name that others stand under once it is opened.
        case folded
        /// One of the options below it. Where they are folded away, the chosen one is its value.
        case choice, chosen, option
    }

    public var kind: Kind
    public var name: String
    public var value = ""
}

extension Screen {
    /// The screen as a screen reader goes through it, from top to bottom; of what lies under a sheet it reads nothing. The views take their
    /// labels from the same functions.
    public var spoken: [Spoken] { [Spoken(kind: .heading, name: title)] + (sheet ?? blocks + pinned.map(Block.button)).flatMap(\.spoken) }
}

extension Block {
    public var spoken: [Spoken] {
        switch self {
        case .headline(let headline):
            [Spoken(kind: .heading, name: headline.word)]
                + ([headline.sentence] + headline.asides + [headline.reading].compactMap { $0 }).map { Spoken(kind: .text, name: $0) }
        case .heading(let text): [Spoken(kind: .heading, name: text)]
        case .sentence(let text), .text(let text), .said(let text): [Spoken(kind: .text, name: text)]
        case .notice(let text): [Spoken(kind: .announced, name: text)]
        case .list(let name, let items): [Spoken(kind: .heading, name: name)] + items.map { Spoken(kind: .text, name: $0) }
        case .items(let items): items.map { Spoken(kind: .text, name: $0) }
        case .figures(let figures): figures.map(\.spoken)
        case .fold(let name, let blocks): [Spoken(kind: .folded, name: name)] + blocks.flatMap(\.spoken)
        case .drawing(let drawing):
            [Spoken(kind: .picture, name: drawing.text)]
                + (drawing.legend.map(\.name) + drawing.noted).map { Spoken(kind: .text, name: $0) }
        case .field(let field):
            [Spoken(kind: field.isSecret ? .secret : .field, name: field.spokenName, value: field.isSecret ? "" : field.typed)]
                + [field.advice].compactMap { $0 }.map { Spoken(kind: .text, name: $0) }
        case .time(let time): [Spoken(kind: .time, name: time.name, value: time.text)]
        case .choice(let choice): choice.spoken
        case .button(let button): [Spoken(kind: .button, name: button.name)]
        case .entry(let row):
            [Spoken(kind: .text, name: "\(row.clock)  \(row.text)")]
                + row.buttons.map { Spoken(kind: .button, name: row.spokenName(of: $0)) }
        }
    }
}

extension Figure {
    var spoken: Spoken { Spoken(kind: .value, name: name, value: note.isEmpty ? value : "\(value), \(note)") }
}

extension Field {
    /// The unit is part of the name: who cannot see it behind the field must not guess it.
    public var spokenName: String { unit.isEmpty ? name : "\(name), \(unit)" }
}

extension Choice {
    var spoken: [Spoken] {
        [Spoken(kind: .choice, name: name, value: isFolded ? options.first(where: \.isChosen)?.name ?? "" : "")]
            + options.map { Spoken(kind: $0.isChosen ? .chosen : .option, name: $0.name) }
    }
}

extension EntryRow {
    /// What can be done about it.
    public var buttons: [Button] { [putRight, takeBack].compactMap { $0 } }

    /// Many lines have a button of the same name; a reader must hear whose it is.
    public func spokenName(of button: Button) -> String { "\(button.name): \(text)" }
}
