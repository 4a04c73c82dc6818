import Ebbstead

/// Days looked back on.
struct ReviewPage: RecordPage {
    private let sheet: Sheet
    var state: PageState
    private var aims = Aims.adult
    private var withoutCompressionLows = false

    init(_ companion: EbbsteadCompanion, sheet: Sheet) { (self.sheet, state) = (sheet, PageState(companion, typed: [.days: "14"])) }

    /// The day by the hour stands before the hours in numbers, which are folded away.
    func shown(_ page: Page) -> [Block] {
        var blocks = page.blocks
        guard let day = state.day else { return blocks }
        let place = blocks.firstIndex { if case .fold = $0 { true } else { false } } ?? blocks.endIndex
        blocks.insert(.drawing(Drawing(day, width: sheet.width, typeSize: sheet.typeSize)), at: place)
        return blocks
    }

    var below: [Block] {
        let label = state.label
        let whose: [(Aims, Label)] = [(.adult, .aimsAdult), (.olderOrHighRisk, .aimsOlder), (.type1Pregnancy, .aimsPregnancy)]
        let counted: [(Bool, Label)] = [(false, .pressedIn), (true, .pressedOut)]
        return [
            state.field(.days, .daysBack),
            .choice(Choice(name: label(.aimsName), options: whose.map { .init(name: label($1), action: .aims($0), isChosen: $0 == aims) })),
            .choice(Choice(name: label(.pressedCount), options: counted.map { .init(name: label($1), action: .withoutCompressionLows($0), isChosen: $0 == withoutCompressionLows) })),
            state.button(.showThese, .look, isMain: true),
        ] + (state.page == nil ? [] : [state.button(.printReview, .writeReview)]) + [.text(label(.noMedicalDevice))]
    }

    func page(_ state: inout PageState, at now: Moment) throws -> Page? {
        let (review, options) = (try state.companion.review(), try options(state))
        state.day = try review.day(options: options, now: now)
        return try review.page(options: options, now: now)
    }

    mutating func done(_ action: Action, at now: Moment) -> Bool {
        switch action {
        case .aims(let aims): self.aims = aims
        case .withoutCompressionLows(let left): withoutCompressionLows = left
        case .writeReview:
            let page = self
            state.write("ebbstead-\(now.dateText).html", beside: .days, at: now) { try $0.companion.review().html(options: page.options($0), now: now) }
        default: return true
        }
        return false
    }

    private func options(_ state: PageState) throws -> ReviewOptions { ReviewOptions(days: try state.days(.days), aims: aims, withoutCompressionLows: withoutCompressionLows) }
}
