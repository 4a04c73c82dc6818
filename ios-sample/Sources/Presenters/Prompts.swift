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

    /// Where a call is the answer it goes before everything else.
    func call(_ label: Vocabulary) -> [Block] {
        answer.offers.first?.what == .call ? [.button(.help(label, isMain: true))] : []
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

extension Page {
    /// The same with the answer, which stands under no name, as large as a prompt's sentence.
    var answerFirst: [Block] {
        let lead = sections.first.map { $0.heading == nil ? $0.holds.count : 0 } ?? 0
        return blocks.enumerated().map { place, block in
            if place < lead, case .said(let text) = block { .sentence(text) } else { block }
        }
    }

    /// The core's page under its own name, in its order.
    var blocks: [Block] {
        sections.flatMap { section -> [Block] in
            let held = section.holds.map { Self.block($0, under: section.heading ?? heading) }
            // What is folded away bears the name itself.
            if case .folded = held.first { return held }
            return (section.heading.map { [.heading($0)] } ?? []) + held
        }
    }

    private static func block(_ piece: PageBlock, under heading: String) -> Block {
        switch piece {
        case .sentences(let text): return .said(text)
        case .items(let items): return .items(items)
        case .table(let columns, let rows):
            let figures = rows.map { Figure(name: $0.name, value: value($0, columns), note: $0.note) }
            return figures.count > 12 ? .folded(name: heading, figures: figures) : .figures(figures)
        }
    }

    /// Of several values, each with the name of its column: a phone has no room for columns, and a screen reader none for heads.
    private static func value(_ row: PageRow, _ columns: [String]) -> String {
        if columns.count < 2 || row.values.count != columns.count { return row.values.joined(separator: ", ") }
        return zip(columns, row.values).map { "\($0) \($1)" }.joined(separator: "; ")
    }
}
