import Ebbstead
import Foundation
import Presenters
import XCTest

final class SuppliesTests: RecordCase {
    func testASupplyIsNotedAndShown() throws {
        let weeks = try Invented.weeks(at: path)
        let page = record(weeks, .supplies)
        assertShows(try self.page(weeks, .supplies), page.screen)
        let noted = page.after(.choose(id: "item", code: "test_strip"), at: weeks.now).after(.choose(id: "stocked", code: "received"), at: weeks.now)
            .typing("100", into: .form("amount")).typing("2027-03-01", into: .form("expires")).typing("39,90", into: .form("price"))
            .typing("eur", into: .form("currency")).typing("the pharmacy", into: .form("from")).after(.press(.noteSupply), at: weeks.now)
        let supply = Supply(
            item: .testStrip, stocked: .received, amount: 100, expires: "2027-03-01", lot: nil,
            price: Price(amount: 39.9, currency: "EUR"), from: "the pharmacy")
        XCTAssertEqual(try held(weeks.companion, since: weeks.now), [.supply(supply: supply)])
        XCTAssertEqual(noted.screen.notices.count, 1)
        XCTAssertEqual(noted.screen.field(.form("amount"))?.typed, "")
        XCTAssertEqual(noted.screen.field(.form("currency"))?.typed, "eur", "it is the same the next time")
        assertShows(try self.page(weeks, .supplies), noted.screen)
        XCTAssertNotEqual(noted.screen.texts, page.screen.texts)
        _ = noted.after(.press(.undo), at: weeks.now.minutes(1))
        XCTAssertEqual(try held(weeks.companion, since: weeks.now), [])
    }

    func testEverySupplyAndHappeningCanBeChosenAndIsNamedByTheCore() throws {
        let weeks = try Invented.weeks(at: path, language: "de")
        var page = record(weeks, .supplies)
        let actions = page.screen.choices.flatMap(\.options).map(\.action)
        for action in actions {
            guard case .choose = action else { continue }
            page = page.after(action, at: weeks.now)
            XCTAssertTrue(page.screen.chosen.contains(action))
        }
        XCTAssertEqual(actions.count, 7 + 7 + 5, "pages, supplies, happenings")
    }

    func testEachSlipIsSaidBesideItsOwnFieldAndKeepsNothing() throws {
        let weeks = try Invented.weeks(at: path)
        var page: RecordPresenter { record(weeks, .supplies).typing("3", into: .form("amount")) }
        let slips: [(String, String, String)] = [
            (.form("amount"), "", .form("amount")), (.form("amount"), "a few", .form("amount")), (.form("amount"), "1.5", .form("amount")),
            (.form("amount"), "-1", .form("amount")), (.form("expires"), "March", .form("expires")), (.form("price"), "12", .form("currency")),
            (.form("price"), "dear", .form("price")), (.form("from"), String(repeating: "x", count: 10_000), .form("from")),
        ]
        for (field, typed, place) in slips {
            let screen = page.typing(typed, into: field).after(.press(.noteSupply), at: weeks.now).screen
            XCTAssertEqual(screen.fields.filter { $0.advice != nil }.map(\.id), [place], "\(field): \(typed.prefix(20))")
            XCTAssertEqual(screen.field(field)?.typed, typed)
        }
        let quote = page.after(.choose(id: "stocked", code: "quoted"), at: weeks.now).after(.press(.noteSupply), at: weeks.now).screen
        XCTAssertNotNil(quote.field(.form("price"))?.advice, "an offer has a price")
        XCTAssertEqual(try held(weeks.companion, since: weeks.now), [])
        let never = page.typing("never", into: .form("supply_days")).after(.press(.show), at: weeks.now).screen
        XCTAssertEqual(never.fields.filter { $0.advice != nil }.map(\.id), [.form("supply_days")])
    }

    func testTheStatementIsShownAndWrittenAsTheCoresText() throws {
        let weeks = try Invented.weeks(at: path, unit: .mmolL, language: "de")
        let page = record(weeks, .supplies)
        XCTAssertFalse(page.screen.buttons.contains { $0.action == .press(.saveText) })
        let shown = page.typing("28", into: .form("need_days")).after(.press(.statement), at: weeks.now)
        let stated = try XCTUnwrap(try pages(weeks.companion, .supplies, .statement, ["need_days": "28"], at: weeks.now).first)
        assertShows(stated, shown.screen)
        let document = try XCTUnwrap(shown.after(.press(.saveText), at: weeks.now).document)
        XCTAssertEqual(document.name, "ebbstead-need-2026-03-15.txt")
        XCTAssertTrue(String(decoding: document.bytes, as: UTF8.self).hasPrefix(stated.heading))
        let slip = shown.typing("0", into: .form("need_days")).after(.press(.statement), at: weeks.now)
        XCTAssertEqual(slip.screen.fields.filter { $0.advice != nil }.map(\.id), [.form("need_days")])
        XCTAssertFalse(slip.screen.buttons.contains { $0.action == .press(.saveText) }, "what is not shown is not written")
    }
}

final class AnswersTests: RecordCase {
    func testWhatCameOfThePromptsIsTheCoresPage() throws {
        let evening = try Invented.evening(at: path)
        let none = record(evening, .outcomes)
        _ = PromptPresenter(evening.companion, at: evening.now).after(.look, at: evening.now)
        let later = evening.now.minutes(5)
        let shown = none.after(.press(.show), at: later)
        assertShows(try XCTUnwrap(try pages(evening.companion, .outcomes, at: later).first), shown.screen)
        XCTAssertNotEqual(shown.screen.texts, none.screen.texts, "the prompt that was shown is in it")
        let slip = shown.typing("0", into: .form("outcome_days")).after(.press(.show), at: later)
        XCTAssertNotNil(slip.screen.field(.form("outcome_days"))?.advice)
    }
}
