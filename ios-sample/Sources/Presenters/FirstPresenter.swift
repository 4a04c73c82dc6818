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
            title: shown.title, blocks: [.text(shown.place)] + notices + shown.parts.flatMap(blocks),
            pinned: (shown.canGoOn ? [next] : []) + [.help(label)])
    }

    private func blocks(_ part: FirstPart) -> [Block] {
        switch part {
        case .sentence(let text): [.sentence(text)]
        case .text(let text): [.text(text)]
        case .asked(let field): state.blocks(field)
        case .press(.findSensor, let name): [.button(Button(name: name, action: .findSensor))] + devices.blocks(companion)
        case .press(.readHealth, _): [devices.health(companion)]
        case .press(.readFile, let name): [.button(Button(name: name, action: .chooseFile))]
        case .press(.allowAlerts, let name): [.button(Button(name: name, action: .allowAlerts))]
        }
    }

    public func receiving(_ received: Received, _ devices: Devices, at now: Moment) -> Self {
        with {
            $0.devices = devices
            if !received.messages.isEmpty { $0.said = received.messages.joined(separator: "\n") }
        }
    }

    public func after(_ action: Action, at now: Moment) -> Self {
        with {
            let step = shown?.step ?? 0
            switch action {
            case .choose:
                $0.choose(action)
                let filled = $0.state.filled
                $0.ask { try $0.step(number: step, filledIn: filled) }
            case .next:
                $0.said = nil
                let filled = $0.state.filled
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
