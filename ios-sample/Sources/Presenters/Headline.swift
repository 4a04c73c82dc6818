import Ebbstead

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
    public var accessory: [String] = []

    public init(tone: Tone, word: String, sentence: String, asides: [String] = [], amount: String? = nil, accessory: [String] = []) {
        (self.tone, self.word, self.sentence, self.asides, self.amount, self.accessory) = (tone, word, sentence, asides, amount, accessory)
    }

    init(_ core: PromptHeadline) {
        self.init(
            tone: Tone(core.verdict), word: core.word, sentence: core.sentence, asides: core.asides, amount: core.amount, accessory: core.accessory)
    }

    /// The reading with its age and its rate, said as one.
    public var reading: String? { amount.map { ([$0] + accessory).joined(separator: ", ") } }
}

/// What an answer says to do, as a widget's file keeps it.
public enum Tone: String, Codable, CaseIterable, Sendable {
    case treat, help, check, hold, clear

    init(_ verdict: Verdict) { self = Self.allCases.first { $0.verdict == verdict } ?? .check }

    var verdict: Verdict {
        switch self {
        case .treat: .treat
        case .help: .help
        case .check: .check
        case .hold: .hold
        case .clear: .clear
        }
    }

    /// Urgency shows as weight, never as a colour.
    public var weight: Weight { (try? verdictWeight(verdict: verdict)) ?? .outline }

    /// The shape of its own on a square of a side.
    public func sign(side: Double) -> [MarkShape] { (try? verdictSign(verdict: verdict, side: side)) ?? [] }
}

extension Headline {
    /// The edge of its block: the lower side is a wave.
    public static func edge(width: Double, height: Double) -> [SheetPoint] { (try? blockEdge(width: width, height: height)) ?? [] }
}
