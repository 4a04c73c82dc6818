import Ebbstead

extension Drawing {
    /// The hours of a day laid out on a sheet of a width, in type of a size: a post for each hour, its thick part, a notch.
    public init(_ day: DayChart, width: Double, typeSize: Double) {
        var plot = Plot(width: width, typeSize: typeSize, across: 0...24, up: day.lowestMgDl...day.highestMgDl, margin: (right: 0.4, bottom: 2))
        plot.amounts(day.amounts)
        plot.times(day.times)
        for line in day.lines {
            let (role, dashes) = Self.look(of: line.kind)
            plot.level(plot.y(line.mgDl), role, dashes: dashes, width: 1.5)
        }
        for post in day.posts {
            let ends = [post.p90MgDl, post.p75MgDl, post.p50MgDl, post.p25MgDl, post.p10MgDl].map(plot.y)
            plot.marks += Self.post(at: plot.x(post.hours), ends, width: (plot.right - plot.left) / 24 * 0.55)
        }
        let shown = day.posts.isEmpty ? [] : [Legend(role: .hour, name: day.legend)]
        self = plot.drawing(legend: shown + day.lines.map(Legend.init), text: day.text)
    }

    /// An hour's post between five ends, from above. The notch is cut through the thick part in the paper's ink; where that is too thin
    /// to be cut, it is made thicker.
    static func post(at x: Double, _ ends: [Double], width: Double) -> [Mark] {
        let (upper, lower) = (min(ends[1], ends[2] - 2), max(ends[3], ends[2] + 2))
        let corners = [(-0.5, upper), (0.5, upper), (0.5, lower), (-0.5, lower)].map { Place(x: x + $0.0 * width, y: $0.1) }
        let notch = [Place(x: x - width * 0.5, y: ends[2]), Place(x: x + width * 0.5, y: ends[2])]
        return [
            Mark(role: .hour, shape: .line([Place(x: x, y: ends[0]), Place(x: x, y: ends[4])], dashes: [], width: 1.6)),
            Mark(role: .hour, shape: .area(corners)), Mark(role: .hourMiddle, shape: .line(notch, dashes: [], width: 2)),
        ]
    }
}
