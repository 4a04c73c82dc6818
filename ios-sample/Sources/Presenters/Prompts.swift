import Ebbstead

/// The words of a screen. A companion that was closed has none; then a label is left empty and the failure is shown instead.
struct Vocabulary {
    let companion: EbbsteadCompanion

    func callAsFunction(_ label: Label) -> String { (try? companion.words().label(label: label)) ?? "" }

    /// A source of readings with what became of it.
    func source(_ name: String, _ state: SourceState, _ heard: Moment? = nil) -> String {
        (try? companion.words().source(name: name, state: state, heard: heard)) ?? name
    }

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
    /// The core's page under its own name, in its order; what it folds away bears the section's name itself.
    var blocks: [Block] {
        sections.flatMap { section -> [Block] in
            let held = section.holds.map(Self.block)
            return section.folds ? [.fold(name: section.heading ?? heading, held)] : (section.heading.map { [.heading($0)] } ?? []) + held
        }
    }

    private static func block(_ piece: PageBlock) -> Block {
        switch piece {
        case .lead(let text): .sentence(text)
        case .sentences(let text): .said(text)
        case .items(let items): .items(items)
        case .table(let rows): .figures(rows.map { Figure(name: $0.name, value: $0.values.joined(separator: "; "), note: $0.note) })
        }
    }
}
