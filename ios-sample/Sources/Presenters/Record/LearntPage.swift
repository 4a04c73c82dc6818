import Ebbstead

/// What was learnt from the log, and learning.
struct LearntPage: RecordPage {
    var state: PageState

    init(_ companion: EbbsteadCompanion) { state = PageState(companion) }

    var below: [Block] {
        let isNothing = state.page == nil && !state.isNew && state.said == nil
        return (isNothing ? [.text(state.label(.nothingLearnt))] : []) + [state.button(.learnNow, .learn, isMain: true)]
    }

    func shown(_ page: Page) -> [Block] { [.heading(page.heading)] + page.blocks }

    func page(_ state: inout PageState, at now: Moment) throws -> Page? { try state.companion.learn().last() }

    mutating func done(_ action: Action, at now: Moment) -> Bool {
        if action == .learn {
            state.page = nil
            state.attempt(nil) { $0.page = try $0.companion.learn().now(now: now) }
        }
        // What was just learnt names what it newly marked; what is kept of it does not.
        return action != .learn && (action != .refresh || state.page == nil)
    }
}
