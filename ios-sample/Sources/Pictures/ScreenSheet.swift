import Presenters

/// Writes a screen as the app lays it out: blocks from top to bottom, and the names of the screens below.
struct ScreenSheet {
    private static let width = 390.0
    private static let margin = 16.0

    private var paper: Paper
    private let night: Double

    init(theme: Theme, scale: Double, isForNight: Bool) {
        paper = Paper(width: Self.width, theme: theme, scale: scale)
        night = isForNight ? 1.2 : 1
    }

    static func svg(_ screen: Screen, tabs: [String], dark: Bool, scale: Double) -> String {
        var sheet = ScreenSheet(theme: .of(screen, dark: dark), scale: scale, isForNight: screen.isForNight)
        sheet.paper.down(12)
        sheet.write(screen.title, 17, bold: true, ink: sheet.paper.theme.quiet)
        for block in screen.blocks { sheet.draw(block) }
        sheet.tabs(tabs, here: screen.title)
        return sheet.paper.finished(title: screen.title)
    }

    private func size(_ points: Double) -> Double { points * paper.scale * night }

    private mutating func write(_ text: String, _ points: Double, bold: Bool = false, ink: Ink? = nil, left: Double = 16, right: Double = 16) {
        paper.write(text, size: size(points), ink: ink ?? paper.theme.text, bold: bold, left: left, right: right)
    }

    private mutating func draw(_ block: Block) {
        let theme = paper.theme
        switch block {
        case .verdict(let text):
            paper.down(6)
            write(text, 32, bold: true)
        case .sentence(let text):
            paper.down(4)
            write(text, 20)
        case .text(let text):
            paper.down(8)
            write(text, 15, ink: theme.quiet)
        case .notice(let text):
            paper.down(10)
            let top = paper.y
            write(text, 16, bold: true, left: 28)
            paper.put("<rect x=\"16\" y=\"\(n(top))\" width=\"4\" height=\"\(n(paper.y - top))\" fill=\"\(hex(theme.accent))\"/>")
        case .list(let name, let items):
            paper.down(14)
            write(name, 16, bold: true)
            for item in items {
                paper.down(5)
                let top = paper.y
                write(item, 15, left: 16 + size(13))
                paper.put("<rect x=\"18\" y=\"\(n(top + size(8)))\" width=\"\(n(size(5)))\" height=\"1.5\" fill=\"\(hex(theme.text))\"/>")
            }
        case .drawing(let drawing): draw(drawing)
        case .field(let field):
            paper.down(12)
            write(field.name, 15)
            box(field.typed, behind: field.unit)
            if let advice = field.advice {
                paper.down(4)
                write(advice, 15, bold: true)
            }
        case .time(let time):
            paper.down(12)
            write(time.name, 15)
            box(time.text, behind: "")
        case .choice(let choice):
            paper.down(14)
            write(choice.name, 15)
            for option in choice.options {
                paper.down(6)
                let middle = paper.y + size(16) * 0.64
                write(option.name, 16, bold: option.isChosen, left: 16 + size(24))
                let radius = size(7)
                paper.put("<circle cx=\"\(n(17 + radius))\" cy=\"\(n(middle))\" r=\"\(n(radius))\" fill=\"none\" stroke=\"\(hex(theme.text))\" stroke-width=\"1.5\"/>")
                if option.isChosen {
                    paper.put("<circle cx=\"\(n(17 + radius))\" cy=\"\(n(middle))\" r=\"\(n(radius * 0.5))\" fill=\"\(hex(theme.accent))\"/>")
                }
            }
        case .button(let button): draw(button)
        case .entry(let row):
            paper.down(8)
            write(row.clock + "  " + row.text, 16)
            write(row.takeBack.name, 14, ink: theme.accent)
            paper.put("<rect x=\"16\" y=\"\(n(paper.y + 4))\" width=\"358\" height=\"1\" fill=\"\(hex(theme.quiet))\" opacity=\"0.4\"/>")
            paper.down(5)
        }
    }

    private mutating func box(_ text: String, behind unit: String) {
        paper.down(4)
        let height = max(44, size(17) * 1.6)
        paper.put("<rect x=\"16\" y=\"\(n(paper.y))\" width=\"358\" height=\"\(n(height))\" rx=\"6\" fill=\"none\" stroke=\"\(hex(paper.theme.quiet))\" stroke-width=\"1.5\"/>")
        let base = paper.y + height / 2 + size(17) * 0.35
        paper.put("<text x=\"26\" y=\"\(n(base))\" font-size=\"\(n(size(17)))\" fill=\"\(hex(paper.theme.text))\">\(escaped(text))</text>")
        paper.put("<text x=\"364\" y=\"\(n(base))\" text-anchor=\"end\" font-size=\"\(n(size(15)))\" fill=\"\(hex(paper.theme.quiet))\">\(escaped(unit))</text>")
        paper.down(height)
    }

    private mutating func draw(_ button: Button) {
        let theme = paper.theme
        paper.down(10)
        let type = size(17)
        let inner = paper.height(button.name, size: type, bold: button.isMain, room: 334)
        let height = max(night > 1 ? 60 : 48, inner + 18)
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
            let middle = paper.y + size(14) * 0.64
            paper.put("<g transform=\"translate(18 \(n(middle - 8)))\">")
            for mark in one.sample(width: 28, height: 16) { paper.put(svg(mark)) }
            paper.put("</g>")
            write(one.name, 14, left: 56)
        }
        for noted in drawing.noted { write(noted, 14) }
    }

    private func svg(_ mark: Mark) -> String {
        let ink = hex(paper.theme.ink(mark.role))
        func places(_ all: [Place]) -> String { all.map { n($0.x) + "," + n($0.y) }.joined(separator: " ") }
        switch mark.shape {
        case .line(let all, let dashes, let width):
            let gaps = dashes.isEmpty ? "" : " stroke-dasharray=\"\(dashes.map(n).joined(separator: " "))\""
            return "<polyline points=\"\(places(all))\" fill=\"none\" stroke=\"\(ink)\" stroke-width=\"\(n(width))\"\(gaps)/>"
        case .area(let all): return "<polygon points=\"\(places(all))\" fill=\"\(hex(paper.theme.bandFill))\"/>"
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
        let type = 12 * min(paper.scale, 1.3)
        let room = 390.0 / Double(names.count)
        for (index, name) in names.enumerated() {
            let x = room * (Double(index) + 0.5)
            let weight = name == here ? " font-weight=\"700\" text-decoration=\"underline\"" : ""
            paper.put("<text x=\"\(n(x))\" y=\"\(n(paper.y + 26))\" text-anchor=\"middle\" font-size=\"\(n(type))\"\(weight) fill=\"\(hex(paper.theme.text))\">\(escaped(name))</text>")
        }
        paper.down(44)
    }
}
