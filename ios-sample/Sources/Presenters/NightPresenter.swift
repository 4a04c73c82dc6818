import Ebbstead

/// The prompt for whoever was woken: what to do in large type, and the answers that fit. Reasons and drawing wait for the day.
public struct NightPresenter: Presenter {
    private let companion: EbbsteadCompanion
    private var answer: Answer?
    private var outcome = Outcome.nothing
    /// The field for the meter is there only once somebody says to have checked.
    private var asksForMeter = false
    private var meter = ""
    private var meterAdvice: String?
    private var canUndo = false

    /// Nothing is asked until the screen is shown: what the core answers is kept as shown.
    public init(_ companion: EbbsteadCompanion) { self.companion = companion }

    /// Shown from the start.
    public init(_ companion: EbbsteadCompanion, at now: Moment) {
        self.init(companion)
        ask(at: now)
    }

    public var screen: Screen {
        let label = Vocabulary(companion: companion)
        var blocks = outcome.blocks
        if let answer {
            let said = AnswerBlocks(answer: answer)
            blocks += said.first + said.call(label) + said.reading
        }
        if asksForMeter {
            blocks += [
                .field(Field(id: .meter, name: label(.meterShows), unit: label.unit, typed: meter, advice: meterAdvice)),
                .button(Button(name: label(.add), action: .keepMeter, isMain: true)),
            ]
        }
        // Those that the core says fit, and no other.
        blocks += (answer?.offers ?? []).compactMap(Self.offered)
        if canUndo { blocks.append(.button(Button(name: label(.undoLast), action: .undo))) }
        blocks += [
            .button(Button(name: label(.lookNow), action: .look)),
            .button(Button(name: label(.feelLow), action: .feel(.feelsLow))),
            .button(Button(name: label(.severeSigns), action: .feel(.severe))),
            .button(Button(name: label(.beforeSleepOpen), action: .before)),
        ]
        if let answer { blocks += AnswerBlocks(answer: answer).cautions }
        return Screen(title: label(.screenNight), isForNight: true, blocks: blocks, pinned: [.help(label)])
    }

    /// The first is what the verdict asks for. A call has its own place.
    private static func offered(_ offer: NightOffer) -> Block? {
        let action: Action? =
            switch offer.what {
            case .call: nil
            case .checked: .checked
            case .treated: .treated
            case .rolledOver: .rolledOver
            }
        return action.map { .button(Button(name: offer.text, action: $0)) }
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
        case .checked: next.asksForMeter = true
        case .keepMeter: next.keepMeter(at: now)
        case .treated: next.done(.treated(grams: nil), at: now)
        case .rolledOver: next.done(.rolledOver, at: now)
        case .feel(let felt): next.feel(felt, at: now)
        case .undo: next.undo(at: now)
        default: next.ask(at: now)
        }
        return next
    }

    public func hidden() -> Self {
        var next = self
        next.answer = nil
        return next
    }

    private mutating func ask(at now: Moment, feels: Symptom? = nil) {
        do {
            answer = try companion.night().woken(now: now, feels: feels)
        } catch {
            answer = nil
            outcome = .failed(advice(error))
        }
    }

    private mutating func feel(_ felt: Symptom, at now: Moment) {
        ask(at: now, feels: felt)
        do {
            let kept = try companion.log().record(what: .feeling(felt: felt), at: now, now: now)
            tell(.kept, kept)
        } catch {
            outcome = .failed(advice(error))
        }
    }

    private mutating func keepMeter(at now: Moment) {
        do {
            let shown = try companion.words().readMeter(typed: meter)
            (meter, meterAdvice, asksForMeter) = ("", nil, false)
            done(.checked(mgDl: shown.mgDl, beyond: shown.beyond), at: now)
        } catch {
            meterAdvice = advice(error)
        }
    }

    private mutating func done(_ what: NightAnswer, at now: Moment) {
        do {
            let done = try companion.night().done(what: what, now: now)
            answer = done.answer
            tell(.kept, done.kept)
            canUndo = true
        } catch {
            // What could not be kept was still done: the answer on the screen stays, and says what stands.
            outcome = .failed(advice(error))
        }
    }

    private mutating func undo(at now: Moment) {
        do {
            let undone = try companion.log().undo(now: now)
            canUndo = false
            ask(at: now)
            if let undone { tell(.takenBack, undone.undone) }
        } catch {
            outcome = .failed(advice(error))
        }
    }

    private mutating func tell(_ label: Label, _ entry: Entry) {
        if outcome == .nothing { outcome = .said(Vocabulary(companion: companion)(label) + ": " + entry.text) }
    }
}
