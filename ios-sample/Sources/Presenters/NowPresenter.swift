import Ebbstead

/// The prompt for whoever looks: what to do, the drawing, why, what to mind, and what one feels or a meter shows.
public struct NowPresenter: Presenter {
    private let companion: EbbsteadCompanion
    private let sheet: Sheet
    private var answer: Answer?
    private var outcome = Outcome.nothing
    private var meter = ""
    private var meterAdvice: String?

    /// Nothing is asked until the screen is shown: what the core answers is kept as shown.
    public init(_ companion: EbbsteadCompanion, sheet: Sheet = Sheet()) {
        (self.companion, self.sheet) = (companion, sheet)
    }

    /// Shown from the start.
    public init(_ companion: EbbsteadCompanion, sheet: Sheet = Sheet(), at now: Moment) {
        self.init(companion, sheet: sheet)
        ask(at: now)
    }

    public var screen: Screen {
        let label = Vocabulary(companion: companion)
        var blocks = outcome.blocks
        if let answer {
            let said = AnswerBlocks(answer: answer)
            let drawing = Drawing(answer.chart, width: sheet.width, typeSize: sheet.typeSize)
            blocks += said.first + said.call(label) + said.reading + [.drawing(drawing)] + said.lists
        }
        blocks += [
            .button(Button(name: label(.beforeOpen), action: .before)),
            .button(Button(name: label(.feelHigh), action: .feel(.feelsHigh))),
            .button(Button(name: label(.feelNeither), action: .feel(.neither))),
            .button(Button(name: label(.severeSigns), action: .feel(.severe))),
            .field(Field(id: .meter, name: label(.meterShows), unit: label.unit, typed: meter, advice: meterAdvice)),
            .button(Button(name: label(.add), action: .keepMeter)),
            .button(Button(name: label(.lookNow), action: .look, isMain: true)),
            .text(label(.noMedicalDevice)),
        ]
        return Screen(
            title: label(.screenNow), blocks: blocks,
            pinned: [
                Button(name: label(.iTreated), action: .treated), Button(name: label(.feelLow), action: .feel(.feelsLow)), .help(label),
            ])
    }

    public func typing(_ text: String, into field: FieldId) -> Self {
        var next = self
        if field == .meter { (next.meter, next.meterAdvice) = (text, nil) }
        return next
    }

    public func after(_ action: Action, at now: Moment) -> Self {
        var next = self
        if action != .refresh { next.outcome = .nothing }
        switch action {
        case .feel(let felt): next.feel(felt, at: now)
        case .keepMeter: next.keepMeter(at: now)
        case .treated: next.treat(at: now)
        default: next.ask(at: now)
        }
        return next
    }

    public func hidden() -> Self {
        var next = self
        next.answer = nil
        return next
    }

    private mutating func ask(at now: Moment, feels: Symptom? = nil, meter: MeterShown? = nil) {
        do {
            answer = try companion.check().show(question: Question(
                now: now, occasion: .look, feels: feels, meterMgDl: meter?.mgDl, meterBeyond: meter?.beyond))
        } catch {
            // An answer to an earlier question must not be taken for one to this.
            answer = nil
            outcome = .failed(advice(error))
        }
    }

    /// The answer comes first: it must not wait for, or fail with, a log that cannot be written.
    private mutating func feel(_ felt: Symptom, at now: Moment) {
        ask(at: now, feels: felt)
        keep(.feeling(felt: felt), at: now)
    }

    private mutating func keepMeter(at now: Moment) {
        do {
            let shown = try companion.words().readMeter(typed: meter)
            (meter, meterAdvice) = ("", nil)
            ask(at: now, meter: shown)
            keep(shown.what, at: now)
        } catch {
            meterAdvice = advice(error)
        }
    }

    /// As much as the core takes the wearer's step to be.
    private mutating func treat(at now: Moment) {
        keep { try $0.night().done(what: .treated(grams: nil), now: now).kept }
        ask(at: now)
    }

    private mutating func keep(_ what: EntryKind, at now: Moment) {
        keep { try $0.log().record(what: what, at: now, now: now) }
    }

    private mutating func keep(_ record: (EbbsteadCompanion) throws -> Entry) {
        do {
            let entry = try record(companion)
            if outcome == .nothing { outcome = .said(Vocabulary(companion: companion)(.kept) + ": " + entry.text) }
        } catch {
            outcome = .failed(advice(error))
        }
    }
}

/// How wide a drawing may be and how large its type, in points.
public struct Sheet: Equatable, Sendable {
    public var width: Double
    public var typeSize: Double

    public init(width: Double = 358, typeSize: Double = 12) {
        self.width = width
        self.typeSize = typeSize
    }
}
