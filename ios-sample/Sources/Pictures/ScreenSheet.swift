import Presenters

/// Writes a screen as the app lays it out: blocks from top to bottom, and the names of the screens below.
struct ScreenSheet {
    private static let width = 390.0
    private static let margin = 16.0

    /// Type as the system has it, usual and largest (34 and 60 points for a large title, 17 and 53 for running text: Apple's Human
    /// Interface Guidelines, from memory), less a tenth, since DejaVu Sans runs wider than the phone's own.
    private enum Style {
        case verdict, sentence, body, small

        func points(night: Bool, largest: Bool) -> Double {
            let (usual, most) =
                switch (self, night) {
                case (.verdict, _): (31.0, 54.0)
                case (.sentence, true): (25, 52)
                case (.sentence, false), (.body, true): (18, 50)
                case (.body, false): (15.5, 48)
                case (.small, _): (12.5, 40)
                }
            return largest ? most : usual
        }
    }

    private var paper: Paper
    private let night: Bool
    private let largest: Bool

    static func svg(_ screen: Screen, tabs: [String], dark: Bool, largest: Bool) -> String {
        let paper = Paper(width: width, theme: .of(screen, dark: dark))
        var sheet = ScreenSheet(paper: paper, night: screen.isForNight, largest: largest)
        sheet.paper.down(12)
        // A title keeps to its line, in smaller type if need be.
        let title = min(sheet.size(.body), sheet.size(.body) * 358 / breadth(screen.title, size: sheet.size(.body), bold: true))
        sheet.paper.write(screen.title, size: title, ink: sheet.paper.theme.quiet, bold: true, left: 16, right: 16)
        for block in screen.blocks { sheet.draw(block) }
        sheet.tabs(tabs, here: screen.title)
        return sheet.paper.finished(title: screen.title)
    }

    private func size(_ style: Style) -> Double { style.points(night: night, largest: largest) }

    private mutating func write(_ text: String, _ style: Style, bold: Bool = false, ink: Ink? = nil, left: Double = 16, right: Double = 16) {
        paper.write(text, size: size(style), ink: ink ?? paper.theme.text, bold: bold, left: left, right: right)
    }

    private mutating func draw(_ block: Block) {
        let theme = paper.theme
        switch block {
        case .verdict(let text):
            paper.down(6)
            write(text, .verdict, bold: true)
        case .sentence(let text):
            paper.down(4)
            write(text, .sentence)
        case .text(let text):
            paper.down(8)
            write(text, .body, ink: theme.quiet)
        case .said(let text):
            paper.down(7)
            write(text, .body)
        case .folded(let name, let figures):
            // Closed, as it is at first; how many lines there are stands behind its name.
            paper.down(18)
            write("\(name) (\(figures.count))", .body, bold: true, ink: theme.accent)
        case .heading(let text):
            paper.down(18)
            write(text, .body, bold: true)
        case .figures(let figures): for figure in figures { draw(figure) }
        case .notice(let text):
            paper.down(10)
            let top = paper.y
            write(text, .body, bold: true, left: 28)
            paper.put("<rect x=\"16\" y=\"\(n(top))\" width=\"4\" height=\"\(n(paper.y - top))\" fill=\"\(hex(theme.accent))\"/>")
        case .list(let name, let items):
            paper.down(14)
            write(name, .body, bold: true)
            for item in items { draw(item: item) }
        case .items(let items): for item in items { draw(item: item) }
        case .drawing(let drawing): draw(drawing)
        case .field(let field):
            paper.down(12)
            write(field.name, .body)
            // As many as there is room for, as in the system's own field.
            let dots = String(repeating: "•", count: min(field.typed.count, Int(330 / breadth("•", size: size(.body), bold: false))))
            box(field.isSecret ? dots : field.typed, behind: field.unit)
            if let advice = field.advice {
                paper.down(4)
                write(advice, .body, bold: true)
            }
        case .time(let time):
            paper.down(12)
            write(time.name, .body)
            box(time.text, behind: "")
        case .choice(let choice):
            paper.down(14)
            if choice.showsName { write(choice.name, .body) }
            if choice.isFolded { return folded(choice) }
            for option in choice.options {
                paper.down(6)
                let middle = paper.y + size(.body) * 0.64
                write(option.name, .body, bold: option.isChosen, left: 16 + size(.body) * 1.5)
                let radius = size(.body) * 0.44
                paper.put("<circle cx=\"\(n(17 + radius))\" cy=\"\(n(middle))\" r=\"\(n(radius))\" fill=\"none\" stroke=\"\(hex(theme.text))\" stroke-width=\"1.5\"/>")
                if option.isChosen {
                    paper.put("<circle cx=\"\(n(17 + radius))\" cy=\"\(n(middle))\" r=\"\(n(radius * 0.5))\" fill=\"\(hex(theme.accent))\"/>")
                }
            }
        case .button(let button): draw(button)
        case .entry(let row):
            paper.down(8)
            write(row.clock + "  " + row.text, .body)
            for button in [row.putRight, row.takeBack].compactMap({ $0 }) {
                paper.down(3)
                write(button.name, .body, ink: theme.accent)
            }
            paper.put("<rect x=\"16\" y=\"\(n(paper.y + 4))\" width=\"358\" height=\"1\" fill=\"\(hex(theme.quiet))\" opacity=\"0.4\"/>")
            paper.down(5)
        }
    }

