import Ebbstead
import Foundation

/// The log by hand: add, list, undo.
public struct LogPresenter: Presenter {
    /// How many days the list goes back.
    private static let days: Int64 = 7

    private let companion: EbbsteadCompanion
    private var kind = LogKind.meter
    private var typed = ""
    private var typedAdvice: String?
    private var outcome = Outcome.nothing
    private var listed: [Listed] = []

    public init(_ companion: EbbsteadCompanion, at now: Moment) {
        self.companion = companion
        list(at: now)
    }

    public var screen: Screen {
        let label = Vocabulary(companion: companion)
        var blocks = outcome.blocks
        blocks.append(
            .choice(
                Choice(
                    name: label(.add),
                    options: LogKind.allCases.map { .init(name: name(of: $0, label), action: .kind($0), isChosen: $0 == kind) })))
        if let field = field(label) { blocks.append(.field(field)) }
        blocks += [
            .button(Button(name: label(.add), action: .add, isMain: true)),
            .button(Button(name: label(.undoLast), action: .undo)),
            .button(Button(name: label(.readFile), action: .chooseFile)),
        ]
        if listed.isEmpty { blocks.append(.text(label(.logEmpty))) }
        // The newest first, each day under its date.
        var day = ""
        for one in listed.reversed() {
            if one.day != day {
                day = one.day
                blocks.append(.text(day))
            }
            let takeBack = Button(name: label(.takeBack), action: .takeBack(id: one.entry.id))
            blocks.append(.entry(EntryRow(id: one.entry.id, clock: one.clock, text: one.entry.text, takeBack: takeBack)))
        }
        return Screen(title: label(.screenLog), blocks: blocks)
    }

    public func typing(_ text: String, into field: FieldId) -> Self {
        var next = self
        if field == .amount || field == .note { (next.typed, next.typedAdvice) = (text, nil) }
        return next
    }

    public func after(_ action: Action, at now: Moment) -> Self {
        var next = self
        if action != .refresh { next.outcome = .nothing }
        switch action {
        case .kind(let kind) where kind != next.kind:
            // An amount typed for one thing must not become the amount of another.
            (next.kind, next.typed, next.typedAdvice) = (kind, "", nil)
        case .add: next.add(at: now)
        case .undo: next.undo(at: now)
        case .takeBack(let id): next.takeBack(id, at: now)
        default: break
        }
        next.list(at: now)
        return next
    }

    /// Takes a file of readings in as a whole; taking back its entry takes all of it back. `offsets` are those of the wearer's
    /// zone, by which the file's local times are understood.
    public func reading(file name: String, bytes: Data, offsets: [OffsetChange], at now: Moment) -> Self {
        var next = self
        let options = ImportOptions(
            offsets: offsets, unit: nil, timeColumn: nil, glucoseColumn: nil, timeFormat: nil, onlyLook: false)
        do {
            let label = Vocabulary(companion: companion)
            switch try companion.log().importCsv(name: name, bytes: bytes, options: options, now: now) {
            case .read(let report): next.outcome = .said("\(label(.kept)): \(name), \(report.taken)")
            case .refused(let line, _, let why): next.outcome = .failed("\(name):\(line): \(why)")
            }
        } catch {
            next.outcome = .failed(advice(error))
        }
        next.list(at: now)
        return next
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

    private func field(_ label: Vocabulary) -> Field? {
        if kind == .sensorInserted { return nil }
        let isNote = kind == .note
        return Field(
            id: isNote ? .note : .amount, name: name(of: kind, label), unit: kind == .meter ? label.unit : "", typed: typed,
            advice: typedAdvice, isNumber: !isNote)
    }

    private func what() throws -> What {
        let words = try companion.words()
        return switch kind {
        case .meter: .meterCheck(mgDl: try words.readGlucose(typed: typed))
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
            let entry = try companion.log().record(what: what(), at: now, now: now)
            (typed, typedAdvice) = ("", nil)
            tell(.kept, entry)
        } catch ApiError.InvalidInput(_, let advice) {
            // What was typed stays, to be put right.
            typedAdvice = advice
        } catch {
            outcome = .failed(advice(error))
        }
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
