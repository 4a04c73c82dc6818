import Ebbstead
import Foundation

/// The log by hand: add, put right, list, undo. What is asked for is core's form.
public struct LogPresenter: FormPresenter, ShowsNotice {
    /// How many days the list goes back.
    private static let days: Int64 = 7

    private let companion: EbbsteadCompanion
    /// Without a form while nothing is being filled in.
    public var state = FormState()
    /// The entry that is being put right; nothing while something is added.
    private var wrong: String?
    var said: String?
    private var listed: [Listed] = []

    public init(_ companion: EbbsteadCompanion, at now: Moment) {
        self.companion = companion
        list(at: now)
    }

    public var screen: Screen {
        let label = Vocabulary(companion: companion)
        var blocks = notices
        if let form = state.form {
            blocks += [.heading(form.heading)] + state.blocks(then: .save) + [label.button(.cancel, .cancel)]
        } else {
            blocks += [label.button(.addEntry, .add, isMain: true), label.button(.undoLast, .undo), label.button(.readFile, .chooseFile)]
        }
        if listed.isEmpty { blocks.append(.text(label(.logEmpty))) }
        // The newest first, each day under its date.
        var day = ""
        for one in listed.reversed() {
            if one.day != day {
                day = one.day
                blocks.append(.text(day))
            }
            let id = one.entry.id
            let putRight = one.hasForm ? Button(name: label(.putRight), action: .putRight(id: id)) : nil
            let takeBack = Button(name: label(.takeBack), action: .takeBack(id: id))
            blocks.append(.entry(EntryRow(id: id, clock: one.clock, text: one.entry.text, putRight: putRight, takeBack: takeBack)))
        }
        return Screen(title: label(.screenLog), blocks: blocks, pinned: [.help(label)])
    }

    public func after(_ action: Action, at now: Moment) -> Self {
        with {
            // What is being filled in stays, whatever changes elsewhere.
            if action != .refresh { $0.said = nil }
            $0.attempt { try $0.done(action, at: now) }
            $0.list(at: now)
        }
    }

    /// Takes a file in as a whole; taking back its entry takes all of it back. `offsets` are those of the wearer's zone.
    public func reading(file name: String, bytes: Data, offsets: [OffsetChange], at now: Moment) -> Self {
        with {
            $0.said = companion.bringIn(name, bytes, offsets, at: now)
            $0.list(at: now)
        }
    }

    private mutating func done(_ action: Action, at now: Moment) throws {
        switch action {
        case .add: try open(nil, at: now)
        case .putRight(let id): try open(id, at: now)
        case .choose:
            choose(action)
            state.show(try companion.log().form(filledIn: state.filled, id: wrong, now: now))
        case .save:
            let kept = try companion.log().keep(filledIn: state.filled, id: wrong, now: now)
            // What cannot be taken stays, with what is wrong with it.
            guard let message = kept.message else { return state.show(kept.form) }
            leave()
            said = message
        case .cancel: leave()
        case .undo: said = try companion.undone(at: now)
        case .takeBack(let id):
            _ = try companion.log().retract(id: id, now: now)
            if wrong == id { leave() }
            if let entry = listed.first(where: { $0.entry.id == id })?.entry { said = Vocabulary(companion: companion).confirmation(entry, .takenBack) }
        default: break
        }
    }

    private mutating func open(_ id: String?, at now: Moment) throws {
        leave()
        state.show(try companion.log().form(filledIn: [:], id: id, now: now))
        wrong = id
    }

    private mutating func leave() { (state, wrong) = (FormState(), nil) }

    private mutating func list(at now: Moment) {
        let from = Moment(unixMs: now.unixMs - Self.days * 86_400_000, offsetMinutes: now.offsetMinutes)
        listed = []
        attempt { $0.listed = try $0.companion.log().list(from: from, until: now, replaced: false, readings: false) }
    }
}
