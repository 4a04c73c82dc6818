import Ebbstead

/// The wearer's own settings: the core's form, kept as a whole or not at all.
public struct SettingsPresenter: Presenter {
    private let companion: EbbsteadCompanion
    private var state = FormState()
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

    public func typing(_ text: String, into field: FieldId) -> Self {
        var next = self
        next.state.put(text, into: field)
        return next
    }

    public func setting(_ field: FieldId, toMinute minute: Int) -> Self {
        var next = self
        next.state.set(field, toMinute: minute)
        return next
    }

    public func after(_ action: Action, at now: Moment) -> Self {
        var next = self
        switch action {
        case .choose(let id, let code): next.state.put(code, into: .form(id))
        case .save: next.keep(at: now)
        // What is filled in stays, whatever changes elsewhere.
        default: if state.filled.isEmpty { next.read() }
        }
        return next
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
