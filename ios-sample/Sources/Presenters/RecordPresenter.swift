import Ebbstead
import Foundation

/// The record: one page of the core at a time. What stands on it, what is asked and what is done about it is the core's to say.
public struct RecordPresenter: FormPresenter, ShowsNotice {
    private let companion: EbbsteadCompanion
    private let pages: RecordPages?
    private let folder: URL
    private var shown: RecordScreen?
    /// What was touched since the core laid the page out, and what opened a copy: the core keeps no secret.
    public var state = FormState()
    public private(set) var document: Document?
    /// What the core says once a document is where the wearer wants it.
    private var afterDocument = ""
    var said: String?

    /// Nothing is looked at until a page is first asked for: it takes longer than a screen may take to open.
    /// Files on their way lie in a folder for that time.
    public init(_ companion: EbbsteadCompanion, folder: URL = .passing) {
        (self.companion, self.folder) = (companion, folder)
        pages = try? companion.recordPages(folder: folder.path)
    }

    public var screen: Screen {
        let label = Vocabulary(companion: companion)
        let title = shown?.heading ?? label(.screenRecord)
        var blocks = notices
        if let shown {
            let options = shown.cards.map { Choice.Option(name: $0.name, action: .chapter($0.chapter), isChosen: $0.chapter == shown.chapter) }
            // Its name would repeat the screen's.
            blocks = [.choice(Choice(name: title, options: options, showsName: false, isFolded: true))] + blocks
            blocks += shown.parts.flatMap { self.blocks($0, of: shown) } + (shown.chapter == .alerts ? label.whenMuted : [])
        }
        return Screen(title: title, blocks: blocks, pinned: [.help(label)])
    }

    private func blocks(_ part: RecordPart, of shown: RecordScreen) -> [Block] {
        switch part {
        case .said(let text): [.notice(text)]
        case .text(let text): [.text(text)]
        case .heading(let text): [.heading(text)]
        case .letter(let text): [.said(text)]
        case .asked(let field): state.blocks(field)
        case .press(let act, let name, let isMain): [.button(Button(name: name, action: .press(act), isMain: isMain))]
        case .day(let chart): [.chart(.hours(chart))]
        // The name of the page that is turned to stands on top already; one that goes on has none.
        case .shown(let page): (page.heading.isEmpty || shown.cards.contains { $0.name == page.heading } ? [] : [.heading(page.heading)]) + page.blocks
        }
    }

    /// A log, or a sealed copy of one, that the wearer chose. It is copied first: the app may read it only now, and SQLite writes beside
    /// what it reads. The core deletes the copy when the wearer is done with it.
    public func looking(into file: URL, at now: Moment) -> Self {
        with {
            let copy = folder.appendingPathComponent(UUID().uuidString)
            do {
                try FileManager.default.createDirectory(at: folder, withIntermediateDirectories: true)
                try file.opened { try FileManager.default.copyItem(at: $0, to: copy) }
                $0.ask { try $0.chosen(path: copy.path, name: file.lastPathComponent, now: now) }
            } catch {
                $0.say(advice(error), at: now)
            }
        }
    }

    public func hidden(at now: Moment) -> Self {
        with {
            $0.state.forgetSecrets()
            if shown?.chapter == .copies { $0.ask { try $0.act(act: .leaveOther, filledIn: [:], now: now) } }
        }
    }

    public func after(_ action: Action, at now: Moment) -> Self {
        with {
            switch action {
            case .choose: $0.choose(action)
            case .chapter(let chapter): $0.ask { try $0.turnTo(chapter: chapter, filledIn: state.filled, now: now) }
            case .press(let act): $0.ask { try $0.act(act: act, filledIn: state.filled, now: now) }
            case .documentDone(let isKept, let why):
                $0.document = nil
                if let said = why ?? (isKept && !afterDocument.isEmpty ? afterDocument : nil) { $0.say(said, at: now) }
            case .refresh where shown != nil: $0.attempt { $0.shown = try $0.pages?.show(now: now) }
            default: $0.ask { try $0.turnTo(chapter: shown?.chapter ?? .review, filledIn: state.filled, now: now) }
            }
        }
    }

    private mutating func ask(_ question: (RecordPages) throws -> RecordScreen) {
        (said, document, afterDocument) = (nil, nil, "")
        attempt {
            guard let screen = try $0.pages.map(question) else { return }
            $0.shown = screen
            let fields = screen.parts.compactMap { if case .asked(let field) = $0 { field } else { nil } }
            $0.state = FormState(Form(heading: "", fields: fields, main: ""))
            for field in fields where field.takes == .secret && !field.value.isEmpty { $0.state.put(field.value, into: field.id) }
            guard let made = screen.document else { return }
            let file = URL(fileURLWithPath: made.path)
            defer { try? FileManager.default.removeItem(at: file) }
            ($0.document, $0.afterDocument) = (Document(name: made.name, bytes: try Data(contentsOf: file, options: .mappedIfSafe)), made.said)
        }
    }

    private mutating func say(_ text: String, at now: Moment) { attempt { $0.shown = try $0.pages?.say(text: text, now: now) } }
}
