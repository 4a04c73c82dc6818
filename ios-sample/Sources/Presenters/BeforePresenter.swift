import Ebbstead

/// What is asked ahead: before sleep, a drive, movement. The answer first and in full, then what it was asked for.
public struct BeforePresenter: FormPresenter {
    private let companion: EbbsteadCompanion
    public var state = FormState()
    private var page: Page?
    private var outcome = Outcome.nothing

    public init(_ companion: EbbsteadCompanion) { self.companion = companion }

    public var screen: Screen {
        let label = Vocabulary(companion: companion)
        var blocks = outcome.blocks + (page.map { [.heading($0.heading)] + $0.answerFirst } ?? []) + state.blocks
        if let form = state.form { blocks.append(.button(Button(name: form.main, action: .ask, isMain: true))) }
        return Screen(title: label(.screenBefore), blocks: blocks, pinned: [Button(name: label(.back), action: .leave), .help(label)])
    }

    public func after(_ action: Action, at now: Moment) -> Self {
        with {
            if case .choose(let id, let code) = action { $0.state.put(code, into: .form(id)) }
            $0.ask(at: now)
        }
    }

    /// What was asked belongs to its moment.
    public func hidden() -> Self { Self(companion) }

    private mutating func ask(at now: Moment) {
        do {
            let asked = try companion.before().asked(filledIn: state.filled, now: now)
            state.show(asked.form)
            (page, outcome) = (asked.page, .nothing)
        } catch {
            (page, outcome) = (nil, .failed(advice(error)))
        }
    }
}
