import Ebbstead

/// The prompt, by day and in the night. What stands on the screen, in which order, whether it is drawn for the night, and what a tap notes is
/// the core's to say.
public struct PromptPresenter: Presenter, ShowsNotice {
    private let screens: PromptScreens?
    private let phoneState: PhoneState
    private var shown: PromptScreen?
    private var isAsked = false
    /// What was typed of the meter since the core laid its field out.
    private var typed: String?
    /// Why nothing could be shown.
    var said: String?

    /// Nothing is asked until the screen is shown: what the core answers is kept as shown. By what lies beside the log core knows whether a
    /// ring woke the wearer.
    public init(_ companion: EbbsteadCompanion, _ phoneState: PhoneState = PhoneState(log: ""), at now: Moment) {
        self.phoneState = phoneState
        screens = try? companion.promptScreens()
        shown = try? screens?.unasked(state: state(), now: now)
    }

    /// What the next tap goes on from; or, without what was said and asked, the next question.
    private func state(whole: Bool = false) -> PromptState {
        let before = shown?.state
        return PromptState(
            noted: whole ? before?.noted : nil, meter: whole ? before?.meter : nil, alerts: phoneState.values.alerts, atNight: before?.atNight,
            leftNight: before?.leftNight ?? false, woken: before?.woken)
    }

    public var screen: Screen {
        guard let shown else {
            let help = HelpPresenter(phoneState.values, language: "en").screen.title
            return Screen(title: "", blocks: notices, pinned: [Button(name: help, action: .help)])
        }
        let pinned = shown.pinned.map(Button.init)
        // In the night the hour stands above it.
        let title = [shown.title, shown.atNight ? shown.clock : ""].filter { !$0.isEmpty }.joined(separator: " · ")
        // In the answer's place, for nothing may lie over the way to help.
        if let meter = shown.state.meter {
            let asked: [Block] = [
                .field(meter.holding(typed ?? meter.value, advice: typed == nil ? meter.advice : nil)),
                .button(Button(name: shown.keep, action: .keepMeter, isMain: true)),
                .button(Button(name: shown.leave, action: .prompt(.leaveMeter))),
            ]
            return Screen(title: title, isForNight: shown.atNight, blocks: asked, pinned: pinned.filter { $0.action == .help })
        }
        let back: [Block] = shown.atNight ? [.button(Button(name: shown.back, action: .prompt(.leaveNight)))] : []
        // What could not be shown is said in the answer's place.
        let parts = (isAsked ? [] : notices) + shown.parts.flatMap(Self.blocks)
        return Screen(title: title, isForNight: shown.atNight, blocks: parts + back, pinned: pinned)
    }

    private static func blocks(_ part: PromptPart) -> [Block] {
        switch part {
        case .lead(let headline): [.headline(headline)]
        case .became(let noted): [.notice(noted.text)] + (noted.undo.map { [.button(Button(name: $0, action: .prompt(.undo)))] } ?? [])
        case .notice(let text): [.notice(text)]
        case .items(let list): blocks(list)
        case .drawn(let chart): [.chart(.path(chart))]
        case .press(let button): [.button(Button(button))]
        case .folded(let more, _, let lists): [.fold(name: more, lists.flatMap(blocks))]
        case .text(let text): [.text(text)]
        }
    }

    private static func blocks(_ list: NamedItems) -> [Block] { (list.name.map { [.heading($0)] } ?? []) + [.items(list.items)] }

    public func typing(_ text: String, into field: String) -> Self { with { if field == shown?.state.meter?.id { $0.typed = text } } }

    public func after(_ action: Action, at now: Moment) -> Self {
        with {
            let (before, typed) = (state(whole: true), typed ?? "")
            if action != .refresh { $0.typed = nil }
            // An answer to an earlier question must not be taken for one to this.
            ($0.shown, $0.isAsked, $0.said) = (try? screens?.unasked(state: state(), now: now), false, nil)
            $0.attempt {
                switch action {
                case .keepMeter: $0.shown = try screens?.metered(typed: typed, state: before, now: now)
                case .prompt(let tap): $0.shown = try screens?.tapped(tap: tap, state: before, now: now)
                default: $0.shown = try screens?.tapped(tap: .refresh, state: before, now: now)
                }
                $0.isAsked = true
            }
        }
    }

    /// For an app that comes to the front: whether it is night is decided anew.
    func anew(at now: Moment) -> Self { with { $0.shown = nil }.hidden(at: now) }

    /// An answer grows old, and a question that was begun is not what one comes back to.
    public func hidden(at now: Moment) -> Self {
        with {
            ($0.isAsked, $0.typed, $0.said) = (false, nil, nil)
            $0.shown = try? screens?.unasked(state: state(), now: now)
        }
    }
}

extension Button {
    init(_ button: PromptButton) {
        // What leads to another screen, or to the phone, does so wherever it is tapped.
        let action: Action =
            switch button.tap {
            case .help: .help
            case .before: .before
            case .allowAlerts: .phone(.allowAlerts)
            default: .prompt(button.tap)
            }
        self.init(name: button.text, action: action, isMain: button.isMain)
    }
}