    /// The chosen one alone, between two rules, with a mark that there are more.
    private mutating func folded(_ choice: Choice) {
        let theme = paper.theme
        paper.down(6)
        let top = paper.y
        paper.down(6)
        write(choice.options.first(where: \.isChosen)?.name ?? "", .body, bold: true, ink: theme.accent, left: 18, right: 16 + size(.body) * 1.4)
        paper.down(6)
        let (middle, wide) = ((top + paper.y) / 2, size(.body) * 0.35)
        let corners = "\(n(372 - 2 * wide)),\(n(middle - wide / 2)) \(n(372 - wide)),\(n(middle + wide / 2)) 372,\(n(middle - wide / 2))"
        paper.put("<polyline points=\"\(corners)\" fill=\"none\" stroke=\"\(hex(theme.accent))\" stroke-width=\"2\"/>")
        for edge in [top, paper.y] {
            paper.put("<rect x=\"16\" y=\"\(n(edge))\" width=\"358\" height=\"1\" fill=\"\(hex(theme.quiet))\" opacity=\"0.6\"/>")
        }
    }

    private mutating func draw(item: String) {
        paper.down(5)
        let top = paper.y
        write(item, .body, left: 16 + size(.body) * 0.85)
        paper.put("<rect x=\"18\" y=\"\(n(top + size(.body) * 0.53))\" width=\"\(n(size(.body) * 0.33))\" height=\"1.5\" fill=\"\(hex(paper.theme.text))\"/>")
    }

    /// The value at the right where both fit on a line, else below its name.
    private mutating func draw(_ figure: Figure) {
        let type = size(.body)
        paper.down(7)
        let names = breadth(figure.name, size: type, bold: false), values = breadth(figure.value, size: type, bold: true)
        if names + values + type < 358 {
            let before = paper.y
            write(figure.name, .body)
            let base = before + type * 0.98
            paper.put("<text x=\"374\" y=\"\(n(base))\" text-anchor=\"end\" font-size=\"\(n(type))\" font-weight=\"700\" fill=\"\(hex(paper.theme.text))\">\(escaped(figure.value))</text>")
        } else {
            write(figure.name, .body)
            write(figure.value, .body, bold: true)
        }
        if !figure.note.isEmpty { write(figure.note, .small, ink: paper.theme.quiet) }
        paper.put("<rect x=\"16\" y=\"\(n(paper.y + 3))\" width=\"358\" height=\"1\" fill=\"\(hex(paper.theme.quiet))\" opacity=\"0.3\"/>")
    }

    private mutating func box(_ text: String, behind unit: String) {
        paper.down(4)
        let height = max(44, size(.body) * 1.6)
        paper.put("<rect x=\"16\" y=\"\(n(paper.y))\" width=\"358\" height=\"\(n(height))\" rx=\"6\" fill=\"none\" stroke=\"\(hex(paper.theme.quiet))\" stroke-width=\"1.5\"/>")
        let base = paper.y + height / 2 + size(.body) * 0.35
        paper.put("<text x=\"26\" y=\"\(n(base))\" font-size=\"\(n(size(.body)))\" fill=\"\(hex(paper.theme.text))\">\(escaped(text))</text>")
        paper.put("<text x=\"364\" y=\"\(n(base))\" text-anchor=\"end\" font-size=\"\(n(size(.body)))\" fill=\"\(hex(paper.theme.quiet))\">\(escaped(unit))</text>")
        paper.down(height)
    }

