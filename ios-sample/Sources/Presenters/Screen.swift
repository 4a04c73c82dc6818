import Ebbstead
import Foundation

/// What a screen shows, from top to bottom. A view draws it and sends back what is tapped or typed; it decides nothing.
public struct Screen: Equatable, Sendable {
    public var title: String
    /// A screen for the night is dark whatever the phone is set to, and its type is a step larger.
    public var isForNight = false
    public var blocks: [Block]
    /// Under the thumb, wherever one scrolls.
    public var pinned: [Button] = []
    /// Blocks over the rest, until they are answered or left.
    public var sheet: [Block]?
}

/// One thing on a screen.
public indirect enum Block: Equatable, Sendable {
    /// The answer: the largest thing there is.
    case headline(Headline)
    /// What to do and why, where the answer is a page.
    case sentence(String)
    case text(String)
    /// A paragraph of a page, in full ink.
    case said(String)
    /// The name of what follows.
    case heading(String)
    /// Something that went wrong or was just done. Read out when it appears.
    case notice(String)
    case items([String])
    /// Names with their values, one below the other.
    case figures([Figure])
    /// Folded away until it is opened.
    case fold(name: String, [Block])
    case chart(Charted)
    case field(Field)
    case time(TimeField)
    case choice(Choice)
    case button(Button)
    case entry(EntryRow)
}

/// A name, its value, and what belongs beside it.
public struct Figure: Equatable, Sendable {
    public var name: String
    public var value: String
    public var note = ""
}

/// A thing to tap.
public struct Button: Equatable, Sendable {
    public var name: String
    public var action: Action
    /// The one that matters most on its screen.
    public var isMain = false
}

/// A place to type in.
public struct Field: Equatable, Sendable {
    public var id: FieldId
    public var name: String
    /// What stands behind the typed amount: mg/dL, g.
    public var unit: String
    public var typed: String
    /// Why what was typed cannot be taken.
    public var advice: String?
    public var keys = Keys.number
    /// Nobody may read it over a shoulder: it is not shown as typed.
    public var isSecret = false

    /// With which keys it is typed.
    public enum Keys: Sendable { case number, words, phone }
}

/// A time of day to set.
public struct TimeField: Equatable, Sendable {
    public var id: FieldId
    public var name: String
    public var minuteOfDay: Int
    /// The hour and minute: 23:00.
    public var text: String { clockText(minuteOfDay) }
}

/// One of several.
public struct Choice: Equatable, Sendable {
    public var name: String
    public var options: [Option]
    /// Whether the name is written; a screen reader says it in any case.
    public var showsName = true
    /// So many that only the chosen one is shown until somebody touches it.
    public var isFolded = false

    public struct Option: Equatable, Sendable {
        public var name: String
        public var action: Action
        public var isChosen: Bool
    }
}

/// A line of the log.
public struct EntryRow: Equatable, Sendable {
    public var id: String
    public var clock: String
    public var text: String
    /// Where what it says can be typed anew.
    public var putRight: Button?
    public var takeBack: Button
}

/// What can be typed in or set.
public enum FieldId: Hashable, Sendable {
    case meter
    /// A field that the core lays out.
    case form(String)
}

/// What a tap does.
public enum Action: Hashable, Sendable {
    case look
    /// Look again because something changed, not because of a tap: what was said about the last tap stays.
    case refresh
    case feel(Symptom)
    case keepMeter
    case checked, treated, rolledOver
    /// Begin to add something; take back what was said last.
    case add, undo
    case takeBack(id: String)
    /// Begin to put an entry right; leave what is being filled in.
    case putRight(id: String)
    case cancel
    /// Let the wearer choose a file; what was chosen comes back by ``LogPresenter/reading(file:bytes:offsets:at:)``.
    case chooseFile
    /// One of several in a form that the core lays out; ask with what is filled in; keep it.
    case choose(id: String, code: String)
    case ask, save
    /// Turn to whom to call, to what is asked ahead, to the copies of the log; leave again.
    case help, before, copies, leave
    /// Dial; the app does.
    case call(String)
    /// The sensor nearby was put in when its session began.
    case sensorInserted
    /// The document was taken, or nobody wanted it.
    case documentDone(isKept: Bool)
    /// Look for sensors and meters nearby; follow one of them. What comes of it comes back by ``Presenter/receiving(_:_:at:)``.
    case findSensor, chooseSensor(String)
    /// Read the phone's health records.
    case readHealth
    /// The first start: the next step; let the system ask whether alerts may come.
    case next, allowAlerts
    /// Turn to a page of the record; do what the core offers there. Of these, another log is chosen by the app, and comes back by
    /// ``RecordPresenter/looking(into:at:)``.
    case chapter(Chapter)
    case press(RecordAct)
}

/// A file made for the wearer, to keep or to give to somebody.
public struct Document: Equatable, Sendable {
    public var name: String
    public var bytes: Data
}

/// Makes a screen of what the core answers. A presenter is a value: what is done to it makes the next one, so that the work
/// can be done away from the drawing thread and the result put in place at once.
public protocol Presenter: Sendable {
    var screen: Screen { get }
    /// What was just made for the wearer to take.
    var document: Document? { get }
    func after(_ action: Action, at now: Moment) -> Self
    /// What a source of readings said, and what became of the devices nearby.
    func receiving(_ received: Received, _ devices: Devices, at now: Moment) -> Self
    func typing(_ text: String, into field: FieldId) -> Self
    func setting(_ field: FieldId, toMinute minute: Int) -> Self
    /// Without what must not stay once the screen is left: an answer that grows old, a passphrase.
    func hidden() -> Self
}

/// A presenter of a form that the core lays out.
public protocol FormPresenter: Presenter {
    var state: FormState { get set }
}

extension FormPresenter {
    public func typing(_ text: String, into field: FieldId) -> Self { with { $0.state.put(text, into: field) } }
    public func setting(_ field: FieldId, toMinute minute: Int) -> Self { with { $0.state.set(field, toMinute: minute) } }

    mutating func choose(_ action: Action) { if case .choose(let id, let code) = action { state.put(code, into: .form(id)) } }
}

extension Presenter {
    public var document: Document? { nil }
    public func receiving(_ received: Received, _ devices: Devices, at now: Moment) -> Self { self }
    public func typing(_ text: String, into field: FieldId) -> Self { self }
    public func setting(_ field: FieldId, toMinute minute: Int) -> Self { self }
    public func hidden() -> Self { self }

    /// The same, changed.
    func with(_ change: (inout Self) -> Void) -> Self {
        var next = self
        change(&next)
        return next
    }
}

/// The advice an error carries for the wearer.
public func advice(_ error: any Error) -> String {
    guard let error = error as? ApiError else { return error.localizedDescription }
    switch error {
    case .InvalidInput(_, let advice), .NewerLog(_, _, let advice): return advice
    case .NotFound(let advice), .Closed(let advice), .Damaged(let advice), .NoRoom(let advice), .Busy(let advice),
        .Failed(let advice):
        return advice
    }
}

func twoDigits(_ number: Int) -> String { number < 10 ? "0\(number)" : "\(number)" }
