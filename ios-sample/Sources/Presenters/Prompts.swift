import Ebbstead

/// The words of a screen. A companion that was closed has none; then a label is left empty and the failure is shown instead.
struct Vocabulary {
    let companion: EbbsteadCompanion

    func callAsFunction(_ label: Label) -> String { (try? companion.words().label(label: label)) ?? "" }

    /// Why a source of readings gives none.
    func why(_ error: any Error) -> String { (error as? SourceTrouble).map { self($0.why) } ?? advice(error) }

    func button(_ name: Label, _ action: Action, isMain: Bool = false) -> Block { .button(Button(name: self(name), action: action, isMain: isMain)) }

    /// When this phone sounds no alert, and one to hear.
    var whenMuted: [Block] { [.text(self(.silentMutes)), button(.tryAlert, .tryAlert)] }
}

/// Says above its screen what became of the last tap, or why nothing did.
protocol ShowsNotice {
    var said: String? { get set }
}

extension ShowsNotice {
    var notices: [Block] { said.map { [.notice($0)] } ?? [] }

    mutating func attempt(_ work: (inout Self) throws -> Void) { do { try work(&self) } catch { said = advice(error) } }
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
            if case .fold = held.first { return held }
            return (section.heading.map { [.heading($0)] } ?? []) + held
        }
    }

    private static func block(_ piece: PageBlock, under heading: String) -> Block {
        switch piece {
        case .sentences(let text): return .said(text)
        case .items(let items): return .items(items)
        case .table(let rows):
            let figures = rows.map { Figure(name: $0.name, value: $0.values.joined(separator: "; "), note: $0.note) }
            return figures.count > 12 ? .fold(name: heading, [.figures(figures)]) : .figures(figures)
        }
    }
}
