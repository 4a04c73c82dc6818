import Ebbstead

/// A chart as marks on a sheet, for any canvas. Lengths are in points, from the upper left corner.
public struct Drawing: Equatable, Sendable {
    public var width: Double
    public var height: Double
    /// In the order to draw them.
    public var marks: [Mark]
    /// What the marks stand for; each name stands behind a sample of its mark.
    public var legend: [Legend]
    /// What was noted in the time shown, with the letter that marks it.
    public var noted: [String]
    /// The chart in words, for a screen reader. The marks are hidden from it.
    public var text: String

    public struct Legend: Equatable, Sendable {
        public var role: Role
        public var name: String
    }
}

/// What a mark is there for; a theme gives it its ink. No two roles differ by ink alone.
public enum Role: Equatable, Sendable, CaseIterable {
    case scale, now, low, floor, high, band, path, treated, reading, meter, noted
    /// An hour's readings over many days, and the notch that is cut into it at their middle.
    case hour, hourMiddle
}

public struct Place: Equatable, Sendable {
    public var x: Double
    public var y: Double
}

public struct Mark: Equatable, Sendable {
    public var role: Role
    public var shape: Shape
}

public enum Shape: Equatable, Sendable {
    /// Lengths of dash and gap; none for a line without gaps.
    case line([Place], dashes: [Double], width: Double)
    /// A closed surface, filled.
    case area([Place])
    /// A disc.
    case dot(Place, radius: Double)
    /// A square on its corner, with an edge as wide as a line.
    case diamond(Place, radius: Double)
    case text(String, Place, anchor: Anchor, size: Double)
}

public enum Anchor: Equatable, Sendable {
    case start, middle, end
}

extension Drawing {
    /// Lays a chart out on a sheet of a width, in type of a size. Places are the core's minutes and mg/dL in straight
    /// proportion; nothing is worked out from them.
    public init(_ chart: Chart, width: Double, typeSize: Double) {
        // Very large type would leave no room for the chart; what it says is in the text below it in full size.
        let typeSize = min(typeSize, width / 17)
        let left = typeSize * 2.8
        let right = typeSize * 0.8
        let top = typeSize
        let bottom = typeSize * 2.4
        let height = max(width * 0.62, typeSize * 14)
        let inner = (width: width - left - right, height: height - top - bottom)
        let minutes = max(chart.untilMinutes - chart.fromMinutes, 1)
        let span = max(chart.highestMgDl - chart.lowestMgDl, 1)

        func x(_ minute: Double) -> Double { left + (minute - chart.fromMinutes) / minutes * inner.width }
        func y(_ mgDl: Double) -> Double {
            let held = min(max(mgDl, chart.lowestMgDl), chart.highestMgDl)
            return top + (chart.highestMgDl - held) / span * inner.height
        }
        let foot = top + inner.height
        var marks: [Mark] = []
        func add(_ role: Role, _ shape: Shape) { marks.append(Mark(role: role, shape: shape)) }
        func across(_ mgDl: Double, _ role: Role, dashes: [Double], width stroke: Double) {
            add(role, .line([Place(x: left, y: y(mgDl)), Place(x: left + inner.width, y: y(mgDl))], dashes: dashes, width: stroke))
        }

        // Behind everything: the band, as a surface with an edge of its own.
        let ahead = chart.path.filter { $0.minutes <= chart.untilMinutes }
        if ahead.count > 1 {
            let upper = ahead.map { Place(x: x($0.minutes), y: y($0.p95MgDl)) }
            let lower = ahead.map { Place(x: x($0.minutes), y: y($0.p5MgDl)) }
            add(.band, .area(upper + lower.reversed()))
            add(.band, .line(upper, dashes: [], width: 1))
            add(.band, .line(lower, dashes: [], width: 1))
        }
        // The scales.
        add(.scale, .line([Place(x: left, y: foot), Place(x: left + inner.width, y: foot)], dashes: [], width: 1))
        let apart = typeSize * 1.15
        let linePlaces = chart.lines.map { y($0.mgDl) }
        for mark in chart.amounts where linePlaces.allSatisfy({ abs($0 - y(mark.value)) > 0.5 }) {
            across(mark.value, .scale, dashes: [1, 5], width: 0.5)
        }
        var written: [Double] = []
        for mark in chart.amounts where written.allSatisfy({ abs($0 - y(mark.value)) >= apart }) {
            written.append(y(mark.value))
            add(.scale, .text(mark.text, Place(x: left - typeSize * 0.4, y: y(mark.value) + typeSize * 0.35), anchor: .end, size: typeSize))
        }
        // Times are left out where large type leaves no room; the present always stays.
        var taken: [ClosedRange<Double>] = []
        for mark in chart.times.sorted(by: { abs($0.value) < abs($1.value) }) {
            let half = Double(mark.text.count) * typeSize * 0.3
            let at = min(max(x(mark.value), half), width - half)
            let room = (at - half - typeSize * 0.2)...(at + half + typeSize * 0.2)
            guard taken.allSatisfy({ !$0.overlaps(room) }) else { continue }
            taken.append(room)
            add(.scale, .line([Place(x: x(mark.value), y: foot), Place(x: x(mark.value), y: foot + typeSize * 0.3)], dashes: [], width: 1))
            add(.scale, .text(mark.text, Place(x: at, y: foot + typeSize * 1.4), anchor: .middle, size: typeSize))
        }
        add(.now, .line([Place(x: x(0), y: top), Place(x: x(0), y: foot)], dashes: [2, 4], width: 1))
        // The lines, each with dashes of its own; named in the legend, and beside the line as well where there is room for it.
        let readings = chart.readings.map { Place(x: x($0.minutes), y: y($0.mgDl)) }
        let inTheWay = readings + ahead.map { Place(x: x($0.minutes), y: y($0.mgDl)) }
        var named: [Legend] = []
        for line in chart.lines {
            let (role, dashes) = Self.look(of: line.kind)
            across(line.mgDl, role, dashes: dashes, width: 1.5)
            named.append(Legend(role: role, name: line.text))
            let length = Double(line.text.count) * typeSize * 0.55
            let places = [-typeSize * 0.35, typeSize * 1.05].flatMap { step in
                [(left + typeSize * 0.3, Anchor.start), (left + inner.width, .end)].map { ($0.0, $0.1, y(line.mgDl) + step) }
            }
            let free = places.first { at, anchor, level in
                let from = anchor == .start ? at : at - length
                let middle = level - typeSize * 0.35
                return level < foot && middle > top
                    && linePlaces.allSatisfy { abs($0 - middle) > typeSize * 0.55 }
                    && !(from - 2...from + length + 2).contains(x(0))
                    && inTheWay.allSatisfy { $0.x < from - 4 || $0.x > from + length + 4 || abs($0.y - middle) > typeSize }
            }
            if let (at, anchor, level) = free {
                add(role, .text(line.text, Place(x: at, y: level), anchor: anchor, size: typeSize * 0.9))
            }
        }
        if ahead.count > 1 {
            add(.path, .line(ahead.map { Place(x: x($0.minutes), y: y($0.mgDl)) }, dashes: [6, 3], width: 2))
        }
        if chart.treated.count > 1 {
            add(.treated, .line(chart.treated.map { Place(x: x($0.minutes), y: y($0.mgDl)) }, dashes: Self.dots, width: 3))
        }
        for reading in chart.readings {
            add(.reading, .dot(Place(x: x(reading.minutes), y: y(reading.mgDl)), radius: 2.4))
        }
        for meter in chart.meters {
            add(.meter, .diamond(Place(x: x(meter.minutes), y: y(meter.mgDl)), radius: 6))
        }
        // What was noted: a letter at the head of the chart, and below it what the letter stands for.
        var noted: [String] = []
        var heads: [Double] = []
        for (one, letter) in zip(chart.noted, "abcdefghijklmnopqrstuvwxyz") {
            // Two at nearly one time stand side by side; each step goes further right, so this ends.
            var at = x(one.minutes)
            while let near = heads.first(where: { abs($0 - at) < typeSize * 0.7 }) { at = near + typeSize * 0.75 }
            heads.append(at)
            add(.noted, .text(String(letter), Place(x: at, y: top * 0.8), anchor: .middle, size: typeSize * 0.9))
            noted.append("\(letter)  \(one.text)")
        }

        // The core names all; those that are not drawn need no name.
        let drawn: [(Role, Bool)] = [
            (.reading, !chart.readings.isEmpty), (.meter, !chart.meters.isEmpty), (.path, ahead.count > 1),
            (.band, ahead.count > 1), (.treated, chart.treated.count > 1),
        ]
        let legend = zip(drawn, chart.legend).filter(\.0.1).map { Legend(role: $0.0, name: $1) }
        self.init(width: width, height: height, marks: marks, legend: legend + named, noted: noted, text: chart.text)
    }
}

