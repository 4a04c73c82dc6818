import Ebbstead
import Foundation

/// The whole log on its way out (as a table, as a bundle, sealed), and another one on its way in.
struct CopiesPage: Presenter {
    private static let secrets: [FieldId] = [.passphrase, .passphraseAgain, .passphraseOfCopy]

    private var state: PageState
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

    var document: Document? { state.document }

    var screen: Screen {
        let label = state.label
        var blocks =
            state.outcome.blocks + [
                .button(Button(name: label(.writeTable), action: .writeTable)),
                .button(Button(name: label(.writeBundle), action: .writeBundle)),
                .heading(label(.sealLog)), secret(.passphrase, .passphrase), secret(.passphraseAgain, .passphraseAgain),
                .text(label(.passphraseLost)), .button(Button(name: label(.sealLog), action: .seal, isMain: true)),
                .heading(label(.lookIntoOther)), secret(.passphraseOfCopy, .passphraseOfCopy),
                .button(Button(name: label(.lookIntoOther), action: .chooseOther)),
            ]
        if let other { blocks += [.heading(other.name)] + met(other, label) }
        return Screen(title: label(.screenCopies), blocks: blocks)
    }

    /// What would change and what speaks against it stand before the button that does it.
    private func met(_ other: Other, _ label: Vocabulary) -> [Block] {
        let leave = Block.button(Button(name: label(.cancel), action: .cancel))
        guard let meeting = other.meeting else { return [.button(Button(name: label(.showThese), action: .look)), leave] }
        if meeting.changesNothing { return [.text(label(.nothingNew)), leave] }
        let take =
            meeting.warnings.isEmpty
            ? Button(name: label(.merge), action: .merge, isMain: true) : Button(name: label(.mergeAnyway), action: .mergeAnyway)
        return [.items(meeting.lines)] + meeting.warnings.map(Block.notice)
            + (meeting.restores ? [.text(label(.copyRestores))] : []) + [.button(take), leave]
    }

    private func secret(_ id: FieldId, _ name: Label) -> Block {
        .field(
            Field(
                id: id, name: state.label(name), unit: "", typed: state.typed[id] ?? "", advice: state.advices[id], keys: .words,
                isSecret: true))
    }

    func typing(_ text: String, into field: FieldId) -> Self {
        var next = self
        if Self.secrets.contains(field) { next.state.type(text, into: field) }
        return next
    }

    func hidden() -> Self {
        var next = self
        next.leave()
        next.state.forget([.passphrase, .passphraseAgain])
        return next
    }

    func after(_ action: Action, at now: Moment) -> Self {
        var next = self
        next.state.begin(action)
        switch action {
        case .writeTable:
            next.write("csv", at: now) { try $0.companion.exchange().exportTable(path: $1, replace: false, from: nil, until: nil) }
        case .writeBundle:
            next.write("json", at: now) { try $0.companion.exchange().exportBundle(path: $1, replace: false, days: nil, now: now) }
        case .seal: next.seal(at: now)
        case .look: next.previewMerge(at: now)
        case .merge: next.merge(force: false, at: now)
        case .mergeAnyway: next.merge(force: true, at: now)
        case .cancel: next.leave()
        default: break
        }
        return next
    }

    /// Looks into a log, or a sealed copy, that the wearer chose. It is copied first: the app may read it only now, and SQLite
    /// writes beside what it reads.
    func looking(into chosen: URL, at now: Moment) -> Self {
        var next = self
        next.state.begin(.look)
        var other: Other?
        next.state.attempt(nil) { [folder] _ in
            other = Other(name: chosen.lastPathComponent, file: try TemporaryFile(of: chosen, in: folder))
        }
        next.other = other
        next.previewMerge(at: now)
        return next
    }

    private mutating func write(_ ending: String, at now: Moment, _ work: (PageState, String) throws -> [String]) {
        let folder = folder
        state.attempt(beside: { $0 == "passphrase" ? .passphrase : nil }) { state in
            let file = try TemporaryFile(named: "ebbstead-\(now.dateText).\(ending)", in: folder)
            let (told, bytes) = try withExtendedLifetime(file) {
                (try work(state, $0.url.path), try Data(contentsOf: $0.url, options: .mappedIfSafe))
            }
            state.document = Document(name: file.url.lastPathComponent, bytes: bytes)
            state.outcome = .said(told.joined(separator: "\n"))
        }
    }

    private mutating func seal(at now: Moment) {
        let (passphrase, again) = (state.typed[.passphrase] ?? "", state.typed[.passphraseAgain] ?? "")
        state.forget([.passphrase, .passphraseAgain])
        if passphrase != again {
            state.advices[.passphraseAgain] = state.label(.passphrasesDiffer)
            return
        }
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
        var taken = false
        state.attempt(beside: Self.field) { state in
            let done = try state.companion.exchange().merge(other: Self.open(other, state), force: force, now: now)
            state.outcome = .said(done.told.joined(separator: "\n"))
            taken = true
        }
        if taken { leave() }
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
