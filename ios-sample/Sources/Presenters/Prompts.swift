import Ebbstead

/// An answer of the core as blocks; Now and Night show it alike, up to how much of it.
struct AnswerBlocks {
    let answer: Answer

    /// What to do, why in one sentence, and when to look again.
    var first: [Block] {
        let said = answer.said
        return [.verdict(said.verdict), .sentence(said.sentence)]
            + [said.withoutMeter, said.lookAgain].compactMap { $0 }.map(Block.text)
    }

    /// The newest reading with its age.
    var reading: [Block] { answer.said.reading.map { [.text($0)] } ?? [] }

    /// Reasons, what would change it, cautions.
    var lists: [Block] {
        let said = answer.said
        return [(said.why, said.reasons), (said.wouldChangeName, said.wouldChange), (said.careful, said.cautions)]
            .filter { !$0.1.isEmpty }
            .map { .list(name: $0.0, items: $0.1) }
    }

    /// The cautions alone.
    var cautions: [Block] {
        answer.said.cautions.isEmpty ? [] : [.list(name: answer.said.careful, items: answer.said.cautions)]
    }
}

/// The words of a screen. A companion that was closed has none; then a label is left empty and the failure is shown instead.
struct Vocabulary {
    let companion: EbbsteadCompanion

    func callAsFunction(_ label: Label) -> String {
        (try? companion.words().label(label: label)) ?? ""
    }

    var unit: String { (try? companion.words().unit()) ?? "" }
}

/// What became of the last tap.
enum Outcome: Equatable, Sendable {
    case nothing
    case said(String)
    case failed(String)

    var blocks: [Block] {
        switch self {
        case .nothing: []
        case .said(let text), .failed(let text): [.notice(text)]
        }
    }
}
