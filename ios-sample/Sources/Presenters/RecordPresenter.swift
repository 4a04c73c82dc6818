import Ebbstead
import Foundation

/// The record: one page of the core at a time, with what can be asked of it and done about it.
public struct RecordPresenter: Presenter {
    private var chapter = Chapter.review
    private var pages: [Chapter: any Presenter]
    private let companion: EbbsteadCompanion

    /// Nothing is looked at until a page is first asked for: it takes longer than a screen may take to open.
    public init(_ companion: EbbsteadCompanion, sheet: Sheet = Sheet()) {
        self.companion = companion
        pages = [
            .review: ReviewPage(companion, sheet: sheet), .sensors: SensorsPage(companion), .alerts: AlertsPage(companion),
            .learnt: LearntPage(companion),
        ]
    }

    public var screen: Screen {
        let label = Vocabulary(companion: companion)
        let names: [(Chapter, Label)] = [
            (.review, .screenReview), (.sensors, .screenSensors), (.alerts, .screenAlerts), (.learnt, .screenLearnt),
        ]
        let options = names.map { Choice.Option(name: label($0.1), action: .chapter($0.0), isChosen: $0.0 == chapter) }
        let title = label(.screenRecord)
        // Its name would repeat the screen's.
        let turn = Block.choice(Choice(name: title, options: options, showsName: false))
        return Screen(title: title, blocks: [turn] + (pages[chapter]?.screen.blocks ?? []))
    }

    public var document: Document? { pages[chapter]?.document }

    public func typing(_ text: String, into field: FieldId) -> Self {
        var next = self
        next.pages[chapter] = pages[chapter]?.typing(text, into: field)
        return next
    }

    /// What a device nearby said goes to the sensors' page.
    public func hearing(_ heard: Nearby.Heard, at now: Moment) -> Self {
        var next = self
        if let sensors = pages[.sensors] as? SensorsPage { next.pages[.sensors] = sensors.hearing(heard, at: now) }
        return next
    }

    public func after(_ action: Action, at now: Moment) -> Self {
        var next = self
        if case .chapter(let chapter) = action { next.chapter = chapter }
        next.pages[next.chapter] = next.pages[next.chapter]?.after(action, at: now)
        return next
    }
}

/// What the pages share: the page as the core told it, what is typed beside it, and what became of it.
struct PageState {
    let companion: EbbsteadCompanion
    var page: Page?
    var typed: [FieldId: String]
    var advices: [FieldId: String] = [:]
    var outcome = Outcome.nothing
    var document: Document?
    /// Nobody asked yet.
    var isNew = true

    init(_ companion: EbbsteadCompanion, typed: [FieldId: String] = [:]) { (self.companion, self.typed) = (companion, typed) }

    var label: Vocabulary { Vocabulary(companion: companion) }

    func field(_ id: FieldId, _ name: Label, unit: String = "", isNumber: Bool = true) -> Block {
        .field(Field(id: id, name: label(name), unit: unit, typed: typed[id] ?? "", advice: advices[id], isNumber: isNumber))
    }

    /// What is typed, where it is more than spaces.
    func text(_ id: FieldId) -> String? {
        typed[id].flatMap { $0.allSatisfy(\.isWhitespace) ? nil : $0 }
    }

    /// A number of days. One that no page can be of is left to the core to refuse.
    func days(_ id: FieldId) throws -> UInt16 {
        let number = try companion.words().readNumber(typed: typed[id] ?? "")
        return (1...3660).contains(number) ? UInt16(number) : 0
    }

    mutating func type(_ text: String, into field: FieldId) { (typed[field], advices[field]) = (text, nil) }

    /// Before an action: what was said about the last tap goes, unless only something changed.
    mutating func begin(_ action: Action) {
        if case .refresh = action { return }
        (outcome, advices, document) = (.nothing, [:], nil)
    }

    /// Asks for the page anew. An answer to an earlier question must not be taken for one to this.
    mutating func show(_ field: FieldId?, _ ask: (Self) throws -> Page?) {
        (page, isNew) = (nil, false)
        attempt(field) { state in state.page = try ask(state) }
    }

    /// What the core refuses is said beside the field it came from; what is no matter of a field, above all.
    mutating func attempt(_ field: FieldId?, _ work: (inout Self) throws -> Void) {
        do { try work(&self) } catch ApiError.InvalidInput(_, let advice) where field != nil {
            if let field { advices[field] = advice }
        } catch {
            outcome = .failed(advice(error))
        }
    }
}

