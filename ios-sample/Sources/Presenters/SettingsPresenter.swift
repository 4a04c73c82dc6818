import Ebbstead

/// The wearer's own settings: the core's form, kept as a whole or not at all.
public struct SettingsPresenter: FormPresenter, ShowsNotice {
    private let companion: EbbsteadCompanion
    public var state = FormState()
    var said: String?

    public init(_ companion: EbbsteadCompanion) {
        self.companion = companion
        read()
    }

    public var screen: Screen {
        let label = Vocabulary(companion: companion)
        return Screen(
            title: label(.screenSettings), blocks: notices + state.blocks(then: .save) + label.whenMuted + [.text(label(.noMedicalDevice))],
            pinned: [.help(label)])
    }

    public func after(_ action: Action, at now: Moment) -> Self {
        with {
            $0.choose(action)
            if action == .save {
                $0.attempt {
                    let kept = try companion.settings().keep(filledIn: $0.state.filled, now: now)
                    $0.state.show(kept.form, taken: kept.message != nil)
                    $0.said = kept.message
                }
            } else if $0.state.filled.isEmpty {
                // What is filled in stays, whatever changes elsewhere.
                $0.read()
            }
        }
    }

    private mutating func read() { attempt { $0.state.show(try $0.companion.settings().form(filledIn: [:])) } }
}
