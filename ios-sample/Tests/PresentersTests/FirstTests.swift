import Ebbstead
import Foundation
@testable import Presenters
import XCTest

final class FirstTests: ScreenCase {
    private let now = Moment(unixMs: 1_773_517_800_000, offsetMinutes: 60)

    private func companion() throws -> EbbsteadCompanion { try EbbsteadCompanion.open(path: path, language: "en", now: now) }

    func testTheUnitIsAskedForAndNeverAssumed() throws {
        let companion = try companion()
        let first = FirstPresenter(companion)
        XCTAssertEqual(first.screen.texts.prefix(3), ["Before you begin", "1 / 5", first.screen.texts[2]])
        XCTAssertTrue(first.screen.texts.contains { $0.hasPrefix("This is no medical device") })
        let own = first.after(.next, at: now)
        XCTAssertEqual(own.screen.choices.first?.options.map(\.isChosen), [false, false])
        XCTAssertEqual(own.screen.choices.map(\.name), ["Unit", "Language"])
        XCTAssertFalse(own.screen.pinned.contains { $0.action == .next }, "it waits for the unit")
        let chosen = own.after(.choose(id: "unit", code: "mmol_l"), at: now).after(.choose(id: "language", code: "de"), at: now)
        XCTAssertEqual(try companion.settings().areSet(), false)
        let sources = chosen.after(.next, at: now)
        XCTAssertEqual(try companion.settings().wearer().unit, .mmolL)
        XCTAssertEqual(sources.screen.title, "Woher die Werte kommen", "the language is spoken at once")
        XCTAssertEqual(sources.screen.buttons.map(\.action), [.phone(.findSensor), .phone(.readHealth), .phone(.readFile), .next, .back, .help])
    }

    func testEachSourceHasItsReasonAndShowsWhatCameOfIt() throws {
        let screen = FirstPresenter(try companion()).after(.next, at: now).after(.choose(id: "unit", code: "mg_dl"), at: now).after(.next, at: now)
            .receiving(Received(messages: ["42 new entries"]), Devices(), at: now).screen
        XCTAssertEqual(screen.notices, ["42 new entries"])
        let kinds = screen.blocks.map { block in if case .text = block { "why" } else if case .button = block { "tap" } else { "" } }
        XCTAssertEqual(kinds.suffix(6), ["why", "tap", "why", "tap", "why", "tap"])
    }

    func testLinesNightAndWhomToCallAreKeptAndASlipStays() throws {
        let companion = try companion()
        let lines = FirstPresenter(companion).after(.next, at: now).after(.choose(id: "unit", code: "mg_dl"), at: now).after(.next, at: now).after(.next, at: now)
        XCTAssertEqual(lines.screen.fields.map(\.id), ["low_line", "high_line", "emergency", "contact"].map(String.form))
        let slip = lines.typing("40", into: .form("low_line")).after(.next, at: now)
        XCTAssertNotNil(slip.screen.field(.form("low_line"))?.advice)
        let wakes = slip.typing("80", into: .form("low_line")).typing("999", into: .form("emergency")).setting(.form("night_from"), toMinute: 22 * 60)
            .after(.next, at: now)
        let wearer = try companion.settings().wearer()
        XCTAssertEqual([wearer.lowLineMgDl, Double(wearer.nightFromMinute)], [80, 1320])
        XCTAssertEqual(wearer.emergencyNumber, "999")
        XCTAssertEqual(wakes.screen.buttons.map(\.action), [.phone(.allowAlerts), .tryAlert, .leave, .back, .help])
        XCTAssertTrue(wakes.screen.texts.contains { $0.contains("silent mode") })
    }

    /// Nothing is asked, and nothing kept as shown, while the first start is on the screen.
    @MainActor
    func testItStandsInPlaceOfTheTabsUntilItIsLeft() async throws {
        let model = ShellModel(now: { [now] in now })
        model.open(at: path, language: "en", sources: [])
        await model.settled()
        XCTAssertTrue(model.isFirst)
        XCTAssertNil(model.presenters[.now]?.screen.verdict)
        model.send(.next, to: .first)
        await model.settled()
        model.send(.help, to: .first)
        model.lay(nil)
        model.send(.choose(id: "unit", code: "mg_dl"), to: .first)
        model.send(.next, to: .first)
        await model.settled()
        XCTAssertTrue(model.isFirst, "help is left again")
        let table = folder.appendingPathComponent("m.csv")
        try Data("time,glucose mg/dL\n2026-03-14 08:00:00,100\n".utf8).write(to: table)
        model.read(file: table)
        await model.settled()
        XCTAssertEqual(model.presenters[.first]?.screen.notices.first?.contains("1"), true)
        model.send(.leave, to: .first)
        await model.settled()
        XCTAssertFalse(model.isFirst)
        XCTAssertNotNil(model.presenters[.now]?.screen.verdict)
        let next = ShellModel(now: { [now] in now })
        next.open(at: path, language: "en", sources: [])
        await next.settled()
        XCTAssertFalse(next.isFirst)
    }
}
