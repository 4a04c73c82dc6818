import Ebbstead
import Foundation
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

extension LogPresenter {
    /// A file that holds this.
    func reading(file name: String, bytes: Data, offsets: [OffsetChange], at now: Moment) -> Self {
        let folder = FileManager.default.temporaryDirectory.appendingPathComponent(UUID().uuidString, isDirectory: true)
        defer { try? FileManager.default.removeItem(at: folder) }
        try? FileManager.default.createDirectory(at: folder, withIntermediateDirectories: true)
        let file = folder.appendingPathComponent(name)
        try? bytes.write(to: file)
        return reading(file: file, offsets: offsets, at: now)
    }
}

extension Presenter {
    func setting(_ field: String, toMinute minute: Int) -> Self { typing(clockShown(minute: Int32(minute)), into: field) }
}

extension EntryRow {
    var takeBack: Presenters.Button { buttons[buttons.count - 1] }
    var putRight: Presenters.Button? { buttons.count > 1 ? buttons[0] : nil }
}
