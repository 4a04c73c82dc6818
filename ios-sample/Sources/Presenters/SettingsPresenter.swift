import Ebbstead

/// The wearer's own settings: the core's form, kept as a whole or not at all.
public struct SettingsPresenter: FormPresenter {
    private let companion: EbbsteadCompanion
    public var state = FormState()
    private var outcome = Outcome.nothing

    public init(_ companion: EbbsteadCompanion) {
        self.companion = companion
        read()
    }

    public var screen: Screen {
        let label = Vocabulary(companion: companion)
        let save = state.form.map { [Block.button(Button(name: $0.main, action: .save, isMain: true))] } ?? []
        return Screen(
            title: label(.screenSettings), blocks: outcome.blocks + state.blocks + save + [.text(label(.noMedicalDevice))], pinned: [.help(label)])
    }

    public func after(_ action: Action, at now: Moment) -> Self {
        with {
            switch action {
            case .choose(let id, let code): $0.state.put(code, into: .form(id))
            case .save: $0.keep(at: now)
            // What is filled in stays, whatever changes elsewhere.
            default: if state.filled.isEmpty { $0.read() }
            }
        }
    }

    private mutating func read() {
        do { state.show(try companion.settings().form(filledIn: [:])) } catch { outcome = .failed(advice(error)) }
    }

    private mutating func keep(at now: Moment) {
        do {
            let kept = try companion.settings().keep(filledIn: state.filled, now: now)
            state.show(kept.form, taken: kept.told != nil)
            outcome = kept.told.map(Outcome.said) ?? .nothing
        } catch {
            outcome = .failed(advice(error))
        }
    }
}
