import Ebbstead
import Foundation

/// A page of the record: the core's page, what is asked of it, and what is done about it.
protocol RecordPage: Presenter {
    var state: PageState { get set }
    /// Above the core's page, and below it.
    var above: [Block] { get }
    var below: [Block] { get }
    /// The core's page by what is typed, and how it is shown.
    func page(_ state: inout PageState, at now: Moment) throws -> Page?
    func shown(_ page: Page) -> [Block]
    /// Does what was tapped. Says whether the page is asked anew after it.
    mutating func done(_ action: Action, at now: Moment) -> Bool
}

extension RecordPage {
    var above: [Block] { [] }
    var document: Document? { state.document }
    var screen: Screen { Screen(title: "", blocks: state.notices + above + (state.page.map(shown) ?? []) + below) }

    func shown(_ page: Page) -> [Block] { page.blocks }

    func typing(_ text: String, into field: FieldId) -> Self { with { $0.state.type(text, into: field) } }

    func after(_ action: Action, at now: Moment) -> Self {
        with {
            $0.state.begin(action)
            if action != .documentDone, $0.done(action, at: now) { $0.look(at: now) }
        }
    }

    mutating func done(_ action: Action, at now: Moment) -> Bool { true }

    /// Asks for the page anew. An answer to an earlier question must not be taken for one to this.
    mutating func look(at now: Moment) {
        let page = self
        (state.page, state.day, state.isNew) = (nil, nil, false)
        state.attempt(state.typed[.days].map { _ in .days }) { $0.page = try page.page(&$0, at: now) }
    }
}

/// What the pages share: the core's page, what is typed beside it, and what became of it.
struct PageState: ShowsNotice {
    let companion: EbbsteadCompanion
    var page: Page?
    var day: DayChart?
    var form = FormState()
    var typed: [FieldId: String]
    var advices: [FieldId: String] = [:]
    var said: String?
    var document: Document?
    /// Nobody asked yet.
    var isNew = true

    init(_ companion: EbbsteadCompanion, typed: [FieldId: String] = [:]) { (self.companion, self.typed) = (companion, typed) }

    var label: Vocabulary { Vocabulary(companion: companion) }

    func field(_ id: FieldId, _ name: Label, keys: Field.Keys = .number, isSecret: Bool = false) -> Block {
        .field(Field(id: id, name: label(name), unit: "", typed: typed[id] ?? "", advice: advices[id], keys: keys, isSecret: isSecret))
    }

    func button(_ name: Label, _ action: Action, isMain: Bool = false) -> Block { label.button(name, action, isMain: isMain) }

    /// What is typed, where it is more than spaces.
    func text(_ id: FieldId) -> String? { typed[id].flatMap { $0.allSatisfy(\.isWhitespace) ? nil : $0 } }

    /// A number of days. One that no page can be of is left to the core to refuse.
    func days(_ id: FieldId) throws -> UInt16 {
        let number = try companion.words().readNumber(typed: typed[id] ?? "")
        return (1...3660).contains(number) ? UInt16(exactly: number) ?? 0 : 0
    }

    mutating func type(_ text: String, into field: FieldId) {
        form.put(text, into: field)
        (typed[field], advices[field]) = (text, nil)
    }

    /// Before an action: what was said about the last tap goes, unless only something changed.
    mutating func begin(_ action: Action) {
        if case .refresh = action { return }
        document = nil
        // What was said of the document stays to be read once it is put away.
        if case .documentDone = action { return }
        (said, advices) = (nil, [:])
    }

    /// What the core refuses is said beside the field it came from; what is no matter of a field, above all.
    mutating func attempt(_ field: FieldId?, _ work: (inout Self) throws -> Void) { attempt(beside: { _ in field }, work) }

    /// The same where it may have been typed into one of several fields: `place` finds it by the core's name of it.
    mutating func attempt(beside place: (String) -> FieldId?, _ work: (inout Self) throws -> Void) {
        do { try work(&self) } catch ApiError.InvalidInput(let what, let advice) where place(what) != nil {
            if let field = place(what) { advices[field] = advice }
        } catch { said = advice(error) }
    }

    /// A number as typed; nothing where none is typed and none is needed, or where it is none, which is said beside it.
    mutating func number(_ id: FieldId, isNeeded: Bool = false) -> Double? {
        guard isNeeded || text(id) != nil else { return nil }
        var read: Double?
        attempt(id) { read = try $0.companion.words().readNumber(typed: $0.typed[id] ?? "") }
        return read
    }

    /// A text of the core's as a document.
    mutating func write(_ name: String, beside field: FieldId, at now: Moment, _ text: (Self) throws -> String) {
        attempt(field) { $0.document = Document(name: name, bytes: Data(try text($0).utf8)) }
    }

    /// Notes something, and says so.
    mutating func note(_ what: EntryKind, at: Moment, now: Moment) throws {
        said = label.confirmation(try companion.log().record(what: what, at: at, now: now), .kept)
    }

    /// Takes back what was noted last.
    mutating func undo(at now: Moment) { attempt(nil) { $0.said = try $0.companion.undone(at: now) } }

    mutating func forget(_ fields: [FieldId]) { for field in fields { typed[field] = "" } }
}

extension Moment {
    /// The day by the wearer's own clock, as 2026-03-14.
    var dateText: String {
        let day = Date(timeIntervalSince1970: Double(unixMs) / 1000 + Double(offsetMinutes) * 60)
        return day.formatted(.iso8601.year().month().day())
    }
}
