import Ebbstead

/// The first start: asks for what must not be assumed, a step at a time, and nothing else.
public struct FirstPresenter: FormPresenter, ShowsNotice {
    private enum Step: Int, CaseIterable {
        /// What this is and is not; unit and language; where readings come from; lines, night and whom to call; whether alerts may wake.
        case standing, own, sources, lines, wakes

        /// What is asked of core's form of settings.
        var fields: [String] {
            switch self {
            case .own: ["unit", "language"]
            case .lines: ["low_line", "high_line", "night_from", "night_until", "emergency", "contact"]
            default: []
            }
        }
    }

    private let companion: EbbsteadCompanion
    private var step = Step.standing
    public var state = FormState()
    var said: String?
    private var devices = Devices()

    public init(_ companion: EbbsteadCompanion) {
        self.companion = companion
        layOut()
    }

    public var screen: Screen {
        let label = Vocabulary(companion: companion)
        // The unit is never assumed.
        let asked = state.blocks(only: step.fields, unset: "unit")
        var next = Button(name: label(.next), action: .next, isMain: true)
        var blocks: [Block]
        switch step {
        case .standing:
            blocks = [.sentence(label(.firstIs)), .sentence(label(.noMedicalDevice))]
            next.name = label(.agree)
        case .sources:
            blocks = [.text(label(.sensorWhy)), label.button(.findSensor, .findSensor)] + devices.blocks(companion)
            blocks += [.text(label(.healthWhy)), devices.health(companion), .text(label(.fileWhy)), label.button(.readFile, .chooseFile)]
        case .wakes:
            blocks = [.text(label(.wakesWhy)), label.button(.wakesAllowed, .allowAlerts)]
            next = Button(name: label(.done), action: .leave, isMain: true)
        case .own, .lines: blocks = asked
        }
        let isReady = step != .own || state.filled["unit"] != nil
        return Screen(
            title: label(step == .sources ? .whereFrom : .firstTitle),
            blocks: [.text("\(step.rawValue + 1) / \(Step.allCases.count)")] + notices + blocks, pinned: (isReady ? [next] : []) + [.help(label)])
    }

    public func receiving(_ received: Received, _ devices: Devices, at now: Moment) -> Self {
        with {
            $0.devices = devices
            if !received.messages.isEmpty { $0.said = received.messages.joined(separator: "\n") }
        }
    }

    public func after(_ action: Action, at now: Moment) -> Self {
        with {
            $0.choose(action)
            if action == .next { $0.goOn(at: now) }
        }
    }

    /// What is asked for is kept before the next step; what cannot be taken is said beside its field.
    private mutating func goOn(at now: Moment) {
        said = nil
        attempt {
            if !$0.step.fields.isEmpty {
                let kept = try $0.companion.settings().keep(filledIn: $0.state.filled, now: now)
                if kept.message == nil { return $0.state.show(kept.form) }
            }
            ($0.step, $0.state) = (Step(rawValue: $0.step.rawValue + 1) ?? $0.step, FormState())
            $0.layOut()
        }
    }

    private mutating func layOut() { attempt { $0.state.show(try $0.companion.settings().form(filledIn: [:])) } }
}
