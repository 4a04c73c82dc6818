import Ebbstead
import Foundation

/// The log by hand: add, put right, list, undo.
public struct LogPresenter: Presenter {
    /// How many days the list goes back.
    private static let days: Int64 = 7

    private let companion: EbbsteadCompanion
    private var kind = LogKind.meter
    private var typed = ""
    private var typedAdvice: String?
    /// The minute of the day at which it happened, where that is not now.
    private var minute: Int?
    private var outcome = Outcome.nothing
    private var listed: [Listed] = []
    private var wrong: Wrong?

    /// An entry that is being put right.
    private struct Wrong {
        var entry: Entry
        /// What its field said at first.
        var text: String
        /// What was about to be added before.
        var kindBefore: LogKind
    }

    /// When the screen was made: a time that nobody set is shown as this one.
    private var now: Moment

    public init(_ companion: EbbsteadCompanion, at now: Moment) {
        (self.companion, self.now) = (companion, now)
        list(at: now)
    }

    public var screen: Screen {
        let label = Vocabulary(companion: companion)
        var blocks = outcome.blocks
        if let wrong { blocks += puttingRight(wrong.entry, label) } else { blocks += adding(label) }
        if listed.isEmpty { blocks.append(.text(label(.logEmpty))) }
        // The newest first, each day under its date.
        var day = ""
        for one in listed.reversed() {
            if one.day != day {
                day = one.day
                blocks.append(.text(day))
            }
            let id = one.entry.id
            let putRight = Self.kind(of: one.entry.what).map { _ in Button(name: label(.putRight), action: .putRight(id: id)) }
            let takeBack = Button(name: label(.takeBack), action: .takeBack(id: id))
            blocks.append(.entry(EntryRow(id: id, clock: one.clock, text: one.entry.text, putRight: putRight, takeBack: takeBack)))
        }
        return Screen(title: label(.screenLog), blocks: blocks, pinned: [.help(label)])
    }

    private func adding(_ label: Vocabulary) -> [Block] {
        let kinds = LogKind.allCases.map { Choice.Option(name: name(of: $0, label), action: .kind($0), isChosen: $0 == kind) }
        return [.choice(Choice(name: label(.add), options: kinds))] + field(label) + [time(minute ?? now.minuteOfDay, label)]
            + [
                .button(Button(name: label(.add), action: .add, isMain: true)),
                .button(Button(name: label(.undoLast), action: .undo)),
                .button(Button(name: label(.readFile), action: .chooseFile)),
            ]
    }

    /// The old entry in words, and the same field it was typed into.
    private func puttingRight(_ entry: Entry, _ label: Vocabulary) -> [Block] {
        [.text(entry.text)] + field(label) + [time(minute ?? entry.at.minuteOfDay, label)]
            + [
                .button(Button(name: label(.putRight), action: .keepRight, isMain: true)),
                .button(Button(name: label(.cancel), action: .cancel)),
            ]
    }

    public func typing(_ text: String, into field: FieldId) -> Self {
        var next = self
        if field == .amount || field == .note { (next.typed, next.typedAdvice) = (text, nil) }
        return next
    }

    public func setting(_ field: FieldId, toMinute minute: Int) -> Self {
        var next = self
        if field == .happened { next.minute = minute }
        return next
    }

    public func after(_ action: Action, at now: Moment) -> Self {
        var next = self
        next.now = now
        if action != .refresh { next.outcome = .nothing }
        switch action {
        case .kind(let kind) where kind != next.kind:
            // An amount typed for one thing must not become the amount of another.
            (next.kind, next.typed, next.typedAdvice) = (kind, "", nil)
        case .add: next.add(at: now)
        case .putRight(let id): next.beginPuttingRight(id)
        case .keepRight: next.putRight(at: now)
        case .cancel: next.leave()
        case .undo: next.undo(at: now)
        case .takeBack(let id): next.takeBack(id, at: now)
        default: break
        }
        next.list(at: now)
        return next
    }

