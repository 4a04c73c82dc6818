import Ebbstead
import Foundation

/// The sensors' record, what to note about them (put in, wrong, taken off), where readings come from, and what was said there.
struct SensorsPage: Presenter {
    private var state: PageState
    private var told: [String] = []
    private var devices = Devices()
    /// When the session of a sensor nearby began, and nobody has noted it yet.
    private var began: Moment?

    init(_ companion: EbbsteadCompanion) { state = PageState(companion, typed: [.days: "90"]) }

    var document: Document? { state.document }

    var screen: Screen {
        let label = state.label
        let rated = Block.field(
            Field(
                id: .ratedDays, name: label(.ratedDays), unit: "", typed: state.typed[.ratedDays] ?? usual.map { String($0) } ?? "",
                advice: state.advices[.ratedDays]))
        let blocks =
            state.outcome.blocks + told.map(Block.notice) + (state.page?.blocks ?? [])
            + [.button(Button(name: label(.findSensor), action: .findSensor))] + devices.blocks(state.companion) + [
                .button(Button(name: label(.readHealth), action: .readHealth)),
                state.field(.days, .daysBack), .button(Button(name: label(.showThese), action: .look)),
                .heading(label(.add)),
                state.field(.site, .sensorSite, keys: .words), state.field(.lot, .lot, keys: .words), rated,
                .button(Button(name: label(.sensorInserted), action: .sensorInserted, isMain: true)),
                state.field(.fault, .sensorFault, keys: .words), .button(Button(name: label(.add), action: .sensorFault)),
                .button(Button(name: label(.sensorEnded), action: .sensorEnded)),
                .button(Button(name: label(.undoLast), action: .undo)),
                .button(Button(name: label(.sensorSheet), action: .writeSheet)),
            ]
        return Screen(title: state.page?.heading ?? "", blocks: blocks)
    }

    func typing(_ text: String, into field: FieldId) -> Self {
        var next = self
        if [.days, .ratedDays, .site, .fault, .lot].contains(field) { next.state.type(text, into: field) }
        return next
    }

    func after(_ action: Action, at now: Moment) -> Self {
        var next = self
        next.state.begin(action)
        if action != .refresh { next.told = [] }
        switch action {
        case .sensorInserted: next.insert(at: now)
        // A fault without a word on it is refused by the core, with its advice.
        case .sensorFault: _ = next.note(.fault(seen: state.typed[.fault] ?? ""), from: [.fault], at: now)
        case .sensorEnded: _ = next.note(.ended, from: [], at: now)
        case .undo:
            next.state.undo(at: now)
            next.look(at: now)
        case .writeSheet: next.write(at: now)
        case .documentDone: break
        default: next.look(at: now)
        }
        return next
    }

    /// What was said stays until something else is tapped.
    func hearing(_ heard: Heard, _ devices: Devices, at now: Moment) -> Self {
        with {
            $0.devices = devices
            if !heard.told.isEmpty { $0.told = heard.told }
            $0.began = heard.sessionBegan ?? began
        }
    }

    /// How long the wearer's sensors are rated for, as in the settings.
    private var usual: UInt16? { (try? state.companion.settings().wearer())?.sensorRatedDays }

    /// As typed, else as in the settings. A slip in it is said beside its field.
    private mutating func rated() -> UInt16? {
        if state.text(.ratedDays) == nil { return usual }
        // What no sensor is rated for is left to the core to refuse.
        return state.number(.ratedDays).map { UInt16(exactly: $0) ?? .max }
    }

    /// A slip in the rated length must not hide the record: the page does without.
    private mutating func options() throws -> SensorOptions {
        let rated = rated()
        return SensorOptions(days: try state.days(.days), ratedDays: rated)
    }

    private mutating func look(at now: Moment) {
        let options = Result { try self.options() }
        state.show(.days) { try $0.companion.sensor().told(options: options.get(), now: now) }
    }

    private mutating func insert(at now: Moment) {
        let rated = rated()
        if !state.advices.isEmpty { return }
        let put = SensorEvent.inserted(site: state.text(.site), lot: state.text(.lot), ratedDays: rated)
        // A sensor nearby has said when that was.
        if note(put, from: [.site, .lot], happened: began, at: now) { began = nil }
    }

    private mutating func note(_ event: SensorEvent, from fields: [FieldId], happened: Moment? = nil, at now: Moment) -> Bool {
        var isKept = false
        let typed = fields.first { state.text($0) != nil } ?? fields.first
        state.attempt(beside: { $0 == "rated length" ? .ratedDays : typed }) { state in
            let kept = try state.companion.log().record(what: .sensor(event: event), at: happened ?? now, now: now)
            state.forget(fields)
            state.outcome = .said(state.label.told(kept, .kept))
            isKept = true
        }
        look(at: now)
        return isKept
    }

    private mutating func write(at now: Moment) {
        let options = Result { try self.options() }
        state.attempt(.lot) { state in
            let page = try state.companion.sensor().sheet(options: options.get(), back: 0, lot: state.text(.lot), now: now)
            state.document = Document(name: "ebbstead-sensor-\(now.dateText).txt", bytes: Data(page.utf8))
        }
    }
}
