import Ebbstead

/// What is asked ahead: before sleep, a drive, movement. The answer first and in full, then what it was asked for.
public struct BeforePresenter: FormPresenter, ShowsNotice {
    private let companion: EbbsteadCompanion
    public var state = FormState()
    private var page: Page?
    var said: String?

    public init(_ companion: EbbsteadCompanion) { self.companion = companion }

    public var screen: Screen {
        let label = Vocabulary(companion: companion)
        let answer = page.map { [.heading($0.heading)] + $0.answerFirst } ?? []
        return Screen(
            title: label(.screenBefore), blocks: notices + answer + state.blocks(then: .ask),
            pinned: [Button(name: label(.back), action: .leave), .help(label)])
    }

    public func after(_ action: Action, at now: Moment) -> Self {
        with {
            $0.choose(action)
            ($0.page, $0.said) = (nil, nil)
            $0.attempt {
                let asked = try companion.before().asked(filledIn: $0.state.filled, now: now)
                $0.state.show(asked.form)
                $0.page = asked.page
            }
        }
    }

    /// What was asked belongs to its moment.
    public func hidden(at now: Moment) -> Self { Self(companion) }
}
