import Ebbstead
import Presenters

/// One thing that a screen reader stops at: what it is, its name, and what is set or typed there.
public struct Spoken: Equatable, Sendable {
    public enum Kind: String, CaseIterable, Sendable {
        case heading, text
        /// Read out as soon as it appears, wherever the reader is.
        case announced
        /// A name with its value, said as one.
        case value
        /// A drawing, in its own words.
        case chart
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
    /// The screen as a screen reader goes through it, from top to bottom.
    public var spoken: [Spoken] { [Spoken(kind: .heading, name: title)] + (blocks + pinned.map(Block.button)).flatMap(\.spoken) }
}

extension Block {
    public var spoken: [Spoken] {
        func texts(_ texts: [String]) -> [Spoken] { texts.map { Spoken(kind: .text, name: $0) } }
        switch self {
        case .headline(let headline):
            return [Spoken(kind: .heading, name: headline.word)] + texts([headline.sentence] + headline.asides + [headline.reading].compactMap { $0 })
        case .heading(let text): return [Spoken(kind: .heading, name: text)]
        case .sentence(let text), .text(let text), .said(let text): return texts([text])
        case .notice(let text): return [Spoken(kind: .announced, name: text)]
        case .items(let items): return texts(items)
        case .figures(let figures):
            return figures.map { Spoken(kind: .value, name: $0.name, value: $0.note.isEmpty ? $0.value : "\($0.value), \($0.note)") }
        case .fold(let name, let blocks): return [Spoken(kind: .folded, name: name)] + blocks.flatMap(\.spoken)
        case .chart(let chart):
            let drawing = chart.drawing()
            return [Spoken(kind: .chart, name: drawing.text)] + texts(drawing.legend.map(\.name) + drawing.noted)
        case .field(let field):
            let kind: Spoken.Kind = field.takes == .secret ? .secret : field.isClock ? .time : .field
            return [Spoken(kind: kind, name: field.spokenName, value: kind == .secret ? "" : field.value)] + texts([field.advice].compactMap { $0 })
        case .choice(let choice):
            let chosen = choice.isFolded ? choice.options.first(where: \.isChosen)?.name ?? "" : ""
            return [Spoken(kind: .choice, name: choice.name, value: chosen)] + choice.options.map { Spoken(kind: $0.isChosen ? .chosen : .option, name: $0.name) }
        case .button(let button): return [Spoken(kind: .button, name: button.name)]
        case .entry(let row):
            return texts(["\(row.clock)  \(row.text)"]) + row.buttons.map { Spoken(kind: .button, name: row.spokenName(of: $0)) }
        }
    }
}

extension FormField {
    var isClock: Bool { if case .clock = takes { true } else { false } }
}
