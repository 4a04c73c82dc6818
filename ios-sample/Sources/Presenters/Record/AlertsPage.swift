import Ebbstead

/// Alerts, replayed over the log: what the wearer's own lines were worth, and what others would have been.
struct AlertsPage: RecordPage {
    var state: PageState

    init(_ companion: EbbsteadCompanion) { state = PageState(companion) }

    var below: [Block] {
        state.form.blocks + [
            state.button(.replay, .tryPlan, isMain: true), state.button(.keepPlan, .keepPlan), state.button(.cancel, .cancel),
            .text(state.label(.floorStays)), .text(state.label(.noMedicalDevice)),
        ]
    }

    func page(_ state: inout PageState, at now: Moment) throws -> Page? {
        let asked = try state.companion.alerts().asked(filledIn: state.form.filled, now: now)
        state.form.show(asked.form)
        return asked.page
    }

    mutating func done(_ action: Action, at now: Moment) -> Bool {
        if action == .cancel { state.form = FormState() }
        guard action == .keepPlan else { return true }
        state.attempt(nil) {
            let kept = try $0.companion.alerts().keep(filledIn: $0.form.filled, now: now)
            ($0.page, $0.said) = (kept.page, kept.message)
            $0.form.show(kept.form, taken: kept.message != nil)
        }
        return false
    }
}
