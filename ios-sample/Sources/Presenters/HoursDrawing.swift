import Ebbstead

extension Drawing {
    /// The hours of a day laid out on a sheet of a width, in type of a size: a post for each hour, its thick part, a notch.
    /// Places are the core's hours and mg/dL in straight proportion; nothing is worked out from them.
    public init(_ day: DayChart, width: Double, typeSize: Double) {
        let typeSize = min(typeSize, width / 17)
        let left = typeSize * 2.8
        let top = typeSize
        let height = max(width * 0.62, typeSize * 14)
        let foot = height - typeSize * 2
        let inner = width - left - typeSize * 0.4
        let span = max(day.highestMgDl - day.lowestMgDl, 1)
        func x(_ hours: Double) -> Double { left + inner * hours / 24 }
        func y(_ mgDl: Double) -> Double { top + (day.highestMgDl - min(max(mgDl, day.lowestMgDl), day.highestMgDl)) / span * (foot - top) }
        var marks: [Mark] = []
        func add(_ role: Role, _ shape: Shape) { marks.append(Mark(role: role, shape: shape)) }
        func across(_ mgDl: Double, _ role: Role, dashes: [Double], width stroke: Double) {
            add(role, .line([Place(x: left, y: y(mgDl)), Place(x: left + inner, y: y(mgDl))], dashes: dashes, width: stroke))
        }

        add(.scale, .line([Place(x: left, y: foot), Place(x: left + inner, y: foot)], dashes: [], width: 1))
        var written: [Double] = []
        for mark in day.amounts where written.allSatisfy({ abs($0 - y(mark.value)) >= typeSize * 1.15 }) {
            written.append(y(mark.value))
            across(mark.value, .scale, dashes: [1, 5], width: 0.5)
            add(.scale, .text(mark.text, Place(x: left - typeSize * 0.4, y: y(mark.value) + typeSize * 0.35), anchor: .end, size: typeSize))
        }
        var free = 0.0
        for mark in day.times {
            let half = Double(mark.text.count) * typeSize * 0.3
            let at = min(max(x(mark.value), half), width - half)
            add(.scale, .line([Place(x: x(mark.value), y: foot), Place(x: x(mark.value), y: foot + typeSize * 0.3)], dashes: [], width: 1))
            guard at - half >= free else { continue }
            free = at + half + typeSize * 0.2
            add(.scale, .text(mark.text, Place(x: at, y: foot + typeSize * 1.4), anchor: .middle, size: typeSize))
        }
        for line in day.lines {
            let (role, dashes) = Self.look(of: line.kind)
            across(line.mgDl, role, dashes: dashes, width: 1.5)
        }
        let thick = inner / 24 * 0.55
        for post in day.posts {
            let ends = (most: y(post.p90MgDl), upper: y(post.p75MgDl), middle: y(post.p50MgDl), lower: y(post.p25MgDl), least: y(post.p10MgDl))
            marks += Self.post(at: x(post.hours), ends, width: thick)
        }
        let shown = day.posts.isEmpty ? [] : [Legend(role: .hour, name: day.legend)]
        self.init(
            width: width, height: height, marks: marks,
            legend: shown + day.lines.map { Legend(role: Self.look(of: $0.kind).0, name: $0.text) }, noted: [], text: day.text)
    }

    /// An hour's post. The notch is cut through the thick part in the paper's ink; where that is too thin to be cut, it is made thicker.
    static func post(
        at x: Double, _ ends: (most: Double, upper: Double, middle: Double, lower: Double, least: Double), width: Double
    ) -> [Mark] {
        let (upper, lower) = (min(ends.upper, ends.middle - 2), max(ends.lower, ends.middle + 2))
        let corners = [(-0.5, upper), (0.5, upper), (0.5, lower), (-0.5, lower)].map { Place(x: x + $0.0 * width, y: $0.1) }
        let notch = [Place(x: x - width * 0.5, y: ends.middle), Place(x: x + width * 0.5, y: ends.middle)]
        return [
            Mark(role: .hour, shape: .line([Place(x: x, y: ends.most), Place(x: x, y: ends.least)], dashes: [], width: 1.6)),
            Mark(role: .hour, shape: .area(corners)), Mark(role: .hourMiddle, shape: .line(notch, dashes: [], width: 2)),
        ]
    }
}
