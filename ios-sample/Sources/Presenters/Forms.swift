import Ebbstead

/// What the core asks for, and what was touched of it. Which fields there are, what stands in them and what is wrong with it is the
/// core's to say.
public struct FormState: Sendable {
    private(set) var form: Form?
    private(set) var filled: [String: String] = [:]
    /// What was touched since the core laid it out: what was said against it no longer holds.
    private var touched: Set<String> = []

    init(_ form: Form? = nil) { self.form = form }

    /// As the core laid it out. What was filled in stays, to be handed back with the next question, unless it was taken.
    mutating func show(_ form: Form, taken: Bool = false) {
        (self.form, touched) = (form, [])
        if taken { filled = [:] }
    }

    mutating func put(_ value: String, into id: String) {
        guard form?.fields.contains(where: { $0.id == id }) == true else { return }
        filled[id] = value
        touched.insert(id)
    }

    /// Lets go of secrets.
    mutating func forgetSecrets() { for field in form?.fields ?? [] where field.takes == .secret { filled[field.id] = nil } }

    /// With the one button that the core names, where there is something to do yet.
    func blocks(then action: Action) -> [Block] {
        let main = form?.main ?? ""
        return (form?.fields ?? []).flatMap(blocks) + (main.isEmpty ? [] : [.button(Button(name: main, action: action, isMain: true))])
    }

    func blocks(_ field: FormField) -> [Block] {
        let value = filled[field.id] ?? field.value
        let against = touched.contains(field.id) ? nil : field.advice
        let advice = against.map { [Block.notice($0)] } ?? []
        let own: [Block] =
            switch field.takes {
            case .number, .words, .phone, .secret: [.field(field.holding(value, advice: against))]
            case .clock: [.field(field.holding(value, advice: nil))] + advice
            case .choice(let options, let folds):
                [
                    .choice(
                        Choice(
                            name: field.name,
                            options: options.map {
                                .init(name: $0.name, action: .choose(id: field.id, code: $0.code), isChosen: $0.code == value)
                            },
                            isFolded: folds && !value.isEmpty))
                ] + advice
            }
        return (field.over.map { [.heading($0)] } ?? []) + own + (field.note.map { [.text($0)] } ?? [])
    }
}

extension FormField {
    /// The same with what stands in it now, and what is said against that.
    func holding(_ value: String, advice: String?) -> Self {
        Self(id: id, over: over, name: name, unit: unit, takes: takes, value: value, note: note, advice: advice)
    }

    /// The unit is part of the name: who cannot see it behind the field must not guess it.
    public var spokenName: String { unit.isEmpty ? name : "\(name), \(unit)" }
}
