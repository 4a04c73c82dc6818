import Ebbstead

/// The prompt, by day and after waking: what to do, cautions, the drawing and reasons. At night the drawing and the reasons are left
/// out.
public struct PromptPresenter: Presenter, ShowsNotice {
    /// Of the reasons; the rest is one tap away.
    private static let reasonsShown = 3

    private let companion: EbbsteadCompanion
    private let isForNight: Bool
    private let sheet: Sheet
    private var answer: Answer?
    var said: String?
    private var canUndo = false
    /// What the meter shows, while it is asked for.
    private var meter: (typed: String, advice: String?)?

    /// Nothing is asked until the screen is shown: what the core answers is kept as shown.
    public init(_ companion: EbbsteadCompanion, isForNight: Bool = false, sheet: Sheet = Sheet()) {
        (self.companion, self.isForNight, self.sheet) = (companion, isForNight, sheet)
    }

    public var screen: Screen {
        let label = Vocabulary(companion: companion)
        var blocks = answer.map { [Block.headline(Headline($0))] } ?? []
        blocks += notices
        if canUndo { blocks.append(label.button(.undoLast, .undo)) }
        if (try? companion.isReadOnly()) == true { blocks.append(.notice(label(.readOnlyLog))) }
        if let answer {
            // What is wrong with the log stands above every screen.
            let damage = try? companion.damage()
            blocks += list(answer.said.careful, answer.said.cautions.filter { $0 != damage })
        }
        let severe = label.button(.severeSigns, .feel(.severe))
        if isForNight {
            blocks += [severe, label.button(.beforeSleepOpen, .before)]
        } else {
            if let answer { blocks.append(.drawing(Drawing(answer.chart, width: sheet.width, typeSize: sheet.typeSize))) }
            blocks.append(label.button(.beforeOpen, .before))
            if let said = answer?.said {
                blocks += list(said.why, Array(said.reasons.prefix(Self.reasonsShown)))
                let rest = list(nil, Array(said.reasons.dropFirst(Self.reasonsShown))) + list(said.wouldChangeName, said.wouldChange)
                if !rest.isEmpty { blocks.append(.fold(name: label(.more), rest)) }
            }
            blocks += [label.button(.feelHigh, .feel(.feelsHigh)), label.button(.feelNeither, .feel(.neither)), severe, .text(label(.noMedicalDevice))]
        }
        var screen = Screen(title: label(isForNight ? .screenNight : .screenNow), isForNight: isForNight, blocks: blocks, pinned: pinned(label))
        if let meter {
            screen.sheet = [
                .field(Field(id: .meter, name: label(.meterShows), unit: label.unit, typed: meter.typed, advice: meter.advice)),
                label.button(.add, .keepMeter, isMain: true), label.button(.cancel, .cancel),
            ]
        }
        return screen
    }

    private func list(_ name: String?, _ items: [String]) -> [Block] { items.isEmpty ? [] : (name.map { [.heading($0)] } ?? []) + [.items(items)] }

    /// By day always the same four. At night those that the core says fit, the one the verdict asks for first: where a call is the
    /// answer, nothing else is offered before it.
    private func pinned(_ label: Vocabulary) -> [Button] {
        let verdict = answer?.prompt.verdict
        let low = Button(name: label(.feelLowShort), action: .feel(.feelsLow))
        let help = Button.help(label, isMain: verdict == .help)
        if isForNight, let offers = answer?.offers {
            if verdict == .help { return [help, low] }
            let asks = verdict == .treat || verdict == .check
            return offers.enumerated().compactMap { place, offer in
                offer.what.action.map { Button(name: offer.text, action: $0, isMain: asks && place == 0) }
            } + [low, help]
        }
        return [
            Button(name: label(.iTreated), action: .treated, isMain: verdict == .treat),
            Button(name: label(.meter), action: .checked, isMain: verdict == .check), low, help,
        ]
    }

    public func typing(_ text: String, into field: FieldId) -> Self { with { if field == .meter, meter != nil { $0.meter = (text, nil) } } }

    public func after(_ action: Action, at now: Moment) -> Self {
        with {
            if action != .refresh && action != .cancel { ($0.said, $0.canUndo) = (nil, false) }
            switch action {
            case .checked:
                $0.meter = ("", nil)
                if answer == nil { $0.ask(at: now) }
            case .cancel: $0.meter = nil
            case .keepMeter: $0.keepMeter(at: now)
            case .treated: $0.done(.treated(grams: nil), at: now)
            case .rolledOver: $0.done(.rolledOver, at: now)
            case .feel(let felt): $0.feel(felt, at: now)
            case .undo: $0.undo(at: now)
            default: $0.ask(at: now)
            }
        }
    }

    /// An answer grows old, and a sheet is not what one comes back to.
    public func hidden() -> Self { with { ($0.answer, $0.meter) = (nil, nil) } }

    private mutating func ask(at now: Moment, feels: Symptom? = nil, meter: MeterShown? = nil) {
        let question = Question(now: now, occasion: .look, feels: feels, meterMgDl: meter?.mgDl, meterBeyond: meter?.beyond)
        // An answer to an earlier question must not be taken for one to this.
        answer = nil
        attempt {
            $0.answer = try $0.isForNight ? $0.companion.night().woken(now: now, feels: feels) : $0.companion.check().show(question: question)
        }
    }

    /// The answer comes first: it must not wait for, or fail with, a log that cannot be written.
    private mutating func feel(_ felt: Symptom, at now: Moment) {
        ask(at: now, feels: felt)
        keep { try $0.log().record(what: .feeling(felt: felt), at: now, now: now) }
    }

    private mutating func keepMeter(at now: Moment) {
        do {
            let shown = try companion.words().readMeter(typed: meter?.typed ?? "")
            meter = nil
            if isForNight { return done(.checked(mgDl: shown.mgDl, beyond: shown.beyond), at: now) }
            ask(at: now, meter: shown)
            keep { try $0.log().record(what: shown.what, at: now, now: now) }
        } catch { meter?.advice = advice(error) }
    }

    /// What could not be kept was still done: the answer on the screen stays, and the advice says what stands.
    private mutating func done(_ what: NightAnswer, at now: Moment) {
        var answered: Answer?
        keep {
            let done = try $0.night().done(what: what, now: now)
            answered = done.answer
            return done.kept
        }
        if isForNight, let answered { answer = answered } else { ask(at: now) }
    }

    private mutating func undo(at now: Moment) {
        attempt { $0.said = try $0.companion.undone(at: now) }
        ask(at: now)
    }

    private mutating func keep(_ record: (EbbsteadCompanion) throws -> Entry) {
        attempt {
            let entry = try record($0.companion)
            if $0.said == nil { ($0.said, $0.canUndo) = (Vocabulary(companion: $0.companion).confirmation(entry, .kept), true) }
        }
    }
}

extension NightChoice {
    /// A call has its own place.
    var action: Action? {
        switch self {
        case .call: nil
        case .checked: .checked
        case .treated: .treated
        case .rolledOver: .rolledOver
        }
    }
}

/// How wide a drawing may be and how large its type, in points.
public struct Sheet: Equatable, Sendable {
    public var width: Double
    public var typeSize: Double

    public init(width: Double = 358, typeSize: Double = 12) { (self.width, self.typeSize) = (width, typeSize) }
}
