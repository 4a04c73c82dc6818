import Ebbstead
import Foundation

/// What to do, why, and the reading it rests on: one block at the top of the screen.
public struct Headline: Codable, Equatable, Sendable {
    public var tone: Tone
    /// What to do, in one to three words.
    public var word: String
    public var sentence: String
    /// What to do without a meter; when to look again.
    public var asides: [String] = []
    /// The newest reading; then its age, and how fast it moves.
    public var amount: String?
    public var beside: [String] = []

    public init(tone: Tone, word: String, sentence: String, asides: [String] = [], amount: String? = nil, beside: [String] = []) {
        (self.tone, self.word, self.sentence, self.asides, self.amount, self.beside) = (tone, word, sentence, asides, amount, beside)
    }

    init(_ answer: Answer) {
        let said = answer.said
        self.init(
            tone: Tone(answer.prompt.verdict), word: said.verdict, sentence: said.sentence, asides: [said.withoutMeter, said.lookAgain].compactMap { $0 },
            amount: said.amount, beside: [said.age, said.rate].compactMap { $0 })
    }

    /// The reading with its age and its rate, said as one.
    public var reading: String? { amount.map { ([$0] + beside).joined(separator: ", ") } }
}

/// How urgent an answer is. It shows as weight and as a shape, never as a colour.
public enum Tone: String, Codable, CaseIterable, Sendable {
    case treat, help, check, hold, clear

    init(_ verdict: Verdict) {
        self =
            switch verdict {
            case .treat: .treat
            case .help: .help
            case .check: .check
            case .hold: .hold
            case .clear: .clear
            }
    }

    public var weight: Weight {
        switch self {
        case .treat, .help: .solid
        case .check: .outline
        case .hold: .tint
        case .clear: .plain
        }
    }

    var verdict: Verdict {
        switch self {
        case .treat: .treat
        case .help: .help
        case .check: .check
        case .hold: .hold
        case .clear: .clear
        }
    }

    /// The core's shape for it on a square of a side: a filled glass, a call, a drop, level water, one line of water.
    public func sign(side: Double) -> [Shape] {
        ((try? verdictSign(verdict: verdict)) ?? []).map { part in
            let places = part.points.map { Place(x: $0.x * side, y: $0.y * side) }
            return part.width.map { .line(places, dashes: [], width: $0 * side) } ?? .area(places)
        }
    }
}

/// How heavy a block lies on the screen.
public enum Weight: CaseIterable, Sendable {
    /// Solid and dark where the screen is light; light where it is dark.
    case solid
    /// A thick outline.
    case outline
    /// A light tint.
    case tint
    case plain
}

extension Headline {
    /// The edge of its block: the lower side is a wave.
    public static func edge(width: Double, height: Double) -> [Place] {
        let (corner, high, long) = (16.0, 6.0, 64.0)
        let turns = (0...8).map { Double($0) / 8 * .pi / 2 }
        let left = turns.map { (corner - corner * cos($0), corner - corner * sin($0)) }
        let corners = left + left.reversed().map { (width - $0.0, $0.1) }
        let wave = stride(from: width, through: 0, by: -2).map { Place(x: $0, y: height - high + high * sin($0 / long * 2 * .pi)) }
        return corners.map { Place(x: $0.0, y: $0.1) } + wave
    }
}
