import Ebbstead

/// The prompt, by day and after waking. What stands on the screen, in which order, and what a tap notes is the core's to say.
public struct PromptPresenter: Presenter, ShowsNotice {
    private let screens: PromptScreens?
    private let isForNight: Bool
    private var shown: PromptScreen?
    private var isAsked = false
    /// What was typed of the meter since the core laid its field out.
    private var typed: String?
    /// Why nothing could be shown.
    var said: String?

    /// Nothing is asked until the screen is shown: what the core answers is kept as shown.
    public init(_ companion: EbbsteadCompanion, isForNight: Bool = false) {
        self.isForNight = isForNight
        screens = try? companion.promptScreens(atNight: isForNight)
        shown = try? screens?.unasked()
    }

    public var screen: Screen {
        guard let shown else { return Screen(title: "", isForNight: isForNight, blocks: notices) }
        let pinned = shown.pinned.map(Button.init)
        // In the answer's place, for nothing may lie over the way to help.
        if let meter = shown.state.meter {
            let asked: [Block] = [
                .field(meter.holding(typed ?? meter.value, advice: typed == nil ? meter.advice : nil)),
                .button(Button(name: shown.keep, action: .keepMeter, isMain: true)),
                .button(Button(name: shown.leave, action: .prompt(.leaveMeter))),
            ]
            return Screen(title: shown.title, isForNight: isForNight, blocks: asked, pinned: pinned.filter { $0.action == .help })
        }
        let parts = shown.parts.flatMap(Self.blocks)
        // What could not be shown is said in the answer's place.
        return Screen(title: shown.title, isForNight: isForNight, blocks: isAsked ? parts : notices + parts, pinned: pinned)
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
            let (before, typed) = (shown?.state ?? PromptState(noted: nil, meter: nil), typed ?? "")
            if action != .refresh { $0.typed = nil }
            // An answer to an earlier question must not be taken for one to this.
            ($0.shown, $0.isAsked, $0.said) = (try? screens?.unasked(), false, nil)
            $0.attempt {
                switch action {
                case .keepMeter: $0.shown = try screens?.metered(typed: typed, now: now)
                case .prompt(let tap): $0.shown = try screens?.tapped(tap: tap, state: before, now: now)
                default: $0.shown = try screens?.tapped(tap: .refresh, state: before, now: now)
                }
                $0.isAsked = true
            }
        }
    }

    /// An answer grows old, and a sheet is not what one comes back to.
    public func hidden() -> Self { with { ($0.shown, $0.isAsked, $0.typed) = (try? screens?.unasked(), false, nil) } }
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
