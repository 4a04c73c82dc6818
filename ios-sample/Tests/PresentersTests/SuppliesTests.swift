import Ebbstead
import Foundation
import Invented
import Presenters
import XCTest

final class SuppliesTests: RecordCase {
    func testASupplyIsNotedAndShown() throws {
        let weeks = try Invented.weeks(at: path)
        let page = record(weeks, .supplies)
        assertShows(try weeks.companion.supplies().page(days: 365, now: weeks.now), page.screen)
        let noted = page.after(.item(.testStrip), at: weeks.now).after(.stocked(.received), at: weeks.now)
            .typing("100", into: .supplyAmount).typing("2027-03-01", into: .supplyExpires).typing("39,90", into: .supplyPrice)
            .typing("eur", into: .supplyCurrency).typing("the pharmacy", into: .supplyFrom).after(.keepSupply, at: weeks.now)
        let supply = Supply(
            item: .testStrip, stocked: .received, amount: 100, expires: "2027-03-01", lot: nil,
            price: Price(amount: 39.9, currency: "EUR"), from: "the pharmacy")
        XCTAssertEqual(try held(weeks.companion, since: weeks.now), [.supply(supply: supply)])
        XCTAssertEqual(noted.screen.notices.count, 1)
        XCTAssertEqual(noted.screen.field(.supplyAmount)?.typed, "")
        XCTAssertEqual(noted.screen.field(.supplyCurrency)?.typed, "eur", "it is the same the next time")
        assertShows(try weeks.companion.supplies().page(days: 365, now: weeks.now), noted.screen)
        XCTAssertNotEqual(noted.screen.texts, page.screen.texts)
        _ = noted.after(.undo, at: weeks.now.minutes(1))
        XCTAssertEqual(try held(weeks.companion, since: weeks.now), [])
    }

    func testEverySupplyAndHappeningCanBeChosenAndIsNamedByTheCore() throws {
        let weeks = try Invented.weeks(at: path, language: "de")
        var page = record(weeks, .supplies)
        let actions = page.screen.choices.flatMap(\.options).map(\.action)
        for action in actions {
            switch action {
            case .item, .stocked:
                page = page.after(action, at: weeks.now)
                XCTAssertTrue(page.screen.chosen.contains(action))
            default: break
            }
        }
        let words = try weeks.companion.words()
        XCTAssertEqual(page.screen.choices.dropFirst().first?.options.map(\.name).last, try words.item(item: .rescueCarbohydrate))
        XCTAssertEqual(page.screen.choices.dropFirst(2).first?.options.map(\.name), try [Stocked.counted, .received, .used, .thrownAway, .quoted].map(words.stocked))
    }

    func testEachSlipIsSaidBesideItsOwnFieldAndKeepsNothing() throws {
        let weeks = try Invented.weeks(at: path)
        let page = record(weeks, .supplies).typing("3", into: .supplyAmount)
        let slips: [(FieldId, String, FieldId)] = [
            (.supplyAmount, "", .supplyAmount), (.supplyAmount, "a few", .supplyAmount), (.supplyAmount, "1.5", .supplyAmount),
            (.supplyAmount, "-1", .supplyAmount), (.supplyExpires, "March", .supplyExpires), (.supplyPrice, "12", .supplyCurrency),
            (.supplyPrice, "dear", .supplyPrice), (.supplyFrom, String(repeating: "x", count: 10_000), .supplyFrom),
        ]
        for (field, typed, place) in slips {
            let screen = page.typing(typed, into: field).after(.keepSupply, at: weeks.now).screen
            XCTAssertEqual(screen.fields.filter { $0.advice != nil }.map(\.id), [place], "\(field): \(typed.prefix(20))")
            XCTAssertEqual(screen.field(field)?.typed, typed)
        }
        let quote = page.after(.stocked(.quoted), at: weeks.now).after(.keepSupply, at: weeks.now).screen
        XCTAssertNotNil(quote.field(.supplyPrice)?.advice, "an offer has a price")
        XCTAssertEqual(try held(weeks.companion, since: weeks.now), [])
        let never = page.typing("never", into: .days).after(.look, at: weeks.now).screen
        XCTAssertEqual(never.fields.filter { $0.advice != nil }.map(\.id), [.days])
    }

    func testTheStatementIsShownAndWrittenAsTheCoresText() throws {
        let weeks = try Invented.weeks(at: path, unit: .mmolL, language: "de")
        let page = record(weeks, .supplies)
        XCTAssertFalse(page.screen.buttons.contains { $0.action == .writeStatement })
        let shown = page.typing("28", into: .needDays).after(.showStatement, at: weeks.now)
        assertShows(try weeks.companion.supplies().statement(days: 28, now: weeks.now), shown.screen)
        let document = try XCTUnwrap(shown.after(.writeStatement, at: weeks.now).document)
        XCTAssertEqual(document.name, "ebbstead-need-2026-03-15.txt")
        XCTAssertEqual(String(decoding: document.bytes, as: UTF8.self), try weeks.companion.supplies().statementText(days: 28, now: weeks.now))
        let slip = shown.typing("0", into: .needDays).after(.showStatement, at: weeks.now)
        XCTAssertEqual(slip.screen.fields.filter { $0.advice != nil }.map(\.id), [.needDays])
        XCTAssertFalse(slip.screen.buttons.contains { $0.action == .writeStatement }, "what is not shown is not written")
    }
}

final class AnswersTests: RecordCase {
    func testWhatCameOfThePromptsIsTheCoresPage() throws {
        let evening = try Invented.evening(at: path)
        let none = record(evening, .answers)
        _ = PromptPresenter(evening.companion).after(.look, at: evening.now)
        let later = evening.now.minutes(5)
        let shown = none.after(.look, at: later)
        assertShows(try evening.companion.outcomes().page(days: 90, now: later), shown.screen)
        XCTAssertNotEqual(shown.screen.texts, none.screen.texts, "the prompt that was shown is in it")
        let slip = shown.typing("0", into: .days).after(.look, at: later)
        XCTAssertNotNil(slip.screen.field(.days)?.advice)
    }
}
