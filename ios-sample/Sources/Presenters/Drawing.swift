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

/// A sheet that is being drawn on. Places are the core's minutes or hours and mg/dL in straight proportion; nothing is worked out
/// from them.
struct Plot {
    let width: Double
    let typeSize: Double
    let height: Double
    let left: Double
    let right: Double
    let top: Double
    let foot: Double
    private let across: ClosedRange<Double>
    private let up: ClosedRange<Double>
    var marks: [Mark] = []

    init(width: Double, typeSize: Double, across: ClosedRange<Double>, up: ClosedRange<Double>, margin: (right: Double, bottom: Double)) {
        // Very large type would leave no room for the chart; what it says is in the text below it in full size.
        let typeSize = min(typeSize, width / 17)
        (self.width, self.typeSize, height) = (width, typeSize, max(width * 0.62, typeSize * 14))
        (left, right, top, foot) = (typeSize * 2.8, width - typeSize * margin.right, typeSize, height - typeSize * margin.bottom)
        (self.across, self.up) = (across, up)
    }

    func x(_ place: Double) -> Double { left + (place - across.lowerBound) / max(across.upperBound - across.lowerBound, 1) * (right - left) }
    func y(_ mgDl: Double) -> Double {
        top + (up.upperBound - min(max(mgDl, up.lowerBound), up.upperBound)) / max(up.upperBound - up.lowerBound, 1) * (foot - top)
    }

    mutating func add(_ role: Role, _ shape: Shape) { marks.append(Mark(role: role, shape: shape)) }

    mutating func level(_ y: Double, _ role: Role, dashes: [Double], width stroke: Double) {
        add(role, .line([Place(x: left, y: y), Place(x: right, y: y)], dashes: dashes, width: stroke))
    }

    /// The amounts at the side, as far as they have room, each with a faint line unless a line of the wearer's lies there.
    mutating func amounts(_ amounts: [Tick], besides lines: [Double] = []) {
        level(foot, .scale, dashes: [], width: 1)
        var written: [Double] = []
        for (mark, at) in amounts.map({ ($0, y($0.value)) }) where written.allSatisfy({ abs($0 - at) >= typeSize * 1.15 }) {
            written.append(at)
            if lines.allSatisfy({ abs($0 - at) > 0.5 }) { level(at, .scale, dashes: [1, 5], width: 0.5) }
            add(.scale, .text(mark.text, Place(x: left - typeSize * 0.4, y: at + typeSize * 0.35), anchor: .end, size: typeSize))
        }
    }

    /// The times at the foot, the most important first: large type leaves the others out.
    mutating func times(_ times: [Tick]) {
        var taken: [ClosedRange<Double>] = []
        for mark in times {
            let half = Double(mark.text.count) * typeSize * 0.3
            let at = min(max(x(mark.value), half), width - half)
            let room = (at - half - typeSize * 0.1)...(at + half + typeSize * 0.1)
            guard taken.allSatisfy({ !$0.overlaps(room) }) else { continue }
            taken.append(room)
            add(.scale, .line([Place(x: x(mark.value), y: foot), Place(x: x(mark.value), y: foot + typeSize * 0.3)], dashes: [], width: 1))
            add(.scale, .text(mark.text, Place(x: at, y: foot + typeSize * 1.4), anchor: .middle, size: typeSize))
        }
    }

    func drawing(legend: [Drawing.Legend], noted: [String] = [], text: String) -> Drawing {
        Drawing(width: width, height: height, marks: marks, legend: legend, noted: noted, text: text)
    }
}

