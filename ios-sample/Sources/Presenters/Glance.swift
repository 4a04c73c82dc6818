import Ebbstead
import Foundation

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
