import Ebbstead

/// What was learnt from the log, and learning.
struct LearntPage: Presenter {
    private var state: PageState

    init(_ companion: EbbsteadCompanion) { state = PageState(companion) }

    var screen: Screen {
        let label = state.label
        var blocks = state.outcome.blocks
        if let page = state.page {
            blocks += [.heading(page.heading)] + page.blocks
        } else if !state.isNew && state.outcome == .nothing {
            blocks.append(.text(label(.nothingLearnt)))
        }
        return Screen(title: state.page?.heading ?? "", blocks: blocks + [.button(Button(name: label(.learnNow), action: .learn, isMain: true))])
    }

    func after(_ action: Action, at now: Moment) -> Self {
        var next = self
        next.state.begin(action)
        switch action {
        case .learn: next.state.show(nil) { try $0.companion.learn().now(now: now) }
        // What was just learnt names what it newly marked; what is kept of it does not.
        case .refresh where state.page != nil: break
        default: next.state.show(nil) { try $0.companion.learn().last() }
        }
        return next
    }
}