extension Drawing {
    /// Lays a chart out on a sheet of a width, in type of a size.
    public init(_ chart: Chart, width: Double, typeSize: Double) {
        var plot = Plot(
            width: width, typeSize: typeSize, across: chart.fromMinutes...chart.untilMinutes, up: chart.lowestMgDl...chart.highestMgDl,
            margin: (right: 0.8, bottom: 2.4))
        func place(_ minutes: Double, _ mgDl: Double) -> Place { Place(x: plot.x(minutes), y: plot.y(mgDl)) }
        // Behind everything: the band, as a surface with an edge of its own.
        let ahead = chart.path.filter { $0.minutes <= chart.untilMinutes }
        let path = ahead.map { place($0.minutes, $0.mgDl) }
        if ahead.count > 1 {
            let (upper, lower) = (ahead.map { place($0.minutes, $0.p95MgDl) }, ahead.map { place($0.minutes, $0.p5MgDl) })
            plot.add(.band, .area(upper + lower.reversed()))
            for edge in [upper, lower] { plot.add(.band, .line(edge, dashes: [], width: 1)) }
        }
        plot.amounts(chart.amounts, besides: chart.lines.map { plot.y($0.mgDl) })
        // The present always stays.
        plot.times(chart.times.sorted { abs($0.value) < abs($1.value) })
        plot.add(.now, .line([Place(x: plot.x(0), y: plot.top), Place(x: plot.x(0), y: plot.foot)], dashes: [2, 4], width: 1))
        let readings = chart.readings.map { place($0.minutes, $0.mgDl) }
        plot.name(chart.lines, awayFrom: readings + path, now: plot.x(0))
        if path.count > 1 { plot.add(.path, .line(path, dashes: [6, 3], width: 2)) }
        // Both futures have their names on the drawing.
        let treated = chart.treated.map { place($0.minutes, $0.mgDl) }
        if treated.count > 1 { plot.add(.treated, .line(treated, dashes: Self.dots, width: 3)) }
        if chart.legend.count > 4 {
            let levels = chart.lines.map { plot.y($0.mgDl) }
            plot.name(chart.legend[2], .path, along: path, awayFrom: readings + path + treated, levels)
            plot.name(chart.legend[4], .treated, along: treated, awayFrom: readings + path + treated, levels)
        }
        for reading in readings { plot.add(.reading, .dot(reading, radius: 2.4)) }
        for meter in chart.meters { plot.add(.meter, .diamond(place(meter.minutes, meter.mgDl), radius: 6)) }
        // What was noted: a letter at the head of the chart, and below it what the letter stands for.
        var (noted, heads): ([String], [Double]) = ([], [])
        for (one, letter) in zip(chart.noted, "abcdefghijklmnopqrstuvwxyz") {
            // Two at nearly one time stand side by side; each step goes further right, so this ends.
            var at = plot.x(one.minutes)
            while let near = heads.first(where: { abs($0 - at) < plot.typeSize * 0.7 }) { at = near + plot.typeSize * 0.75 }
            heads.append(at)
            plot.add(.noted, .text(String(letter), Place(x: at, y: plot.top * 0.8), anchor: .middle, size: plot.typeSize * 0.9))
            noted.append("\(letter)  \(one.text)")
        }
        // The core names all; those that are not drawn need no name.
        let drawn: [(Role, Bool)] = [
            (.reading, !chart.readings.isEmpty), (.meter, !chart.meters.isEmpty), (.path, path.count > 1), (.band, path.count > 1),
            (.treated, chart.treated.count > 1),
        ]
        let legend = zip(drawn, chart.legend).filter(\.0.1).map { Legend(role: $0.0, name: $1) }
        self = plot.drawing(legend: legend + chart.lines.map(Legend.init), noted: noted, text: chart.text)
    }
}

