import Ebbstead

/// A chart of core's, which lays itself out once a view knows how wide it is and how large its type.
public enum Charted: Equatable, Sendable {
    case path(Chart)
    case hours(DayChart)

    /// Lengths are in points.
    public func drawing(width: Double = 358, typeSize: Double = 12) -> Drawing {
        let sheet = Sheet(width: width, typeSize: typeSize)
        let drawn: Drawing? =
            switch self {
            case .path(let chart): try? drawChart(chart: chart, sheet: sheet)
            case .hours(let day): try? drawDay(day: day, sheet: sheet)
            }
        return drawn ?? Drawing(width: width, height: 0, marks: [], legend: [], noted: [], text: text)
    }

    /// The chart in words, for a screen reader. The marks are hidden from it.
    public var text: String {
        switch self {
        case .path(let chart): chart.text
        case .hours(let day): day.text
        }
    }
}
