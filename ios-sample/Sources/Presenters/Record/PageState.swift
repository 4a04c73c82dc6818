import Ebbstead
import Foundation

/// What the pages share: the page as the core told it, what is typed beside it, and what became of it.
struct PageState {
    let companion: EbbsteadCompanion
    var page: Page?
    /// What came of the core's form, if the page has one.
    var answer: FormAnswer?
    var typed: [FieldId: String]
    var advices: [FieldId: String] = [:]
    var outcome = Outcome.nothing
    var document: Document?
    /// Nobody asked yet.
    var isNew = true

    init(_ companion: EbbsteadCompanion, typed: [FieldId: String] = [:]) { (self.companion, self.typed) = (companion, typed) }

    var label: Vocabulary { Vocabulary(companion: companion) }

    func field(_ id: FieldId, _ name: Label, unit: String = "", keys: Field.Keys = .number) -> Block {
        .field(Field(id: id, name: label(name), unit: unit, typed: typed[id] ?? "", advice: advices[id], keys: keys))
    }

    /// What is typed, where it is more than spaces.
    func text(_ id: FieldId) -> String? {
        typed[id].flatMap { $0.allSatisfy(\.isWhitespace) ? nil : $0 }
    }

    /// A number of days. One that no page can be of is left to the core to refuse.
    func days(_ id: FieldId) throws -> UInt16 {
        let number = try companion.words().readNumber(typed: typed[id] ?? "")
        return (1...3660).contains(number) ? UInt16(exactly: number) ?? 0 : 0
    }

    mutating func type(_ text: String, into field: FieldId) { (typed[field], advices[field]) = (text, nil) }

    /// Before an action: what was said about the last tap goes, unless only something changed.
    mutating func begin(_ action: Action) {
        if case .refresh = action { return }
        document = nil
        // What was said of the document stays to be read once it is put away.
        if case .documentDone = action { return }
        (outcome, advices) = (.nothing, [:])
    }

    /// Asks for the page anew. An answer to an earlier question must not be taken for one to this.
    mutating func show(_ field: FieldId?, _ ask: (inout Self) throws -> Page?) {
        (page, answer, isNew) = (nil, nil, false)
        attempt(field) { state in state.page = try ask(&state) }
    }

    /// What the core refuses is said beside the field it came from; what is no matter of a field, above all.
    mutating func attempt(_ field: FieldId?, _ work: (inout Self) throws -> Void) { attempt(beside: { _ in field }, work) }

    /// The same where it may have been typed into one of several fields: `place` finds it by the core's name of it.
    mutating func attempt(beside place: (String) -> FieldId?, _ work: (inout Self) throws -> Void) {
        do { try work(&self) } catch ApiError.InvalidInput(let what, let advice) where place(what) != nil {
            if let field = place(what) { advices[field] = advice }
        } catch {
            outcome = .failed(advice(error))
        }
    }

    /// A number as typed; nothing where none is typed and none is needed, or where it is none, which is said beside it.
    mutating func number(_ id: FieldId, isNeeded: Bool = false) -> Double? {
        guard isNeeded || text(id) != nil else { return nil }
        var read: Double?
        attempt(id) { read = try $0.companion.words().readNumber(typed: $0.typed[id] ?? "") }
        return read
    }

    /// Takes back what was noted last.
    mutating func undo(at now: Moment) {
        attempt(nil) { state in
            let undone = try state.companion.log().undo(now: now)
            state.outcome = .said(undone.map { state.label.told($0.undone, .takenBack) } ?? state.label(.nothingToUndo))
        }
    }

    mutating func forget(_ fields: [FieldId]) { for field in fields { typed[field] = nil } }
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