extension Plot {
    /// A curve's name above or below it, as near to its end as there is room.
    fileprivate mutating func name(_ text: String, _ role: Role, along curve: [Place], awayFrom inTheWay: [Place], _ levels: [Double]) {
        let size = typeSize * 0.9
        let length = Double(text.count) * size * 0.55
        let written = marks.compactMap { mark -> (from: Double, to: Double, y: Double)? in
            guard case .text(let text, let at, let anchor, let size) = mark.shape else { return nil }
            let length = Double(text.count) * size * 0.55
            let start = switch anchor { case .start: at.x; case .middle: at.x - length / 2; case .end: at.x - length }
            return (start, start + length, at.y)
        }
        let places = curve.reversed().flatMap { end in [-0.6, 1.3].map { Place(x: end.x, y: end.y + $0 * typeSize) } }
        func isFree(_ at: Place) -> Bool {
            let (from, middle) = (at.x - length, at.y - size * 0.35)
            return from > left && at.y < foot && middle > top && levels.allSatisfy { abs($0 - middle) > size * 0.5 }
                && inTheWay.allSatisfy { $0.x < from - 4 || $0.x > at.x + 4 || abs($0.y - middle) > size * 0.55 }
                && written.allSatisfy { $0.to < from || $0.from > at.x || abs($0.y - at.y) > size }
        }
        // Better in the future than across the present.
        let ahead = places.first { $0.x - length > curve[0].x && isFree($0) }
        if let free = ahead ?? places.first(where: isFree) { add(role, .text(text, free, anchor: .end, size: size)) }
    }

    /// The wearer's lines, each with dashes of its own; named in the legend, and beside the line as well where there is room for it.
    fileprivate mutating func name(_ lines: [DrawnLine], awayFrom inTheWay: [Place], now: Double) {
        let levels = lines.map { y($0.mgDl) }
        for line in lines {
            let (role, dashes) = Drawing.look(of: line.kind)
            level(y(line.mgDl), role, dashes: dashes, width: 1.5)
            let length = Double(line.text.count) * typeSize * 0.55
            let places = [-typeSize * 0.35, typeSize * 1.05].flatMap { step in
                [(left + typeSize * 0.3, Anchor.start), (right, .end)].map { ($0.0, $0.1, y(line.mgDl) + step) }
            }
            let free = places.first { at, anchor, level in
                let from = anchor == .start ? at : at - length
                let middle = level - typeSize * 0.35
                return level < foot && middle > top && levels.allSatisfy { abs($0 - middle) > typeSize * 0.55 } && !(from - 2...from + length + 2).contains(now)
                    && inTheWay.allSatisfy { $0.x < from - 4 || $0.x > from + length + 4 || abs($0.y - middle) > typeSize }
            }
            if let (at, anchor, level) = free { add(role, .text(line.text, Place(x: at, y: level), anchor: anchor, size: typeSize * 0.9)) }
        }
    }
}

extension Drawing.Legend {
    init(_ line: DrawnLine) { self.init(role: Drawing.look(of: line.kind).0, name: line.text) }
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
        if role == .hour { return Drawing.post(at: width / 2, [0, 0.2, 0.5, 0.8, 1].map { $0 * height }, width: 8) }
        func across(_ by: Double) -> [Place] { [Place(x: 0, y: height / 2 + by), Place(x: width, y: height / 2 + by)] }
        func line(_ dashes: [Double], _ stroke: Double) -> [Shape] { [.line(across(0), dashes: dashes, width: stroke)] }
        let (upper, lower) = (across(-5), across(5))
        let shapes: [Shape] =
            switch role {
            case .reading: [.dot(middle, radius: 2.4)]
            case .meter: [.diamond(middle, radius: 6)]
            case .band: [.area(upper + lower.reversed()), .line(upper, dashes: [], width: 1), .line(lower, dashes: [], width: 1)]
            case .low: line(Drawing.look(of: .low).dashes, 1.5)
            case .floor: line(Drawing.look(of: .floor).dashes, 1.5)
            case .high: line(Drawing.look(of: .high).dashes, 1.5)
            case .treated: line(Drawing.dots, 3)
            default: line([6, 3], 2)
            }
        return shapes.map { Mark(role: role, shape: $0) }
    }
}

extension Shape {
    /// The corners of a diamond.
    public static func corners(of at: Place, radius: Double) -> [Place] {
        [(0.0, -1.0), (1, 0), (0, 1), (-1, 0)].map { Place(x: at.x + $0.0 * radius, y: at.y + $0.1 * radius) }
    }
}
