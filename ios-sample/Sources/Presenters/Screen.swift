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
}

/// One thing on a screen.
public indirect enum Block: Equatable, Sendable {
    /// The answer: the largest thing there is.
    case headline(PromptHeadline)
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
    /// A place to type in, or a time of day to set, with what stands there and what is said against it.
    case field(FormField)
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
    /// What can be done about it: typed anew, where that can be, or taken back.
    public var buttons: [Button]

    init(_ listed: Listed, _ label: Vocabulary) {
        (id, clock, text) = (listed.entry.id, listed.clock, listed.entry.text)
        buttons = listed.hasForm ? [Button(name: label(.putRight), action: .log(.putRight(id: id)))] : []
        buttons.append(Button(name: label(.takeBack), action: .log(.takeBack(id: id))))
    }

    /// Many lines have a button of the same name; a reader must hear whose it is.
    public func spokenName(of button: Button) -> String { "\(button.name): \(text)" }
}

/// What a tap does. Of what is tapped on a screen of the core's, the core's own name.
public enum Action: Hashable, Sendable {
    /// Look again because something changed, not because of a tap: what was said about the last tap stays.
    case refresh
    /// On a screen with a prompt; keep what the meter shows.
    case prompt(PromptTap), keepMeter
    /// On the log's screen.
    case log(LogTap)
    /// Turn to a page of the record; do what the core offers there. Of these, another log is chosen by the app, and comes back by
    /// ``RecordPresenter/looking(into:at:)``.
    case chapter(Chapter)
    case press(RecordAct)
    /// What only the phone can do. A file that was chosen comes back by ``ShellModel/read(file:bytes:)``; what a device nearby or the health
    /// records say, by ``Presenter/receiving(_:_:at:)``.
    case phone(FirstAsk)
    /// Follow one of the devices nearby; read it no longer, or, without one, the health records.
    case chooseSensor(String), leaveSource(String?)
    /// Ring once, for the wearer to hear it.
    case tryAlert
    /// One of several in a form that the core lays out; ask with what is filled in; keep it; the next step of the first start, and the one before.
    case choose(id: String, code: String)
    case ask, save, next, back
    /// Turn to whom to call, to what is asked ahead, to the copies of the log; leave again.
    case help, before, copies, leave
    /// Dial; the app does.
    case call(String)
    /// The document was taken, or nobody wanted it, or it could not be kept.
    case documentDone(isKept: Bool = false, why: String? = nil)
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
    /// What was typed, or set, in a field.
    func typing(_ text: String, into field: String) -> Self
    /// Without what must not stay once the screen is left: an answer that grows old, a passphrase.
    func hidden(at now: Moment) -> Self
}

/// A presenter of a form that the core lays out.
public protocol FormPresenter: Presenter {
    var state: FormState { get set }
}

extension FormPresenter {
    public func typing(_ text: String, into field: String) -> Self { with { $0.state.put(text, into: field) } }

    mutating func choose(_ action: Action) { if case .choose(let id, let code) = action { state.put(code, into: id) } }
}

extension Presenter {
    public var document: Document? { nil }
    public func after(_ action: Action, at now: Moment) -> Self { self }
    public func receiving(_ received: Received, _ devices: Devices, at now: Moment) -> Self { self }
    public func typing(_ text: String, into field: String) -> Self { self }
    public func hidden(at now: Moment) -> Self { self }

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
