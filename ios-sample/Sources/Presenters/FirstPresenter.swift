import Ebbstead

/// The first start: asks for what must not be assumed, a step at a time, and nothing else.
public struct FirstPresenter: FormPresenter {
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
    private var outcome = Outcome.nothing
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
            blocks = [.text(label(.sensorWhy)), .button(Button(name: label(.findSensor), action: .findSensor))] + devices.blocks(companion)
            blocks += [.text(label(.healthWhy)), .button(Button(name: label(.readHealth), action: .readHealth))]
            blocks += [.text(label(.fileWhy)), .button(Button(name: label(.readFile), action: .chooseFile))]
        case .wakes:
            blocks = [.text(label(.wakesWhy)), .button(Button(name: label(.wakesAllowed), action: .allowAlerts))]
            next = Button(name: label(.done), action: .leave, isMain: true)
        case .own, .lines: blocks = asked
        }
        let isReady = step != .own || state.filled["unit"] != nil
        return Screen(
            title: label(step == .sources ? .whereFrom : .firstTitle),
            blocks: [.text("\(step.rawValue + 1) / \(Step.allCases.count)")] + outcome.blocks + blocks, pinned: (isReady ? [next] : []) + [.help(label)])
    }

    public func hearing(_ heard: Heard, _ devices: Devices, at now: Moment) -> Self {
        with {
            $0.devices = devices
            if !heard.told.isEmpty { $0.outcome = .said(heard.told.joined(separator: "\n")) }
        }
    }

    public func after(_ action: Action, at now: Moment) -> Self {
        with {
            switch action {
            case .choose(let id, let code): $0.state.put(code, into: .form(id))
            case .next: $0.goOn(at: now)
            default: break
            }
        }
    }

    /// What is asked for is kept before the next step; what cannot be taken is said beside its field.
    private mutating func goOn(at now: Moment) {
        outcome = .nothing
        do {
            if !step.fields.isEmpty {
                let kept = try companion.settings().keep(filledIn: state.filled, now: now)
                if kept.told == nil { return state.show(kept.form) }
            }
            step = Step(rawValue: step.rawValue + 1) ?? step
            state = FormState()
            layOut()
        } catch {
            outcome = .failed(advice(error))
        }
    }

    private mutating func layOut() {
        do { state.show(try companion.settings().form(filledIn: [:])) } catch { outcome = .failed(advice(error)) }
    }
}
