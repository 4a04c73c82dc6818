import Ebbstead

/// What came of the prompts that were shown.
struct AnswersPage: Presenter {
    private var state: PageState

    init(_ companion: EbbsteadCompanion) { state = PageState(companion, typed: [.days: "90"]) }

    var screen: Screen {
        let label = state.label
        let blocks =
            state.outcome.blocks + (state.page?.blocks ?? []) + [
                state.field(.days, .daysBack), .button(Button(name: label(.showThese), action: .look, isMain: true)),
                .text(label(.noMedicalDevice)),
            ]
        return Screen(title: state.page?.heading ?? "", blocks: blocks)
    }

    func typing(_ text: String, into field: FieldId) -> Self {
        var next = self
        if field == .days { next.state.type(text, into: field) }
        return next
    }

    func after(_ action: Action, at now: Moment) -> Self {
        var next = self
        next.state.begin(action)
        next.state.show(.days) { try $0.companion.outcomes().told(days: $0.days(.days), now: now) }
        return next
    }
}