/// Days looked back on.
struct ReviewPage: Presenter {
    private let sheet: Sheet
    private var state: PageState
    private var day: DayPicture?
    private var aims = Aims.adult
    private var withoutPressed = false

    init(_ companion: EbbsteadCompanion, sheet: Sheet) {
        self.sheet = sheet
        state = PageState(companion, typed: [.days: "14"])
    }

    var document: Document? { state.document }

    var screen: Screen {
        let label = state.label
        let whose: [(Aims, Label)] = [(.adult, .aimsAdult), (.olderOrHighRisk, .aimsOlder), (.type1Pregnancy, .aimsPregnancy)]
        let counted: [(Bool, Label)] = [(false, .pressedIn), (true, .pressedOut)]
        var blocks = state.outcome.blocks + (state.page?.blocks ?? [])
        if let day {
            // With the hours in numbers, which are folded away.
            let place = blocks.firstIndex { if case .folded = $0 { true } else { false } } ?? blocks.endIndex
            blocks.insert(.drawing(Drawing(day, width: sheet.width, typeSize: sheet.typeSize)), at: place)
        }
        blocks += [
            state.field(.days, .daysBack),
            .choice(Choice(name: label(.aimsName), options: whose.map { .init(name: label($0.1), action: .aims($0.0), isChosen: $0.0 == aims) })),
            .choice(
                Choice(
                    name: label(.pressedCount),
                    options: counted.map { .init(name: label($0.1), action: .withoutPressed($0.0), isChosen: $0.0 == withoutPressed) })),
            .button(Button(name: label(.showThese), action: .look, isMain: true)),
        ]
        if state.page != nil { blocks.append(.button(Button(name: label(.printReview), action: .writeReview))) }
        return Screen(title: state.page?.heading ?? "", blocks: blocks + [.text(label(.noMedicalDevice))])
    }

    func typing(_ text: String, into field: FieldId) -> Self {
        var next = self
        if field == .days { next.state.type(text, into: field) }
        return next
    }

    func after(_ action: Action, at now: Moment) -> Self {
        var next = self
        next.state.begin(action)
        switch action {
        case .aims(let aims): next.aims = aims
        case .withoutPressed(let left): next.withoutPressed = left
        case .writeReview: next.write(at: now)
        case .documentDone: break
        default: next.look(at: now)
        }
        return next
    }

    private func options(_ state: PageState) throws -> ReviewOptions {
        ReviewOptions(days: try state.days(.days), aims: aims, withoutPressed: withoutPressed)
    }

    private mutating func look(at now: Moment) {
        let options = options
        var drawn: DayPicture?
        state.show(.days) { state in
            drawn = try state.companion.review().day(options: options(state), now: now)
            return try state.companion.review().told(options: options(state), now: now)
        }
        day = drawn
    }

    private mutating func write(at now: Moment) {
        let options = options
        state.attempt(.days) { state in
            let page = try state.companion.review().html(options: options(state), now: now)
            state.document = Document(name: "ebbstead-\(now.dateText).html", bytes: Data(page.utf8))
        }
    }
}

/// The sensors' record, what to note about them (put in, wrong, taken off), and what a device nearby said.
struct SensorsPage: Presenter {
    private var state: PageState
    private var told: [String] = []
    /// When the session of a sensor nearby began, and nobody has noted it yet.
    private var began: Moment?

    init(_ companion: EbbsteadCompanion) { state = PageState(companion, typed: [.days: "90"]) }

    var document: Document? { state.document }

