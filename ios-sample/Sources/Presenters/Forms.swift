import Ebbstead

/// What the core asks for, and what was touched of it. Which fields there are, what stands in them and what is wrong with it is the
/// core's to say.
public struct FormState: Sendable {
    private(set) var form: Form?
    private(set) var filled: [String: String] = [:]
    /// What was touched since the core laid it out: what was said against it no longer holds.
    private var touched: Set<String> = []

    /// As the core laid it out. What was filled in stays, to be handed back with the next question, unless it was taken.
    mutating func show(_ form: Form, taken: Bool = false) {
        (self.form, touched) = (form, [])
        if taken { filled = [:] }
    }

    mutating func put(_ value: String, into id: FieldId) {
        guard case .form(let id) = id, form?.fields.contains(where: { $0.id == id }) == true else { return }
        filled[id] = value
        touched.insert(id)
    }

    /// Lets go of secrets.
    mutating func forgetSecrets() { for field in form?.fields ?? [] where field.takes == .secret { filled[field.id] = nil } }

    mutating func set(_ id: FieldId, toMinute minute: Int) { put(clockText(minute), into: id) }

    var blocks: [Block] { (form?.fields ?? []).flatMap { blocks($0) } }

    /// With the one button that the core names, where there is something to do yet.
    func blocks(then action: Action) -> [Block] {
        let main = form?.main ?? ""
        return blocks + (main.isEmpty ? [] : [.button(Button(name: main, action: action, isMain: true))])
    }

    func blocks(_ field: FormField) -> [Block] {
        let (id, value) = (FieldId.form(field.id), filled[field.id] ?? field.value)
        let against = touched.contains(field.id) ? nil : field.advice
        func typed(_ keys: Field.Keys, isSecret: Bool = false) -> [Block] {
            [.field(Field(id: id, name: field.name, unit: field.unit, typed: value, advice: against, keys: keys, isSecret: isSecret))]
        }
        let advice = against.map { [Block.notice($0)] } ?? []
        let own: [Block] =
            switch field.takes {
            case .number: typed(.number)
            case .words: typed(.words)
            case .phone: typed(.phone)
            case .secret: typed(.words, isSecret: true)
            case .clock: [.time(TimeField(id: id, name: field.name, minuteOfDay: minute(value)))] + advice
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

/// A minute of the day as a clock shows it, and back.
func clockText(_ minute: Int) -> String { twoDigits(minute / 60) + ":" + twoDigits(minute % 60) }

private func minute(_ text: String) -> Int {
    let parts = text.split(separator: ":").compactMap { Int($0) }
    return parts.count == 2 ? parts[0] * 60 + parts[1] : 0
}
