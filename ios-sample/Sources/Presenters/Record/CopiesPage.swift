import Ebbstead
import Foundation

/// The whole log on its way out (as a table, as a bundle, sealed), and another one on its way in.
struct CopiesPage: RecordPage {
    var state: PageState
    private let folder: URL
    private var other: Other?

    /// A log the wearer chose, and what taking it in would do, once that could be found out.
    private struct Other {
        var name: String
        var file: TemporaryFile
        var meeting: MergePreview?
    }

    /// What the core writes and reads lies in a folder of the app's own for as long as it takes.
    init(_ companion: EbbsteadCompanion, folder: URL) { (state, self.folder) = (PageState(companion), folder) }

    var below: [Block] {
        let label = state.label
        return [
            state.button(.writeTable, .writeTable), state.button(.writeBundle, .writeBundle), .heading(label(.sealLog)),
            state.field(.passphrase, .passphrase, keys: .words, isSecret: true), state.field(.passphraseAgain, .passphraseAgain, keys: .words, isSecret: true),
            .text(label(.passphraseLost)), state.button(.sealLog, .seal, isMain: true), .heading(label(.lookIntoOther)),
            state.field(.passphraseOfCopy, .passphraseOfCopy, keys: .words, isSecret: true), state.button(.lookIntoOther, .chooseOther),
        ] + (other.map { [.heading($0.name)] + met($0.meeting) + [state.button(.cancel, .cancel)] } ?? [])
    }

    /// What would change and what speaks against it stand before the button that does it.
    private func met(_ meeting: MergePreview?) -> [Block] {
        guard let meeting else { return [state.button(.showThese, .look)] }
        if meeting.changesNothing { return [.text(state.label(.nothingNew))] }
        let take = meeting.warnings.isEmpty ? state.button(.merge, .merge, isMain: true) : state.button(.mergeAnyway, .mergeAnyway)
        return [.items(meeting.lines)] + meeting.warnings.map(Block.notice) + (meeting.restores ? [.text(state.label(.copyRestores))] : []) + [take]
    }

    func page(_ state: inout PageState, at now: Moment) throws -> Page? { nil }

    func hidden() -> Self {
        with {
            $0.leave()
            $0.state.forget([.passphrase, .passphraseAgain])
        }
    }

    mutating func done(_ action: Action, at now: Moment) -> Bool {
        switch action {
        case .writeTable: write("csv", at: now) { try $0.companion.exchange().exportTable(path: $1, replace: false, from: nil, until: nil) }
        case .writeBundle: write("json", at: now) { try $0.companion.exchange().exportBundle(path: $1, replace: false, days: nil, now: now) }
        case .seal: seal(at: now)
        case .look: previewMerge(at: now)
        case .merge, .mergeAnyway: merge(force: action == .mergeAnyway, at: now)
        case .cancel: leave()
        default: break
        }
        return false
    }

    /// Looks into a log, or a sealed copy, that the wearer chose. It is copied first: the app may read it only now, and SQLite
    /// writes beside what it reads.
    func looking(into chosen: URL, at now: Moment) -> Self {
        with {
            $0.state.begin(.look)
            var other: Other?
            $0.state.attempt(nil) { _ in other = Other(name: chosen.lastPathComponent, file: try TemporaryFile(of: chosen, in: folder)) }
            $0.other = other
            $0.previewMerge(at: now)
        }
    }

    private mutating func write(_ ending: String, at now: Moment, _ work: (PageState, String) throws -> [String]) {
        let folder = folder
        state.attempt(beside: { $0 == "passphrase" ? .passphrase : nil }) { state in
            let file = try TemporaryFile(named: "ebbstead-\(now.dateText).\(ending)", in: folder)
            let (messages, bytes) = try withExtendedLifetime(file) { (try work(state, $0.url.path), try Data(contentsOf: $0.url, options: .mappedIfSafe)) }
            (state.document, state.said) = (Document(name: file.url.lastPathComponent, bytes: bytes), messages.joined(separator: "\n"))
        }
    }

    private mutating func seal(at now: Moment) {
        let (passphrase, again) = (state.typed[.passphrase] ?? "", state.typed[.passphraseAgain] ?? "")
        state.forget([.passphrase, .passphraseAgain])
        if passphrase != again { return state.advices[.passphraseAgain] = state.label(.passphrasesDiffer) }
        write("age", at: now) { try $0.companion.exchange().seal(path: $1, replace: false, passphrase: passphrase, now: now) }
    }

    private mutating func previewMerge(at now: Moment) {
        guard var other else { return }
        state.attempt(beside: Self.field) { other.meeting = try $0.companion.exchange().previewMerge(other: Self.open(other, $0), now: now) }
        // What does not open it is typed anew; what opens it is wanted once more to take it in.
        if other.meeting == nil { state.forget([.passphraseOfCopy]) }
        // What is no log at all is not kept.
        self.other = other.meeting == nil && state.advices.isEmpty ? nil : other
    }

    private mutating func merge(force: Bool, at now: Moment) {
        guard let other else { return }
        var messages: [String]?
        state.attempt(beside: Self.field) { messages = try $0.companion.exchange().merge(other: Self.open(other, $0), force: force, now: now).messages }
        guard let messages else { return }
        state.said = messages.joined(separator: "\n")
        leave()
    }

    /// Lets go of the other log, its copy and its passphrase.
    private mutating func leave() {
        other = nil
        state.forget([.passphraseOfCopy])
    }

    private static func open(_ other: Other, _ state: PageState) -> OtherLog {
        let path = other.file.url.path
        return other.file.isSealed ? .sealed(path: path, passphrase: state.typed[.passphraseOfCopy] ?? "") : .open(path: path)
    }

    private static func field(of what: String) -> FieldId? { what == "passphrase" ? .passphraseOfCopy : nil }
}
