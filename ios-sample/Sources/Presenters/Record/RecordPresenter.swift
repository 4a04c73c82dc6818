import Ebbstead
import Foundation

/// The record: one page of the core at a time, with what can be asked of it and done about it.
public struct RecordPresenter: Presenter {
    private static let names: [(Chapter, Label)] = [
        (.review, .screenReview), (.sensors, .screenSensors), (.alerts, .screenAlerts), (.answers, .screenOutcomes), (.learnt, .screenLearnt),
        (.supplies, .screenSupplies), (.copies, .screenCopies),
    ]

    private var chapter = Chapter.review
    private var pages: [Chapter: any Presenter]
    private let companion: EbbsteadCompanion

    /// Nothing is looked at until a page is first asked for: it takes longer than a screen may take to open.
    /// Files on their way lie in a folder for that time.
    public init(_ companion: EbbsteadCompanion, sheet: Sheet = Sheet(), folder: URL = FileManager.default.temporaryDirectory) {
        self.companion = companion
        pages = [
            .review: ReviewPage(companion, sheet: sheet), .sensors: SensorsPage(companion), .alerts: AlertsPage(companion),
            .answers: OutcomesPage(companion), .learnt: LearntPage(companion), .supplies: SuppliesPage(companion), .copies: CopiesPage(companion, folder: folder),
        ]
    }

    public var screen: Screen {
        let label = Vocabulary(companion: companion)
        let options = Self.names.map { Choice.Option(name: label($1), action: .chapter($0), isChosen: $0 == chapter) }
        let title = label(.screenRecord)
        // Its name would repeat the screen's.
        let turn = Block.choice(Choice(name: title, options: options, showsName: false, isFolded: true))
        return Screen(title: title, blocks: [turn] + (pages[chapter]?.screen.blocks ?? []), pinned: [.help(label)])
    }

    public var document: Document? { pages[chapter]?.document }

    public func typing(_ text: String, into field: FieldId) -> Self { with { $0.pages[chapter] = pages[chapter]?.typing(text, into: field) } }

    public func hidden() -> Self { with { $0.pages = pages.mapValues { $0.hidden() } } }

    /// A log, or a sealed copy of one, that the wearer chose goes to the page with the copies.
    public func looking(into file: URL, at now: Moment) -> Self {
        with { if let copies = pages[.copies] as? CopiesPage { $0.pages[.copies] = copies.looking(into: file, at: now) } }
    }

    /// What a source said goes to the sensors' page.
    public func receiving(_ received: Received, _ devices: Devices, at now: Moment) -> Self {
        with { $0.pages[.sensors] = pages[.sensors]?.receiving(received, devices, at: now) }
    }

    public func after(_ action: Action, at now: Moment) -> Self {
        with {
            if case .chapter(let turned) = action, turned != chapter {
                $0.pages[chapter] = pages[chapter]?.hidden()
                $0.chapter = turned
            }
            $0.pages[$0.chapter] = $0.pages[$0.chapter]?.after(action, at: now)
        }
    }
}
