import Ebbstead
import Foundation

/// What is there, how long it lasts, and noting more of it; and the facts for a letter on why the sensor is needed.
struct SuppliesPage: Presenter {
    private static let items: [Item] = [
        .sensor, .transmitter, .battery, .testStrip, .rapidInsulin, .longActingInsulin, .rescueCarbohydrate,
    ]
    private static let happenings: [Stocked] = [.counted, .received, .used, .thrownAway, .quoted]
    private static let noted: [FieldId] = [.supplyAmount, .supplyExpires, .supplyPrice, .supplyCurrency, .supplyFrom]

    private var state: PageState
    private var item = Item.sensor
    private var stocked = Stocked.counted
    private var statement: Page?

    init(_ companion: EbbsteadCompanion) { state = PageState(companion, typed: [.days: "365", .needDays: "90"]) }

    var document: Document? { state.document }

    var screen: Screen {
        let label = state.label
        let words = try? state.companion.words()
        let which = Self.items.map { Choice.Option(name: (try? words?.item(item: $0)) ?? "", action: .item($0), isChosen: $0 == item) }
        let what = Self.happenings.map {
            Choice.Option(name: (try? words?.stocked(stocked: $0)) ?? "", action: .stocked($0), isChosen: $0 == stocked)
        }
        var blocks =
            state.outcome.blocks + (state.page?.blocks ?? []) + [
                state.field(.days, .daysBack), .button(Button(name: label(.showThese), action: .look)),
                .heading(label(.add)),
                .choice(Choice(name: label(.whichSupply), options: which, isFolded: true)),
                .choice(Choice(name: label(.supplyStocked), options: what, isFolded: true)),
                state.field(.supplyAmount, .supplyAmount), state.field(.supplyExpires, .supplyExpires, keys: .words),
                state.field(.supplyPrice, .supplyPrice), state.field(.supplyCurrency, .supplyCurrency, keys: .words),
                state.field(.supplyFrom, .supplyFrom, keys: .words),
                .button(Button(name: label(.add), action: .keepSupply, isMain: true)),
                .button(Button(name: label(.undoLast), action: .undo)),
                .heading(label(.statement)),
            ]
        blocks += statement?.blocks ?? []
        blocks += [state.field(.needDays, .daysBack), .button(Button(name: label(.showThese), action: .showStatement))]
        if statement != nil { blocks.append(.button(Button(name: label(.saveText), action: .writeStatement))) }
        return Screen(title: state.page?.heading ?? "", blocks: blocks)
    }

    func typing(_ text: String, into field: FieldId) -> Self {
        var next = self
        if (Self.noted + [.days, .needDays]).contains(field) { next.state.type(text, into: field) }
        return next
    }

    func after(_ action: Action, at now: Moment) -> Self {
        var next = self
        next.state.begin(action)
        switch action {
        case .item(let item): next.item = item
        case .stocked(let stocked): next.stocked = stocked
        case .keepSupply: next.keep(at: now)
        case .undo:
            next.state.undo(at: now)
            next.look(at: now)
        case .showStatement: next.state(at: now)
        case .writeStatement: next.write(at: now)
        case .documentDone: break
        default:
            next.look(at: now)
            if statement != nil { next.state(at: now) }
        }
        return next
    }

    private mutating func look(at now: Moment) {
        state.show(.days) { try $0.companion.supplies().told(days: $0.days(.days), now: now) }
    }

    private mutating func state(at now: Moment) {
        var stated: Page?
        state.attempt(.needDays) { stated = try $0.companion.supplies().statement(days: $0.days(.needDays), now: now) }
        statement = stated
    }

    private mutating func write(at now: Moment) {
        state.attempt(.needDays) { state in
            let text = try state.companion.supplies().statementText(days: state.days(.needDays), now: now)
            state.document = Document(name: "ebbstead-need-\(now.dateText).txt", bytes: Data(text.utf8))
        }
    }

    private mutating func keep(at now: Moment) {
        let (amount, price) = (state.number(.supplyAmount, isNeeded: true), state.number(.supplyPrice))
        guard state.advices.isEmpty, let amount else { return }
        let (item, stocked) = (item, stocked)
        state.attempt(beside: Self.field) { state in
            let supply = Supply(
                item: item, stocked: stocked, amount: amount, expires: state.text(.supplyExpires), lot: nil,
                price: price.map { Price(amount: $0, currency: state.text(.supplyCurrency) ?? "") }, from: state.text(.supplyFrom))
            let kept = try state.companion.log().record(what: .supply(supply: supply), at: now, now: now)
            // The currency is the same the next time.
            for id in Self.noted where id != .supplyCurrency { state.typed[id] = "" }
            state.outcome = .said(state.label.told(kept, .kept))
        }
        look(at: now)
    }

    /// Where what the core refuses was typed.
    private static func field(of what: String) -> FieldId? {
        switch what {
        case "amount of a supply": .supplyAmount
        case "expiry date": .supplyExpires
        case "price", "quote": .supplyPrice
        case "currency": .supplyCurrency
        case "text": .supplyFrom
        default: nil
        }
    }
}
