import Ebbstead
import Foundation

/// Days looked back on.
struct ReviewPage: Presenter {
    private let sheet: Sheet
    private var state: PageState
    private var day: DayPicture?
    private var aims = Aims.adult
    private var withoutPressed = false

    init(_ companion: EbbsteadCompanion, sheet: Sheet) {
        self.sheet = sheet
        state = PageState(companion, typed: [.days: "14"])
    }

    var document: Document? { state.document }

    var screen: Screen {
        let label = state.label
        let whose: [(Aims, Label)] = [(.adult, .aimsAdult), (.olderOrHighRisk, .aimsOlder), (.type1Pregnancy, .aimsPregnancy)]
        let counted: [(Bool, Label)] = [(false, .pressedIn), (true, .pressedOut)]
        var blocks = state.outcome.blocks + (state.page?.blocks ?? [])
        if let day {
            // With the hours in numbers, which are folded away.
            let place = blocks.firstIndex { if case .fold = $0 { true } else { false } } ?? blocks.endIndex
            blocks.insert(.drawing(Drawing(day, width: sheet.width, typeSize: sheet.typeSize)), at: place)
        }
        blocks += [
            state.field(.days, .daysBack),
            .choice(Choice(name: label(.aimsName), options: whose.map { .init(name: label($0.1), action: .aims($0.0), isChosen: $0.0 == aims) })),
            .choice(
                Choice(
                    name: label(.pressedCount),
                    options: counted.map { .init(name: label($0.1), action: .withoutPressed($0.0), isChosen: $0.0 == withoutPressed) })),
            .button(Button(name: label(.showThese), action: .look, isMain: true)),
        ]
        if state.page != nil { blocks.append(.button(Button(name: label(.printReview), action: .writeReview))) }
        return Screen(title: state.page?.heading ?? "", blocks: blocks + [.text(label(.noMedicalDevice))])
    }

    func typing(_ text: String, into field: FieldId) -> Self {
        var next = self
        if field == .days { next.state.type(text, into: field) }
        return next
    }

    func after(_ action: Action, at now: Moment) -> Self {
        var next = self
        next.state.begin(action)
        switch action {
        case .aims(let aims): next.aims = aims
        case .withoutPressed(let left): next.withoutPressed = left
        case .writeReview: next.write(at: now)
        case .documentDone: break
        default: next.look(at: now)
        }
        return next
    }

    private func options(_ state: PageState) throws -> ReviewOptions {
        ReviewOptions(days: try state.days(.days), aims: aims, withoutPressed: withoutPressed)
    }

    private mutating func look(at now: Moment) {
        let options = options
        var drawn: DayPicture?
        state.show(.days) { state in
            drawn = try state.companion.review().day(options: options(state), now: now)
            return try state.companion.review().told(options: options(state), now: now)
        }
        day = drawn
    }

    private mutating func write(at now: Moment) {
        let options = options
        state.attempt(.days) { state in
            let page = try state.companion.review().html(options: options(state), now: now)
            state.document = Document(name: "ebbstead-\(now.dateText).html", bytes: Data(page.utf8))
        }
    }
}