extension Drawing {
    /// The path if treated now: unlike every other line.
    static let dots: [Double] = [1, 6]

    static func look(of line: LineKind) -> (Role, dashes: [Double]) {
        switch line {
        case .low: (.low, [10, 4])
        case .floor: (.floor, [])
        case .high: (.high, [3, 3])
        }
    }
}

extension Drawing.Legend {
    /// A sample of the mark, on a sheet of its own.
    public func sample(width: Double, height: Double) -> [Mark] {
        let middle = Place(x: width / 2, y: height / 2)
        if role == .hour {
            let ends = (most: 0.0, upper: height * 0.2, middle: height * 0.5, lower: height * 0.8, least: height)
            return Drawing.post(at: width / 2, ends, width: 8)
        }
        func across(_ y: Double) -> [Place] { [Place(x: 0, y: y), Place(x: width, y: y)] }
        let (upper, lower) = (across(height / 2 - 5), across(height / 2 + 5))
        let shapes: [Shape] =
            switch role {
            case .reading: [.dot(middle, radius: 2.4)]
            case .meter: [.diamond(middle, radius: 6)]
            case .band: [.area(upper + lower.reversed()), .line(upper, dashes: [], width: 1), .line(lower, dashes: [], width: 1)]
            case .low: [.line(across(height / 2), dashes: Drawing.look(of: .low).dashes, width: 1.5)]
            case .floor: [.line(across(height / 2), dashes: Drawing.look(of: .floor).dashes, width: 1.5)]
            case .high: [.line(across(height / 2), dashes: Drawing.look(of: .high).dashes, width: 1.5)]
            case .treated: [.line(across(height / 2), dashes: Drawing.dots, width: 3)]
            default: [.line(across(height / 2), dashes: [6, 3], width: 2)]
            }
        return shapes.map { Mark(role: role, shape: $0) }
    }
}

extension Shape {
    /// The corners of a diamond.
    public static func corners(of at: Place, radius: Double) -> [Place] {
        [
            Place(x: at.x, y: at.y - radius), Place(x: at.x + radius, y: at.y), Place(x: at.x, y: at.y + radius),
            Place(x: at.x - radius, y: at.y),
        ]
    }
}
