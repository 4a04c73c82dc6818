import Ebbstead

/// What is there, how long it lasts, and noting more of it; and the facts for a letter on why the sensor is needed.
struct SuppliesPage: RecordPage {
    private static let items: [Item] = [.sensor, .transmitter, .battery, .testStrip, .rapidInsulin, .longActingInsulin, .rescueCarbohydrate]
    private static let happenings: [Stocked] = [.counted, .received, .used, .thrownAway, .quoted]
    private static let noted: [(id: FieldId, name: Label, keys: Field.Keys)] = [
        (.supplyAmount, .supplyAmount, .number), (.supplyExpires, .supplyExpires, .words), (.supplyPrice, .supplyPrice, .number),
        (.supplyCurrency, .supplyCurrency, .words), (.supplyFrom, .supplyFrom, .words),
    ]

    var state: PageState
    private var item = Item.sensor
    private var stocked = Stocked.counted
    private var statement: Page?

    init(_ companion: EbbsteadCompanion) { state = PageState(companion, typed: [.days: "365", .needDays: "90"]) }

    var below: [Block] {
        let (label, words) = (state.label, try? state.companion.words())
        let which = Self.items.map { Choice.Option(name: (try? words?.item(item: $0)) ?? "", action: .item($0), isChosen: $0 == item) }
        let what = Self.happenings.map { Choice.Option(name: (try? words?.stocked(stocked: $0)) ?? "", action: .stocked($0), isChosen: $0 == stocked) }
        let add: [Block] = [
            state.field(.days, .daysBack), state.button(.showThese, .look), .heading(label(.add)),
            .choice(Choice(name: label(.whichSupply), options: which, isFolded: true)), .choice(Choice(name: label(.supplyStocked), options: what, isFolded: true)),
        ]
        return add + Self.noted.map { state.field($0.id, $0.name, keys: $0.keys) }
            + [state.button(.add, .keepSupply, isMain: true), state.button(.undoLast, .undo), .heading(label(.statement))] + (statement?.blocks ?? [])
            + [state.field(.needDays, .daysBack), state.button(.showThese, .showStatement)] + (statement == nil ? [] : [state.button(.saveText, .writeStatement)])
    }

    func page(_ state: inout PageState, at now: Moment) throws -> Page? { try state.companion.supplies().page(days: state.days(.days), now: now) }

    mutating func done(_ action: Action, at now: Moment) -> Bool {
        switch action {
        case .item(let item): self.item = item
        case .stocked(let stocked): self.stocked = stocked
        case .keepSupply: return keep(at: now)
        case .undo:
            state.undo(at: now)
            return true
        case .showStatement: stateNeed(at: now)
        case .writeStatement:
            state.write("ebbstead-need-\(now.dateText).txt", beside: .needDays, at: now) {
                try $0.companion.supplies().statementText(days: $0.days(.needDays), now: now)
            }
        default:
            if statement != nil { stateNeed(at: now) }
            return true
        }
        return false
    }

    private mutating func stateNeed(at now: Moment) {
        var stated: Page?
        state.attempt(.needDays) { stated = try $0.companion.supplies().statement(days: $0.days(.needDays), now: now) }
        statement = stated
    }

    private mutating func keep(at now: Moment) -> Bool {
        let (amount, price) = (state.number(.supplyAmount, isNeeded: true), state.number(.supplyPrice))
        guard state.advices.isEmpty, let amount else { return false }
        let (item, stocked) = (item, stocked)
        state.attempt(beside: Self.field) { state in
            let price = price.map { Price(amount: $0, currency: state.text(.supplyCurrency) ?? "") }
            let supply = Supply(
                item: item, stocked: stocked, amount: amount, expires: state.text(.supplyExpires), lot: nil, price: price, from: state.text(.supplyFrom))
            try state.note(.supply(supply: supply), at: now, now: now)
            // The currency is the same the next time.
            state.forget(Self.noted.map(\.id).filter { $0 != .supplyCurrency })
        }
        return true
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