    /// Takes a file in as a whole; taking back its entry takes all of it back. A name that ends in `.json` is an HL7 FHIR bundle's,
    /// any other a table's of readings, whose local times are understood by `offsets`, those of the wearer's zone.
    public func reading(file name: String, bytes: Data, offsets: [OffsetChange], at now: Moment) -> Self {
        var next = self
        next.outcome = .nothing
        do {
            next.outcome = try name.lowercased().hasSuffix(".json") ? bundle(name, bytes, now) : table(name, bytes, offsets, now)
        } catch {
            next.outcome = .failed(advice(error))
        }
        next.list(at: now)
        return next
    }

    private func table(_ name: String, _ bytes: Data, _ offsets: [OffsetChange], _ now: Moment) throws -> Outcome {
        let options = ImportOptions(
            offsets: offsets, unit: nil, timeColumn: nil, glucoseColumn: nil, timeFormat: nil, onlyLook: false)
        return switch try companion.log().importCsv(name: name, bytes: bytes, options: options, now: now) {
        case .read(let report): taken(name, report.taken, report.findings.map(\.text))
        case .refused(let line, _, let why): .failed("\(name):\(line): \(why)")
        }
    }

    private func bundle(_ name: String, _ bytes: Data, _ now: Moment) throws -> Outcome {
        switch try companion.exchange().importBundle(name: name, bytes: bytes, onlyLook: false, now: now) {
        case .read(let report): taken(name, report.taken, report.findings)
        case .refused(let line, let why): .failed("\(name):\(line): \(why)")
        }
    }

    /// How much was taken, and the first of what was not.
    private func taken(_ name: String, _ count: UInt64, _ findings: [String]) -> Outcome {
        .said((["\(Vocabulary(companion: companion)(.kept)): \(name), \(count)"] + findings.prefix(3)).joined(separator: "\n"))
    }

    private func name(of kind: LogKind, _ label: Vocabulary) -> String {
        switch kind {
        case .meter: label(.meterShows)
        case .rapid: label(.rapidUnits)
        case .longActing: label(.longActingUnits)
        case .meal: label(.mealGrams)
        case .rescue: label(.rescueGrams)
        case .note: label(.noteText)
        case .sensorInserted: label(.sensorInserted)
        }
    }

    private func field(_ label: Vocabulary) -> [Block] {
        if kind == .sensorInserted { return [] }
        let isNote = kind == .note
        let field = Field(
            id: isNote ? .note : .amount, name: name(of: kind, label), unit: kind == .meter ? label.unit : "", typed: typed,
            advice: typedAdvice, keys: isNote ? .words : .number)
        return [.field(field)]
    }

    private func time(_ minute: Int, _ label: Vocabulary) -> Block {
        .time(TimeField(id: .happened, name: label(.happened), minuteOfDay: minute))
    }

    /// What was typed in to note this; nothing for what has no field.
    private static func kind(of what: What) -> LogKind? {
        switch what {
        case .meterCheck, .meterBeyond: .meter
        case .insulin(.rapid, _): .rapid
        case .insulin(.longActing, _): .longActing
        case .carbohydrate(_, .meal): .meal
        case .carbohydrate(_, .rescue): .rescue
        case .note: .note
        default: nil
        }
    }

    private func typed(for what: What) throws -> String {
        switch what {
        case .meterCheck(let mgDl): try companion.words().typedMeter(mgDl: mgDl, beyond: nil)
        case .meterBeyond(let beyond, let mgDl): try companion.words().typedMeter(mgDl: mgDl, beyond: beyond)
        case .insulin(_, let amount), .carbohydrate(let amount, _): try companion.words().typedNumber(number: amount)
        case .note(let text): text
        default: ""
        }
    }

    private func what() throws -> What {
        let words = try companion.words()
        return switch kind {
        case .meter: try words.readMeter(typed: typed).what
        case .rapid: .insulin(insulin: .rapid, units: try words.readNumber(typed: typed))
        case .longActing: .insulin(insulin: .longActing, units: try words.readNumber(typed: typed))
        case .meal: .carbohydrate(grams: try words.readNumber(typed: typed), purpose: .meal)
        case .rescue: .carbohydrate(grams: try words.readNumber(typed: typed), purpose: .rescue)
        case .note: .note(text: typed)
        case .sensorInserted: .sensor(event: .inserted(site: nil))
        }
    }

