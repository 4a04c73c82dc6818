import Ebbstead
import Foundation

/// What a widget shows from a time on. The core is asked ahead for each minute, so that the age of a reading stays right without the
/// app, and an old number is never shown as new.
public struct Glance: Codable, Equatable, Sendable {
    public var from: Date
    public var headline: Headline

    /// Minutes, far beyond the age at which the core calls a reading too old.
    private static let minutes: UInt16 = 60

    /// From now until the core calls the newest reading too old to act on: from there on its amount is left out.
    public static func ahead(_ companion: EbbsteadCompanion, from now: Moment) throws -> [Glance] {
        try companion.check().glances(now: now, minutes: minutes).map {
            let headline = Headline(tone: Tone($0.verdict), word: $0.word, sentence: $0.sentence, amount: $0.amount, accessory: $0.accessory)
            return Glance(from: Date(timeIntervalSince1970: Double($0.from.unixMs) / 1000), headline: headline)
        }
    }

    /// Says whether anything in them is new.
    public static func keep(_ glances: [Glance], in file: URL) -> Bool {
        if !glances.isEmpty, kept(in: file).suffix(glances.count) == glances[...] { return false }
        try? JSONEncoder().encode(glances).write(to: file, options: .atomic)
        return true
    }

    public static func kept(in file: URL) -> [Glance] {
        (try? Data(contentsOf: file)).flatMap { try? JSONDecoder().decode([Glance].self, from: $0) } ?? []
    }
}
