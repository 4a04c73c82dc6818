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

/// Breaks a text between words, and one that is longer than a line where it may be broken.
func wrap(_ text: String, size: Double, bold: Bool, room: Double) -> [String] {
    func fits(_ text: String) -> Bool { breadth(text, size: size, bold: bold) <= room }
    var lines: [String] = []
    for paragraph in text.split(separator: "\n", omittingEmptySubsequences: false) {
        var line = ""
        for word in paragraph.split(separator: " ") {
            let longer = line.isEmpty ? String(word) : line + " " + word
            if fits(longer) {
                line = longer
                continue
            }
            if fits(String(word)) {
                lines.append(line)
                line = String(word)
                continue
            }
            // As much of it as there is room for goes behind what is there already.
            if !line.isEmpty { line += " " }
            var rest = breakable(afterHyphens(word)).split(separator: "\u{AD}").map(String.init)
            while !rest.isEmpty {
                let most = (0...rest.count).last { count in
                    fits(hyphenated(line + rest.prefix(count).joined(), isWhole: count == rest.count))
                } ?? 0
                if most == 0 && line.isEmpty {
                    // A piece without a place to break; no sign goes to the next line alone.
                    var letters = rest[0].indices.last { fits(String(rest[0][...$0])) } ?? rest[0].startIndex
                    let over = rest[0][letters...].dropFirst()
                    if over.allSatisfy({ ".,;:!?)".contains($0) }), let end = rest[0].indices.last { letters = end }
                    line = String(rest[0][...letters])
                    rest[0] = String(rest[0][letters...].dropFirst())
                    if rest[0].isEmpty { rest.removeFirst() }
                    if rest.isEmpty { break }
                    lines.append(line)
                    line = ""
                    continue
                }
                line += rest.prefix(most).joined()
                rest.removeFirst(most)
                if rest.isEmpty { break }
                lines.append(most > 0 ? hyphenated(line, isWhole: false) : String(line.dropLast(line.hasSuffix(" ") ? 1 : 0)))
                line = ""
            }
        }
        lines.append(line)
    }
    return lines
}

/// With a hyphen at a line's end, where there is none already.
private func hyphenated(_ text: String, isWhole: Bool) -> String { isWhole || text.hasSuffix("-") ? text : text + "-" }

/// A word may break behind its own hyphens, if letters follow.
private func afterHyphens(_ word: Substring) -> String {
    zip(word, word.dropFirst()).reduce(into: word.first.map { String($0) } ?? "") { made, pair in
        made += (pair.0 == "-" && pair.1.isLetter ? "\u{AD}" : "") + String(pair.1)
    }
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
