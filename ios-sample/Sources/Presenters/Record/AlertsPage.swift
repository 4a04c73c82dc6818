import Ebbstead

/// Alerts, replayed over the log: what the wearer's own lines were worth, and what others would have been.
struct AlertsPage: Presenter {
    private var state: PageState
    private var form = FormState()

    init(_ companion: EbbsteadCompanion) { state = PageState(companion) }

    var screen: Screen {
        let label = state.label
        let blocks =
            state.outcome.blocks + (state.page?.blocks ?? []) + form.blocks + [
                .button(Button(name: label(.replay), action: .tryPlan, isMain: true)),
                .button(Button(name: label(.keepPlan), action: .keepPlan)),
                .button(Button(name: label(.cancel), action: .cancel)),
                .text(label(.floorStays)), .text(label(.noMedicalDevice)),
            ]
        return Screen(title: state.page?.heading ?? "", blocks: blocks)
    }

    func typing(_ text: String, into field: FieldId) -> Self {
        var next = self
        next.form.put(text, into: field)
        return next
    }

    func after(_ action: Action, at now: Moment) -> Self {
        var next = self
        next.state.begin(action)
        if action == .cancel { next.form = FormState() }
        let keeps = action == .keepPlan
        next.state.show(nil) { [filled = next.form.filled] state in
            let alerts = try state.companion.alerts()
            let answer = try keeps ? alerts.keep(filledIn: filled, now: now) : alerts.asked(filledIn: filled, now: now)
            state.answer = answer
            return answer.page
        }
        if let answer = next.state.answer {
            next.form.show(answer.form, taken: answer.told != nil)
            if let told = answer.told { next.state.outcome = .said(told) }
        }
        return next
    }
}