    var screen: Screen {
        let label = state.label
        let blocks =
            state.outcome.blocks + told.map(Block.notice) + (state.page?.blocks ?? []) + [
                .button(Button(name: label(.findSensor), action: .findSensor)),
                state.field(.days, .daysBack), state.field(.ratedDays, .ratedDays),
                .button(Button(name: label(.showThese), action: .look)),
                .heading(label(.add)),
                state.field(.site, .sensorSite, isNumber: false),
                .button(Button(name: label(.sensorInserted), action: .sensorInserted, isMain: true)),
                state.field(.fault, .sensorFault, isNumber: false), .button(Button(name: label(.add), action: .sensorFault)),
                .button(Button(name: label(.sensorEnded), action: .sensorEnded)),
                .button(Button(name: label(.undoLast), action: .undo)),
                .heading(label(.sensorSheet)),
                state.field(.lot, .lot, isNumber: false), .button(Button(name: label(.sensorSheet), action: .writeSheet)),
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
        case .sensorInserted:
            // A sensor nearby has said when that was.
            next.note(.inserted(site: state.text(.site)), from: .site, happened: began, at: now)
            if next.state.advices[.site] == nil { next.began = nil }
        // A fault without a word on it is refused by the core, with its advice.
        case .sensorFault: next.note(.fault(seen: state.typed[.fault] ?? ""), from: .fault, at: now)
        case .sensorEnded: next.note(.ended, from: nil, at: now)
        case .undo: next.undo(at: now)
        case .writeSheet: next.write(at: now)
        case .documentDone: break
        default: next.look(at: now)
        }
        return next
    }

    /// What a device nearby said. It stays until something else is tapped.
    func hearing(_ heard: Nearby.Heard, at now: Moment) -> Self {
        var next = self
        next.told = heard.told
        next.began = heard.sessionBegan ?? began
        if heard.kept > 0 { next.look(at: now) }
        return next
    }

    /// A slip in the rated length must not hide the record: it is said beside its field, and the page does without.
    private mutating func options() throws -> SensorOptions {
        var rated: UInt16?
        state.attempt(.ratedDays) { state in
            if state.text(.ratedDays) == nil { return }
            rated = try state.days(.ratedDays)
        }
        return SensorOptions(days: try state.days(.days), ratedDays: rated)
    }

    private mutating func look(at now: Moment) {
        let options = Result { try self.options() }
        state.show(.days) { try $0.companion.sensor().told(options: options.get(), now: now) }
    }

    private mutating func note(_ event: SensorEvent, from field: FieldId?, happened: Moment? = nil, at now: Moment) {
        state.attempt(field) { state in
            let kept = try state.companion.log().record(what: .sensor(event: event), at: happened ?? now, now: now)
            if let field { state.typed[field] = "" }
            state.outcome = .said(state.label(.kept) + ": " + kept.text)
        }
        look(at: now)
    }

    private mutating func undo(at now: Moment) {
        state.attempt(nil) { state in
            let undone = try state.companion.log().undo(now: now)
            state.outcome = .said(undone.map { state.label(.takenBack) + ": " + $0.undone.text } ?? state.label(.nothingToUndo))
        }
        look(at: now)
    }

    private mutating func write(at now: Moment) {
        let options = Result { try self.options() }
        state.attempt(.lot) { state in
            let page = try state.companion.sensor().sheet(options: options.get(), back: 0, lot: state.text(.lot), now: now)
            state.document = Document(name: "ebbstead-sensor-\(now.dateText).txt", bytes: Data(page.utf8))
        }
    }
}

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
            let (delay, again) = (Self.minutes(.highDelay, &state), Self.minutes(.repeatAfter, &state))
            func lines(_ low: FieldId, _ high: FieldId, _ own: AlertLines) -> AlertLines {
                AlertLines(
                    lowMgDl: Self.glucose(low, own: own.lowMgDl, &state) ?? own.lowMgDl,
                    highMgDl: Self.glucose(high, own: own.highMgDl, &state), highDelayMinutes: delay ?? 0, repeatMinutes: again,
                    fallingMgDlMin: own.fallingMgDlMin, risingMgDlMin: own.risingMgDlMin)
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

    private static func minutes(_ id: FieldId, _ state: inout PageState) -> Double? {
        guard let typed = state.text(id) else { return nil }
        var read: Double?
        state.attempt(id) { read = try $0.companion.words().readNumber(typed: typed) }
        return read
    }
}

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

extension Moment {
    /// The day by the wearer's own clock, as 2026-03-14.
    var dateText: String {
        var calendar = Calendar(identifier: .gregorian)
        calendar.timeZone = TimeZone(secondsFromGMT: Int(offsetMinutes) * 60) ?? calendar.timeZone
        let day = calendar.dateComponents([.year, .month, .day], from: Date(timeIntervalSince1970: Double(unixMs) / 1000))
        return "\(day.year ?? 0)-\(twoDigits(day.month ?? 0))-\(twoDigits(day.day ?? 0))"
    }
}
