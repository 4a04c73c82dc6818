import Ebbstead
import Foundation

/// The log by hand: add, put right, list, undo. What is asked for is core's form.
public struct LogPresenter: FormPresenter {
    /// How many days the list goes back.
    private static let days: Int64 = 7

    private let companion: EbbsteadCompanion
    /// Without a form while nothing is being filled in.
    public var state = FormState()
    /// The entry that is being put right; nothing while something is added.
    private var wrong: String?
    private var outcome = Outcome.nothing
    private var listed: [Listed] = []

    public init(_ companion: EbbsteadCompanion, at now: Moment) {
        self.companion = companion
        list(at: now)
    }

    public var screen: Screen {
        let label = Vocabulary(companion: companion)
        var blocks = outcome.blocks
        if let form = state.form {
            blocks += [.heading(form.heading)] + state.blocks
            if !form.main.isEmpty { blocks.append(.button(Button(name: form.main, action: .save, isMain: true))) }
            blocks.append(.button(Button(name: label(.cancel), action: .cancel)))
        } else {
            blocks += [
                .button(Button(name: label(.addEntry), action: .add, isMain: true)),
                .button(Button(name: label(.undoLast), action: .undo)),
                .button(Button(name: label(.readFile), action: .chooseFile)),
            ]
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
        var next = self
        let label = Vocabulary(companion: companion)
        // What is being filled in stays, whatever changes elsewhere.
        if action != .refresh { next.outcome = .nothing }
        do {
            switch action {
            case .add: try next.open(nil, at: now)
            case .putRight(let id): try next.open(id, at: now)
            case .choose(let id, let code):
                next.state.put(code, into: .form(id))
                next.state.show(try companion.log().form(filledIn: next.state.filled, id: wrong, now: now))
            case .save: try next.keep(at: now)
            case .cancel: next.leave()
            case .undo:
                next.outcome = .said(try companion.undone(at: now))
            case .takeBack(let id):
                _ = try companion.log().retract(id: id, now: now)
                if wrong == id { next.leave() }
                if let entry = listed.first(where: { $0.entry.id == id })?.entry { next.outcome = .said(label.told(entry, .takenBack)) }
            default: break
            }
        } catch {
            next.outcome = .failed(advice(error))
        }
        next.list(at: now)
        return next
    }

    /// Takes a file in as a whole; taking back its entry takes all of it back. `offsets` are those of the wearer's zone.
    public func reading(file name: String, bytes: Data, offsets: [OffsetChange], at now: Moment) -> Self {
        var next = self
        next.outcome = companion.bringIn(name, bytes, offsets, at: now)
        next.list(at: now)
        return next
    }

    private mutating func open(_ id: String?, at now: Moment) throws {
        leave()
        state.show(try companion.log().form(filledIn: [:], id: id, now: now))
        wrong = id
    }

    /// What cannot be taken stays, with what is wrong with it.
    private mutating func keep(at now: Moment) throws {
        let kept = try companion.log().keep(filledIn: state.filled, id: wrong, now: now)
        guard let told = kept.told else { return state.show(kept.form) }
        leave()
        outcome = .said(told)
    }

    private mutating func leave() { (state, wrong) = (FormState(), nil) }

    private mutating func list(at now: Moment) {
        let from = Moment(unixMs: now.unixMs - Self.days * 86_400_000, offsetMinutes: now.offsetMinutes)
        do {
            listed = try companion.log().list(from: from, until: now, replaced: false, readings: false)
        } catch {
            (listed, outcome) = ([], .failed(advice(error)))
        }
    }
}
