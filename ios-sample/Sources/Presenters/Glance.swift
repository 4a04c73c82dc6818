import Ebbstead
import Foundation

/// What a widget shows from a time on. The core is asked ahead for each minute, so that the age of a reading stays right without the
/// app, and an old number is never shown as new.
public struct Glance: Codable, Equatable, Sendable {
    public var from: Date
    public var headline: Headline

    /// Far beyond the age at which the core calls a reading too old.
    private static let mostMinutes = 60

    /// From now until the core calls the newest reading too old to act on: from there on its amount is left out.
    public static func ahead(_ companion: EbbsteadCompanion, from now: Moment) throws -> [Glance] {
        let check = try companion.check()
        var all: [Glance] = []
        for minute in 0...mostMinutes {
            let at = Moment(unixMs: now.unixMs + Int64(minute) * 60_000, offsetMinutes: now.offsetMinutes)
            let answer = try check.ask(question: Question(now: at, occasion: .look, feels: nil, meterMgDl: nil))
            let isOld = answer.prompt.sentence == .checkStale || answer.prompt.forecast == nil || minute == mostMinutes
            var headline = Headline(answer)
            if isOld { (headline.amount, headline.beside) = (nil, []) }
            // "Look again in 5 minutes" is wrong a minute later.
            headline.asides = []
            if all.last?.headline != headline { all.append(Glance(from: Date(timeIntervalSince1970: Double(at.unixMs) / 1000), headline: headline)) }
            if isOld { break }
        }
        return all
    }

    /// Says whether anything is new in them.
    public static func keep(_ glances: [Glance], in file: URL) -> Bool {
        if glances == kept(in: file) { return false }
        try? JSONEncoder().encode(glances).write(to: file, options: .atomic)
        return true
    }

    public static func kept(in file: URL) -> [Glance] {
        (try? Data(contentsOf: file)).flatMap { try? JSONDecoder().decode([Glance].self, from: $0) } ?? []
    }
}
