import Ebbstead
import Foundation

/// What a widget shows from a time on. The core is asked ahead for each minute, so that the age of a reading stays right without the
/// app, and an old number is never shown as new.
public struct Glance: Codable, Equatable, Sendable {
    public var from: Date
    public var headline: Headline

    /// Minutes, far beyond the age at which the core calls a reading too old; and one of them in milliseconds.
    private static let most: Int64 = 60
    private static let minute: Int64 = 60_000

    /// From now until the core calls the newest reading too old to act on: from there on its amount is left out. The minutes are those
    /// of the reading, so that the same reading makes the same glances a little later.
    public static func ahead(_ companion: EbbsteadCompanion, from now: Moment) throws -> [Glance] {
        let check = try companion.check()
        func ask(_ unixMs: Int64) throws -> Answer {
            let at = Moment(unixMs: unixMs, offsetMinutes: now.offsetMinutes)
            return try check.ask(question: Question(now: at, occasion: .look, feels: nil, meterMgDl: nil))
        }
        let read = try ask(now.unixMs).prompt.estimate?.readingAt?.unixMs ?? 0
        let begin = now.unixMs - (now.unixMs - read) % minute
        var all: [Glance] = []
        for nth in 0...most {
            let at = begin + nth * minute
            let answer = try ask(max(at, now.unixMs))
            let isOld = answer.prompt.sentence == .checkStale || answer.prompt.forecast == nil || nth == most
            var headline = Headline(answer)
            if isOld { (headline.amount, headline.beside) = (nil, []) }
            // "Look again in 5 minutes" is wrong a minute later.
            headline.asides = []
            if all.last?.headline != headline { all.append(Glance(from: Date(timeIntervalSince1970: Double(at) / 1000), headline: headline)) }
            if isOld { break }
        }
        return all
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
