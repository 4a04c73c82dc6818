import Ebbstead
import Foundation

extension PromptHeadline {
    /// The reading with its age and its rate, said as one.
    public var reading: String? { amount.map { ([$0] + accessory).joined(separator: ", ") } }

    /// The edge of its block: the lower side is a wave.
    public static func edge(width: Double, height: Double) -> [SheetPoint] { (try? blockEdge(width: width, height: height)) ?? [] }
}

extension Verdict {
    /// Urgency shows as weight, never as a colour.
    public var weight: Weight { (try? verdictWeight(verdict: self)) ?? .outline }

    /// The shape of its own on a square of a side.
    public func sign(side: Double) -> [MarkShape] { (try? verdictSign(verdict: self, side: side)) ?? [] }
}

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

/// What a widget shows from a time on. The core is asked ahead for each minute, so that the age of a reading stays right without the
/// app, and an old number is never shown as new.
public typealias Glance = WidgetGlance

extension WidgetGlance {
    /// Minutes, far beyond the age at which the core calls a reading too old.
    private static let minutes: UInt16 = 60

    public var date: Date { Date(timeIntervalSince1970: Double(from.unixMs) / 1000) }

    /// From now until the core calls the newest reading too old to act on: from there on its amount is left out.
    public static func ahead(_ companion: EbbsteadCompanion, from now: Moment) throws -> [Self] {
        try companion.check().glances(now: now, minutes: minutes)
    }

    /// Says whether anything in them is new.
    public static func keep(_ glances: [Self], in file: URL) -> Bool {
        if !glances.isEmpty, kept(in: file).suffix(glances.count) == glances[...] { return false }
        try? JSONEncoder().encode(glances).write(to: file, options: .atomic)
        return true
    }

    public static func kept(in file: URL) -> [Self] {
        (try? Data(contentsOf: file)).flatMap { try? JSONDecoder().decode([Self].self, from: $0) } ?? []
    }
}
