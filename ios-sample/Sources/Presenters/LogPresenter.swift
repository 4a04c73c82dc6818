import Ebbstead
import Foundation

/// The log by hand, and where readings come from. What stands on it and what a tap does is the core's to say; what came of a device nearby is
/// the phone's.
public struct LogPresenter: FormPresenter, ShowsNotice {
    private let companion: EbbsteadCompanion
    private let screens: LogScreens?
    private var shown: LogScreen?
    private var goesOn = LogState()
    public var state = FormState()
    /// Why nothing could be done.
    var said: String?
    private var devices = Devices()

    public init(_ companion: EbbsteadCompanion, at now: Moment) {
        self.companion = companion
        screens = try? companion.logScreens(hasHealth: true)
        tap(.look, at: now)
    }

    public var screen: Screen {
        let label = Vocabulary(companion: companion)
        var blocks = notices
        if let noted = shown?.noted {
            blocks += [.notice(noted.text)] + (noted.undo.map { [.button(Button(name: $0, action: .log(.undo)))] } ?? [])
        }
        if let form = shown?.form {
            blocks += [.heading(form.heading)] + state.blocks(then: .log(.keep)) + [label.button(.cancel, .log(.look))]
        } else {
            blocks.append(label.button(.addEntry, .log(.add), isMain: true))
        }
        if let inserted = shown?.inserted { blocks.append(.button(Button(name: inserted, action: .log(.inserted), isMain: true))) }
        if let empty = shown?.empty { blocks.append(.text(empty)) }
        for day in shown?.days ?? [] { blocks += [.heading(day.day)] + day.entries.map { .entry(EntryRow($0, label)) } }
        blocks += (shown?.form == nil ? shown?.sources ?? [] : []).flatMap { devices.blocks($0, companion) }
        return Screen(title: label(.screenLog), blocks: blocks, pinned: [.help(label)])
    }

    public func after(_ action: Action, at now: Moment) -> Self {
        with {
            $0.choose(action)
            switch action {
            case .log(let tap): $0.tap(tap, at: now)
            case .choose: $0.tap(.fill, at: now)
            default: $0.tap(.refresh, at: now)
            }
        }
    }

    /// Takes a file in as a whole; taking back its entry takes all of it back. Why it cannot be read is said as well. `offsets` are those of the wearer's zone.
    public func reading(file: URL, offsets: [OffsetChange], at now: Moment) -> Self {
        with { $0.ask { try $0.bringIn(name: file.lastPathComponent, bytes: file.read(), offsets: offsets, state: $1.goesOn, now: now) } }
    }

    public func receiving(_ received: Received, _ devices: Devices, at now: Moment) -> Self {
        with {
            $0.devices = devices
            if received.messages.isEmpty, received.sessionBegan == nil { return }
            let unseen = remarked(unseen: goesOn.unseen, texts: received.messages)
            $0.goesOn = LogState(noted: goesOn.noted, asked: goesOn.asked, unseen: unseen, began: received.sessionBegan ?? goesOn.began)
            $0.tap(.refresh, at: now)
        }
    }

    private mutating func tap(_ tap: LogTap, at now: Moment) {
        // What is being filled in stays, whatever changes elsewhere.
        let isRefresh = tap == .refresh
        ask(keepsTyped: isRefresh) { try $0.tapped(tap: tap, filledIn: isRefresh ? [:] : $1.state.filled, state: $1.goesOn, now: now) }
    }

    private mutating func ask(keepsTyped: Bool = false, _ question: (LogScreens, Self) throws -> LogScreen) {
        if !keepsTyped { said = nil }
        attempt { next in
            guard let screens = next.screens else { return }
            let screen = try question(screens, next)
            (next.shown, next.goesOn) = (screen, screen.state)
            if !keepsTyped { next.state = FormState(screen.form) }
        }
    }
}
