import Ebbstead

/// Alerts, replayed over the log: what the wearer's own lines were worth, and what others would have been.
struct AlertsPage: Presenter {
    private static let lines: [FieldId] = [.dayLow, .dayHigh, .nightLow, .nightHigh]

    private var state: PageState
    private var tries = false

    init(_ companion: EbbsteadCompanion) { state = PageState(companion, typed: [.days: "90"]) }

    var screen: Screen {
        let label = state.label
        func line(_ id: FieldId, _ name: Label) -> Block {
            let own = Self.lines.contains(id) ? shownOwn(id) : ""
            return .field(Field(id: id, name: label(name), unit: label.unit, typed: state.typed[id] ?? own, advice: state.advices[id]))
        }
        let blocks =
            state.outcome.blocks + (state.page?.blocks ?? []) + [
                state.field(.days, .daysBack),
                .heading(label(.byDay)), line(.dayLow, .lowLine), line(.dayHigh, .highLine),
                .heading(label(.byNight)), line(.nightLow, .lowLine), line(.nightHigh, .highLine),
                state.field(.highDelay, .tryDelay), state.field(.repeatAfter, .tryRepeat),
                .button(Button(name: label(.replay), action: .tryPlan, isMain: true)),
                .button(Button(name: label(.cancel), action: .cancel)),
                .text(label(.floorStays)), .text(label(.noMedicalDevice)),
            ]
        return Screen(title: state.page?.heading ?? "", blocks: blocks)
    }

    func typing(_ text: String, into field: FieldId) -> Self {
        var next = self
        if (Self.lines + [.days, .highDelay, .repeatAfter]).contains(field) { next.state.type(text, into: field) }
        return next
    }

    func after(_ action: Action, at now: Moment) -> Self {
        var next = self
        next.state.begin(action)
        switch action {
        case .tryPlan: next.tries = true
        case .cancel: (next.tries, next.state.typed) = (false, [.days: "90"])
        default: break
        }
        next.replay(at: now)
        return next
    }

    /// The own lines stand in the fields until somebody types.
    private func shownOwn(_ id: FieldId) -> String {
        guard let plan = try? state.companion.alerts().ownPlan(), let own = Self.own(id, of: plan) else { return "" }
        return (try? state.companion.words().bareAmount(mgDl: own)) ?? ""
    }

    private static func own(_ id: FieldId, of plan: AlertPlan) -> Double? {
        switch id {
        case .dayLow: plan.day.lowMgDl
        case .dayHigh: plan.day.highMgDl
        case .nightLow: plan.night.lowMgDl
        case .nightHigh: plan.night.highMgDl
        default: nil
        }
    }

    /// A plan that cannot be read or followed is said so, and the own lines are shown all the same.
    private mutating func replay(at now: Moment) {
        let plan = tries ? plan() : nil
        let days = Result { [state] in try state.days(.days) }
        state.show(.days) { try $0.companion.alerts().told(days: days.get(), tried: nil, now: now) }
        guard let plan, state.page != nil else { return }
        state.attempt(nil) { state in state.page = try state.companion.alerts().told(days: days.get(), tried: plan, now: now) }
    }

    /// An empty field for highs tells of none; an empty delay is none; an empty repetition tells once.
    private mutating func plan() -> AlertPlan? {
        var made: AlertPlan?
        state.attempt(nil) { state in
            let own = try state.companion.alerts().ownPlan()
            let (delay, again) = (state.number(.highDelay), state.number(.repeatAfter))
            func lines(_ low: FieldId, _ high: FieldId, _ own: AlertLines) -> AlertLines {
                AlertLines(
                    lowMgDl: Self.glucose(low, own: own.lowMgDl, &state) ?? own.lowMgDl,
                    highMgDl: Self.glucose(high, own: own.highMgDl, &state), highDelayMinutes: delay ?? 0, repeatMinutes: again,
                    fallingMgDlMin: own.fallingMgDlMin, risingMgDlMin: own.risingMgDlMin,
                    lostAfterMinutes: own.lostAfterMinutes)
            }
            let plan = AlertPlan(day: lines(.dayLow, .dayHigh, own.day), night: lines(.nightLow, .nightHigh, own.night))
            if state.advices.isEmpty { made = plan }
        }
        return made
    }

    /// What nobody typed stays to the last digit.
    private static func glucose(_ id: FieldId, own: Double?, _ state: inout PageState) -> Double? {
        guard let typed = state.typed[id] else { return own }
        if state.text(id) == nil && (id == .dayHigh || id == .nightHigh) { return nil }
        let shown = own.flatMap { try? state.companion.words().bareAmount(mgDl: $0) }
        if typed == shown { return own }
        var read: Double?
        state.attempt(id) { read = try $0.companion.words().readGlucose(typed: typed) }
        return read
    }
}
