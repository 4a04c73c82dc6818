import Ebbstead
import Foundation

/// The log by hand: add, put right, list, undo. What is asked for is core's form.
public struct LogPresenter: FormPresenter, ShowsNotice {
    private let companion: EbbsteadCompanion
    /// Without a form while nothing is being filled in.
    public var state = FormState()
    /// The entry that is being put right; nothing while something is added.
    private var wrong: String?
    var said: String?
    private var days: [LogDay] = []

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
        if days.isEmpty { blocks.append(.text(label(.logEmpty))) }
        for day in days {
            blocks.append(.text(day.day))
            for one in day.entries {
                let putRight = one.hasForm ? Button(name: label(.putRight), action: .putRight(id: one.entry.id)) : nil
                let takeBack = Button(name: label(.takeBack), action: .takeBack(id: one.entry.id))
                blocks.append(.entry(EntryRow(id: one.entry.id, clock: one.clock, text: one.entry.text, putRight: putRight, takeBack: takeBack)))
            }
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
            $0.attempt { $0.said = try companion.log().bringIn(name: name, bytes: bytes, offsets: offsets, now: now) }
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
        case .undo: said = try companion.log().takeBackLast(now: now)
        case .takeBack(let id):
            said = try companion.log().takeBack(id: id, now: now)
            if wrong == id { leave() }
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
        days = []
        attempt { $0.days = try $0.companion.log().days(now: now) }
    }
}
