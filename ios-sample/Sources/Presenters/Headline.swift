import Ebbstead

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
