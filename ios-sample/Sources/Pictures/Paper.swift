import Presenters

/// A page of SVG that grows downwards.
struct Paper {
    let width: Double
    let theme: Theme
    private(set) var y = 0.0
    private var body = ""

    init(width: Double, theme: Theme) { (self.width, self.theme) = (width, theme) }

    mutating func down(_ points: Double) { y += points }

    mutating func put(_ element: String) { body += element + "\n" }

    /// Text in lines no longer than the room; returns how many.
    @discardableResult
    mutating func write(
        _ text: String, size: Double, ink: Ink, bold: Bool = false, left: Double, right: Double, middle: Bool = false
    ) -> Int {
        let lines = wrap(text, size: size, bold: bold, room: width - left - right)
        for line in lines {
            y += size * 1.28
            let (x, anchor) = middle ? ((left + width - right) / 2, " text-anchor=\"middle\"") : (left, "")
            put("<text x=\"\(n(x))\" y=\"\(n(y - size * 0.3))\" font-size=\"\(n(size))\"\(anchor)\(bold ? " font-weight=\"700\"" : "") fill=\"\(hex(ink))\">\(escaped(line))</text>")
        }
        return lines.count
    }

    /// The height a text would take.
    func height(_ text: String, size: Double, bold: Bool = false, room: Double) -> Double {
        Double(wrap(text, size: size, bold: bold, room: room).count) * size * 1.28
    }

    func finished(title: String) -> String {
        """
        <svg xmlns="http://www.w3.org/2000/svg" width="\(n(width))" height="\(n(y))" viewBox="0 0 \(n(width)) \(n(y))" \
        font-family="DejaVu Sans, Verdana, sans-serif">
        <title>\(escaped(title))</title>
        <rect width="100%" height="100%" fill="\(hex(theme.paper))"/>
        \(body)</svg>

        """
    }
}

/// Breaks a text between words, and within one that is longer than a line.
func wrap(_ text: String, size: Double, bold: Bool, room: Double) -> [String] {
    var lines: [String] = []
    for paragraph in text.split(separator: "\n", omittingEmptySubsequences: false) {
        var line = ""
        for word in paragraph.split(separator: " ") {
            let longer = line.isEmpty ? String(word) : line + " " + word
            if breadth(longer, size: size, bold: bold) <= room {
                line = longer
                continue
            }
            if !line.isEmpty { lines.append(line) }
            line = ""
            for letter in word {
                if !line.isEmpty && breadth(line + String(letter), size: size, bold: bold) > room {
                    lines.append(line)
                    line = ""
                }
                line.append(letter)
            }
        }
        lines.append(line)
    }
    return lines
}

/// About how wide DejaVu Sans is; a little too much rather than too little.
func breadth(_ text: String, size: Double, bold: Bool) -> Double {
    let units = text.reduce(0.0) { sum, letter in
        switch letter {
        case "i", "j", "l", "I", "'", ".", ",", ":", ";", "|", " ", "!": sum + 0.33
        case "f", "t", "r", "(", ")", "/", "-": sum + 0.42
        case "m", "w", "M", "W", "%", "@": sum + 0.98
        case "A"..."Z", "Ä", "Ö", "Ü": sum + 0.72
        default: sum + 0.63
        }
    }
    return units * size * (bold ? 1.12 : 1)
}

/// A number with at most one decimal.
func n(_ number: Double) -> String {
    let tenths = (number * 10).rounded() / 10
    return tenths == tenths.rounded() ? String(Int(tenths)) : String(tenths)
}

func hex(_ ink: Ink) -> String {
    let digits = Array("0123456789abcdef")
    return [ink.red, ink.green, ink.blue].reduce("#") { text, part in
        let byte = Int((part * 255).rounded())
        return text + String(digits[byte / 16]) + String(digits[byte % 16])
    }
}

func escaped(_ text: String) -> String {
    text.map { ["&": "&amp;", "<": "&lt;", ">": "&gt;", "\"": "&quot;"][$0] ?? String($0) }.joined()
}
