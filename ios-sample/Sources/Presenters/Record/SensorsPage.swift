import Ebbstead

/// The sensors' record and the sheet about the newest; where readings come from, and what was said there. What happened to a sensor is
/// noted in the log.
struct SensorsPage: RecordPage {
    var state: PageState
    private var remarks: [String] = []
    private var devices = Devices()
    /// When the session of a sensor nearby began, as long as it is not in the log.
    private var began: Moment?

    init(_ companion: EbbsteadCompanion) { state = PageState(companion, typed: [.days: "90"]) }

    var above: [Block] { remarks.map(Block.notice) }

    var below: [Block] {
        var rated = state
        if rated.typed[.ratedDays] == nil { rated.typed[.ratedDays] = usual.map { String($0) } }
        let clock = began.flatMap { try? state.companion.words().clock(at: $0) }
        let insert = clock.map { Block.button(Button(name: "\(state.label(.sensorInserted)) · \($0)", action: .sensorInserted, isMain: true)) }
        return [state.button(.findSensor, .findSensor)] + devices.blocks(state.companion) + [devices.health(state.companion)]
            + (insert.map { [$0] } ?? []) + [state.button(.addEntry, .add)] + [
                state.field(.days, .daysBack), rated.field(.ratedDays, .ratedDays), state.button(.showThese, .look),
                state.field(.lot, .lot, keys: .words), state.button(.sensorSheet, .writeSheet),
            ]
    }

    /// What was said stays until something else is tapped.
    func receiving(_ received: Received, _ devices: Devices, at now: Moment) -> Self {
        with {
            $0.devices = devices
            if !received.messages.isEmpty { $0.remarks = received.messages }
            $0.began = received.sessionBegan ?? began
        }
    }

    func page(_ state: inout PageState, at now: Moment) throws -> Page? { try state.companion.sensor().page(options: options(&state), now: now) }

    mutating func done(_ action: Action, at now: Moment) -> Bool {
        if action != .refresh { remarks = [] }
        let page = self
        switch action {
        case .sensorInserted:
            state.attempt(nil) { try $0.note(.sensor(event: .inserted(site: nil, lot: nil, ratedDays: page.usual)), at: page.began ?? now, now: now) }
            began = nil
        case .writeSheet:
            state.write("ebbstead-sensor-\(now.dateText).txt", beside: .lot, at: now) {
                var state = $0
                return try $0.companion.sensor().sheet(options: page.options(&state), back: 0, lot: $0.text(.lot), now: now)
            }
            return false
        default: break
        }
        return true
    }

    /// How long the wearer's sensors are rated for, as in the settings.
    private var usual: UInt16? { (try? state.companion.settings().wearer())?.sensorRatedDays }

    /// As typed, else as in the settings. A slip in it is said beside its field; the page does without.
    private func options(_ state: inout PageState) throws -> SensorOptions {
        // What no sensor is rated for is left to the core to refuse.
        let rated = state.text(.ratedDays) == nil ? usual : state.number(.ratedDays).map { UInt16(exactly: $0) ?? .max }
        return SensorOptions(days: try state.days(.days), ratedDays: rated)
    }
}