    private mutating func add(at now: Moment) {
        do {
            let at = minute.map(now.lastTime) ?? now
            let entry = try companion.log().record(what: what(), at: at, now: now)
            (typed, typedAdvice, minute) = ("", nil, nil)
            tell(.kept, entry)
        } catch ApiError.InvalidInput(_, let advice) {
            // What was typed stays, to be put right.
            typedAdvice = advice
        } catch {
            outcome = .failed(advice(error))
        }
    }

    private mutating func beginPuttingRight(_ id: String) {
        guard let entry = listed.first(where: { $0.entry.id == id })?.entry, let kind = Self.kind(of: entry.what) else { return }
        do {
            let text = try typed(for: entry.what)
            let before = wrong?.kindBefore ?? self.kind
            (wrong, self.kind, typed) = (Wrong(entry: entry, text: text, kindBefore: before), kind, text)
            (typedAdvice, minute) = (nil, nil)
        } catch {
            outcome = .failed(advice(error))
        }
    }

    /// Keeps what is typed in place of the entry, on the entry's own day.
    private mutating func putRight(at now: Moment) {
        guard let wrong else { return }
        // Shown in another unit an amount is rounded; what nobody touched must not change by that.
        let at = minute.map(wrong.entry.at.sameDay) ?? wrong.entry.at
        if typed == wrong.text && at == wrong.entry.at { return leave() }
        do {
            let what = typed == wrong.text ? wrong.entry.what : try what()
            let right = try companion.log().correct(id: wrong.entry.id, at: at, what: what, now: now)
            leave()
            tell(.kept, right)
        } catch ApiError.InvalidInput(_, let advice) {
            typedAdvice = advice
        } catch {
            outcome = .failed(advice(error))
        }
    }

    private mutating func leave() {
        if let wrong { kind = wrong.kindBefore }
        (wrong, typed, typedAdvice, minute) = (nil, "", nil, nil)
    }

    private mutating func undo(at now: Moment) {
        do {
            guard let undone = try companion.log().undo(now: now) else {
                outcome = .said(Vocabulary(companion: companion)(.nothingToUndo))
                return
            }
            tell(.takenBack, undone.undone)
        } catch {
            outcome = .failed(advice(error))
        }
    }

    private mutating func takeBack(_ id: String, at now: Moment) {
        do {
            _ = try companion.log().retract(id: id, now: now)
            if wrong?.entry.id == id { leave() }
            if let entry = listed.first(where: { $0.entry.id == id })?.entry { tell(.takenBack, entry) }
        } catch {
            outcome = .failed(advice(error))
        }
    }

    private mutating func list(at now: Moment) {
        let from = Moment(unixMs: now.unixMs - Self.days * 86_400_000, offsetMinutes: now.offsetMinutes)
        do {
            listed = try companion.log().list(from: from, until: now, replaced: false, readings: false)
        } catch {
            listed = []
            outcome = .failed(advice(error))
        }
    }

    private mutating func tell(_ label: Label, _ entry: Entry) {
        outcome = .said(Vocabulary(companion: companion)(label) + ": " + entry.text)
    }
}

extension Moment {
    /// By the wearer's own clock.
    var minuteOfDay: Int {
        let minutes = (Int(unixMs / 60_000) + Int(offsetMinutes)) % 1440
        return minutes < 0 ? minutes + 1440 : minutes
    }

    /// The newest moment, not after this one, at which that clock showed a minute of the day.
    func lastTime(_ minute: Int) -> Moment {
        let today = sameDay(minute)
        return today.unixMs <= unixMs ? today : Moment(unixMs: today.unixMs - 86_400_000, offsetMinutes: offsetMinutes)
    }

    /// That minute of this moment's day. What it already shows stays to the millisecond.
    func sameDay(_ minute: Int) -> Moment {
        if minute == minuteOfDay { return self }
        let within = (unixMs % 60_000 + 60_000) % 60_000
        return Moment(unixMs: unixMs - within + Int64(minute - minuteOfDay) * 60_000, offsetMinutes: offsetMinutes)
    }
}
