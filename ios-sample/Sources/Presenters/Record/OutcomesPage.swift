import Ebbstead

/// What came of the prompts that were shown.
struct OutcomesPage: RecordPage {
    var state: PageState

    init(_ companion: EbbsteadCompanion) { state = PageState(companion, typed: [.days: "90"]) }

    var below: [Block] { [state.field(.days, .daysBack), state.button(.showThese, .look, isMain: true), .text(state.label(.noMedicalDevice))] }

    func page(_ state: inout PageState, at now: Moment) throws -> Page? { try state.companion.outcomes().page(days: state.days(.days), now: now) }
}
