import Ebbstead

/// The first start. What is asked in which step, and what cannot be taken, is the core's to say; where readings come from is the phone's.
public struct FirstPresenter: FormPresenter, ShowsNotice {
    private let companion: EbbsteadCompanion
    private var shown: FirstScreen?
    public var state = FormState()
    var said: String?
    private var devices = Devices()

    public init(_ companion: EbbsteadCompanion) {
        self.companion = companion
        ask { try $0.step(number: 0, filledIn: [:]) }
    }

    public var screen: Screen {
        let label = Vocabulary(companion: companion)
        guard let shown else { return Screen(title: label(.firstTitle), blocks: notices, pinned: [.help(label)]) }
        let next = Button(name: shown.next, action: shown.isLast ? .leave : .next, isMain: true)
        return Screen(
            title: shown.title, blocks: [.text(shown.place)] + notices + shown.parts.flatMap { devices.blocks($0, companion, state) },
            pinned: (shown.canGoOn ? [next] : []) + (shown.back.map { [Button(name: $0, action: .back)] } ?? []) + [.help(label)])
    }

    public func receiving(_ received: Received, _ devices: Devices, at now: Moment) -> Self {
        with {
            $0.devices = devices
            $0.said = remarked(unseen: said, texts: received.messages)
        }
    }

    public func after(_ action: Action, at now: Moment) -> Self {
        with {
            $0.choose(action)
            let (step, filled) = (shown?.step ?? 0, $0.state.filled)
            switch action {
            case .choose: $0.ask { try $0.step(number: step, filledIn: filled) }
            case .back: $0.ask { try $0.step(number: step - 1, filledIn: [:]) }
            case .next:
                $0.said = nil
                $0.ask { try $0.next(number: step, filledIn: filled, now: now) }
            default: break
            }
        }
    }

    /// What was filled in belongs to its step.
    private mutating func ask(_ question: (FirstScreens) throws -> FirstScreen) {
        attempt {
            let screen = try question(try $0.companion.firstScreens(hasHealth: true))
            let fields = screen.parts.compactMap { if case .asked(let field) = $0 { field } else { nil } }
            $0.state.show(Form(heading: "", fields: fields, main: ""), taken: screen.step != $0.shown?.step)
            $0.shown = screen
        }
    }
}
