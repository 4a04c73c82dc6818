import Ebbstead
import Presenters

// Short names of what these tests tap and type.

extension Action {
    static var look: Self { .prompt(.look) }
    static var checked: Self { .prompt(.askMeter) }
    static var treated: Self { .prompt(.treated) }
    static var rolledOver: Self { .prompt(.rolledOver) }
    static func feel(_ felt: Symptom) -> Self { .prompt(.feel(felt: felt)) }
}

extension String {
    static var meter: Self { "meter" }
    static func form(_ id: String) -> Self { id }
}

extension FormField {
    var typed: String { value }
}

extension Presenter {
    func setting(_ field: String, toMinute minute: Int) -> Self { typing(clockText(minute), into: field) }
}