    private mutating func draw(_ button: Button) {
        let theme = paper.theme
        paper.down(10)
        let type = size(.body)
        let inner = paper.height(button.name, size: type, bold: button.isMain, room: 334)
        let height = max(night ? 60 : 48, inner + 18)
        let ground = button.isMain ? hex(theme.accent) : "none"
        paper.put("<rect x=\"16\" y=\"\(n(paper.y))\" width=\"358\" height=\"\(n(height))\" rx=\"10\" fill=\"\(ground)\" stroke=\"\(hex(theme.accent))\" stroke-width=\"1.5\"/>")
        let rest = (height - inner) / 2
        paper.down(rest)
        paper.write(button.name, size: type, ink: button.isMain ? theme.paper : theme.accent, bold: button.isMain, left: 28, right: 28, middle: true)
        paper.down(rest)
    }

    private mutating func draw(_ drawing: Drawing) {
        paper.down(10)
        paper.put("<g transform=\"translate(16 \(n(paper.y)))\" role=\"img\" aria-label=\"\(escaped(drawing.text))\">")
        for mark in drawing.marks { paper.put(svg(mark)) }
        paper.put("</g>")
        paper.down(drawing.height)
        for one in drawing.legend {
            let middle = paper.y + size(.small) * 0.64
            paper.put("<g transform=\"translate(18 \(n(middle - 8)))\">")
            for mark in one.sample(width: 28, height: 16) { paper.put(svg(mark)) }
            paper.put("</g>")
            write(one.name, .small, left: 56)
        }
        for noted in drawing.noted { write(noted, .small) }
    }

    private func svg(_ mark: Mark) -> String {
        let ink = hex(paper.theme.ink(mark.role))
        func places(_ all: [Place]) -> String { all.map { n($0.x) + "," + n($0.y) }.joined(separator: " ") }
        switch mark.shape {
        case .line(let all, let dashes, let width):
            let gaps = dashes.isEmpty ? "" : " stroke-dasharray=\"\(dashes.map(n).joined(separator: " "))\""
            return "<polyline points=\"\(places(all))\" fill=\"none\" stroke=\"\(ink)\" stroke-width=\"\(n(width))\"\(gaps)/>"
        case .area(let all): return "<polygon points=\"\(places(all))\" fill=\"\(hex(paper.theme.fill(mark.role)))\"/>"
        case .dot(let at, let radius): return "<circle cx=\"\(n(at.x))\" cy=\"\(n(at.y))\" r=\"\(n(radius))\" fill=\"\(ink)\"/>"
        case .diamond(let at, let radius):
            return "<polygon points=\"\(places(Shape.corners(of: at, radius: radius)))\" fill=\"\(hex(paper.theme.paper))\" stroke=\"\(ink)\" stroke-width=\"2\"/>"
        case .text(let text, let at, let anchor, let size):
            let name = switch anchor { case .start: "start"; case .middle: "middle"; case .end: "end" }
            return "<text x=\"\(n(at.x))\" y=\"\(n(at.y))\" font-size=\"\(n(size))\" text-anchor=\"\(name)\" fill=\"\(ink)\">\(escaped(text))</text>"
        }
    }

    /// The names of the screens; the one that is shown is in heavier type and underlined.
    private mutating func tabs(_ names: [String], here: String) {
        paper.down(22)
        paper.put("<rect x=\"0\" y=\"\(n(paper.y))\" width=\"390\" height=\"1\" fill=\"\(hex(paper.theme.quiet))\"/>")
        // Tab names stop growing early, as the system's do.
        let room = 390.0 / Double(names.count)
        let most = names.map { breadth($0, size: 1, bold: true) }.max() ?? 1
        let type = min(largest ? 14.0 : 11, (room - 4) / most)
        for (index, name) in names.enumerated() {
            let x = room * (Double(index) + 0.5)
            let weight = name == here ? " font-weight=\"700\" text-decoration=\"underline\"" : ""
            paper.put("<text x=\"\(n(x))\" y=\"\(n(paper.y + 26))\" text-anchor=\"middle\" font-size=\"\(n(type))\"\(weight) fill=\"\(hex(paper.theme.text))\">\(escaped(name))</text>")
        }
        paper.down(44)
    }
}
