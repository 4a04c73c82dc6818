import Ebbstead
import Foundation
@testable import Presenters
import XCTest

/// The record's pages, which go through weeks of the log.
class RecordCase: ScreenCase {
    func record(_ invented: Invented, _ chapter: Chapter) -> RecordPresenter {
        RecordPresenter(invented.companion).after(.chapter(chapter), at: invented.now)
    }

    /// The core's own answer to what was done with what was filled in.
    func core(
        _ companion: EbbsteadCompanion, _ chapter: Chapter, _ act: RecordAct = .show, _ filled: [String: String] = [:], at now: Moment
    ) throws -> RecordScreen {
        let pages = try companion.recordPages(folder: folder.path)
        _ = try pages.turnTo(chapter: chapter, filledIn: [:], now: now)
        return try pages.act(act: act, filledIn: filled, now: now)
    }

    /// The pages that the core shows then, the last first.
    func pages(
        _ companion: EbbsteadCompanion, _ chapter: Chapter, _ act: RecordAct = .show, _ filled: [String: String] = [:], at now: Moment
    ) throws -> [Page] {
        try core(companion, chapter, act, filled, at: now).parts.reversed().compactMap { if case .shown(let page) = $0 { page } else { nil } }
    }

    func page(_ invented: Invented, _ chapter: Chapter, _ filled: [String: String] = [:]) throws -> Page {
        try XCTUnwrap(try pages(invented.companion, chapter, .show, filled, at: invented.now).first)
    }

    /// Everything the core's page says is on the screen.
    func assertShows(_ page: Page, _ screen: Screen, file: StaticString = #filePath, line: UInt = #line) {
        let shown = Set(screen.texts)
        XCTAssertFalse(page.sections.isEmpty, file: file, line: line)
        for section in page.sections {
            if let heading = section.heading { XCTAssertTrue(shown.contains(heading), heading, file: file, line: line) }
            for piece in section.holds {
                switch piece {
                case .sentences(let text), .lead(let text): XCTAssertTrue(shown.contains(text), text, file: file, line: line)
                case .items(let items): XCTAssertTrue(shown.isSuperset(of: items), "\(items)", file: file, line: line)
                case .table(let rows):
                    for row in rows {
                        XCTAssertTrue(shown.contains(row.name), row.name, file: file, line: line)
                        let values = screen.figures.first { $0.name == row.name && $0.note == row.note }?.value ?? ""
                        for value in row.values { XCTAssertTrue(values.contains(value), "\(row)", file: file, line: line) }
                    }
                }
            }
        }
    }
}

extension Screen {
    var figures: [Figure] {
        shown.flatMap { block -> [Figure] in if case .figures(let figures) = block { figures } else { [] } }
    }
    var chosen: [Action] { choices.flatMap(\.options).filter(\.isChosen).map(\.action) }
}

final class ReviewTests: RecordCase {
    private func options(days: UInt16 = 14, aims: Aims = .adult, withoutCompressionLows: Bool = false) -> ReviewOptions {
        ReviewOptions(days: days, aims: aims, withoutCompressionLows: withoutCompressionLows)
    }

    func testShowsEverySectionOfTheCore() throws {
        let weeks = try Invented.weeks(at: path)
        let before = RecordPresenter(weeks.companion)
        XCTAssertEqual(before.screen.figures, [], "nothing is looked at until it is asked for")
        let screen = before.after(.refresh, at: weeks.now).screen
        assertShows(try weeks.companion.review().page(options: options(), now: weeks.now), screen)
        XCTAssertEqual(screen.drawing?.text, try weeks.companion.review().day(options: options(), now: weeks.now)?.text)
        XCTAssertEqual(screen.drawing?.marks.filter { $0.role == .hourMedian }.count, 24)
    }

    func testWhatIsChosenAndTypedIsAskedAndASlipIsSaidBesideIt() throws {
        let weeks = try Invented.weeks(at: path)
        let other = record(weeks, .review).typing("7", into: .form("review_days")).after(.choose(id: "aims", code: "pregnancy"), at: weeks.now).after(.choose(id: "compression", code: "out"), at: weeks.now)
        let asked = other.after(.press(.show), at: weeks.now).screen
        assertShows(
            try weeks.companion.review().page(options: options(days: 7, aims: .type1Pregnancy, withoutCompressionLows: true), now: weeks.now), asked)
        XCTAssertEqual(asked.chosen, [.chapter(.review), .choose(id: "aims", code: "pregnancy"), .choose(id: "compression", code: "out")])
        for slip in ["a week", "0", "-3", "99999"] {
            let screen = other.typing(slip, into: .form("review_days")).after(.press(.show), at: weeks.now).screen
            XCTAssertEqual(screen.field(.form("review_days"))?.typed, slip)
            XCTAssertNotNil(screen.field(.form("review_days"))?.advice, slip)
            XCTAssertNil(screen.drawing)
            XCTAssertEqual(screen.figures, [], "an answer to an earlier question is none to this")
        }
    }

    func testThePageToTakeAlongIsTheCores() throws {
        let weeks = try Invented.weeks(at: path)
        let written = record(weeks, .review).after(.press(.saveReview), at: weeks.now)
        let document = try XCTUnwrap(written.document)
        XCTAssertEqual(document.name, "ebbstead-2026-03-15.html")
        XCTAssertEqual(
            String(decoding: document.bytes, as: UTF8.self),
            try weeks.companion.review().html(options: options(), now: weeks.now))
        XCTAssertNil(written.after(.documentDone(isKept: true), at: weeks.now).document)
    }

    func testAnEmptyLogSaysWhatIsMissingAndShowsNoNumberThatIsNone() throws {
        let now = Moment(unixMs: 1_773_517_800_000, offsetMinutes: 60)
        let companion = try EbbsteadCompanion.open(path: path, language: "en", now: now)
        for chapter in [Chapter.review, .sensors, .alerts, .learnt, .outcomes, .supplies, .copies] {
            let screen = RecordPresenter(companion).after(.chapter(chapter), at: now).screen
            XCTAssertEqual(screen.notices, [], "\(chapter)")
            XCTAssertFalse(screen.texts.contains { $0.contains("NaN") || $0.contains("inf") && $0.contains("%") || $0.isEmpty }, "\(chapter)")
            XCTAssertGreaterThan(screen.texts.count, 4, "\(chapter)")
        }
    }

    func testWhatIsTypedOnOnePageStaysThereWhileAnotherIsShown() throws {
        let weeks = try Invented.weeks(at: path)
        let there = record(weeks, .review).typing("7", into: .form("review_days")).after(.chapter(.sensors), at: weeks.now)
        XCTAssertEqual(there.screen.field(.form("sensor_days"))?.typed, "90")
        XCTAssertEqual(there.after(.chapter(.review), at: weeks.now).screen.field(.form("review_days"))?.typed, "7")
    }
}

final class SensorsTests: RecordCase {
    func testShowsTheRecordAndWhatWasNotedOfTheSensor() throws {
        let weeks = try Invented.weeks(at: path)
        let sensors = record(weeks, .sensors)
        assertShows(try page(weeks, .sensors), sensors.screen)
        // The lot that is noted there is on the sheet.
        let log = LogPresenter(weeks.companion, at: weeks.now).after(.log(.add), at: weeks.now).after(.choose(id: "kind", code: "sensor"), at: weeks.now)
        _ = log.after(.choose(id: "sensor", code: "inserted"), at: weeks.now).typing("calf", into: .form("site")).typing("A-113", into: .form("lot"))
            .after(.log(.keep), at: weeks.now)
        guard case .sensor(.inserted("calf", "A-113", _)) = try held(weeks.companion, since: weeks.now).last else { return XCTFail("not noted") }
        let sheet = try XCTUnwrap(sensors.after(.press(.sensorSheet), at: weeks.now).after(.press(.saveText), at: weeks.now).document)
        XCTAssertTrue(String(decoding: sheet.bytes, as: UTF8.self).contains("A-113"))
    }

    func testTheRatedLengthIsHeededAndASlipInItHidesNothing() throws {
        let weeks = try Invented.weeks(at: path)
        let rated = record(weeks, .sensors).typing("3", into: .form("rated_days")).after(.press(.show), at: weeks.now)
        assertShows(try page(weeks, .sensors, ["rated_days": "3"]), rated.screen)
        let slip = rated.typing("ten", into: .form("rated_days")).after(.press(.show), at: weeks.now)
        XCTAssertNotNil(slip.screen.field(.form("rated_days"))?.advice)
        assertShows(try page(weeks, .sensors), slip.screen)
    }

    func testWhereNoneAreTypedTheRatedDaysAreThoseOfTheSettings() throws {
        let weeks = try Invented.weeks(at: path)
        _ = SettingsPresenter(weeks.companion).typing("14", into: .form("rated_days")).after(.save, at: weeks.now)
        let sensors = record(weeks, .sensors)
        XCTAssertEqual(sensors.screen.field(.form("rated_days"))?.typed, "14")
        assertShows(try page(weeks, .sensors, ["rated_days": "14"]), sensors.screen)
        let log = LogPresenter(weeks.companion, at: weeks.now)
        XCTAssertFalse(log.screen.buttons.contains { $0.action == .log(.inserted) }, "no sensor nearby has said when it began")
        let began = log.receiving(Received(sessionBegan: weeks.now), Devices(), at: weeks.now)
        XCTAssertTrue(began.screen.buttons.contains { $0.name == "New sensor put in · 09:00" })
        _ = began.after(.log(.inserted), at: weeks.now)
        XCTAssertEqual(try held(weeks.companion, since: weeks.now), [.sensor(event: .inserted(site: nil, lot: nil, ratedDays: 14))])
    }

    func testTheSheetHasTheLotAndWantsASensor() throws {
        let weeks = try Invented.weeks(at: path)
        let shown = record(weeks, .sensors).typing("A-113", into: .form("lot")).after(.press(.sensorSheet), at: weeks.now)
        XCTAssertTrue(shown.screen.texts.contains { $0.contains("A-113") })
        let document = try XCTUnwrap(shown.after(.press(.saveText), at: weeks.now).document)
        XCTAssertEqual(document.name, "ebbstead-sensor-2026-03-15.txt")
        XCTAssertTrue(String(decoding: document.bytes, as: UTF8.self).contains("A-113"))
        let empty = try EbbsteadCompanion.open(path: path + ".empty", language: "en", now: weeks.now)
        let none = RecordPresenter(empty).after(.chapter(.sensors), at: weeks.now).after(.press(.sensorSheet), at: weeks.now)
        XCTAssertNil(none.document)
        XCTAssertNotNil(none.screen.field(.form("lot"))?.advice)
    }
}

final class AlertsTests: RecordCase {
    func testTheOwnLinesAreReplayedAndAPlanBesideThem() throws {
        let weeks = try Invented.weeks(at: path)
        let own = record(weeks, .alerts)
        assertShows(try page(weeks, .alerts), own.screen)
        XCTAssertEqual([String.form("day_low"), .form("day_high"), .form("night_low"), .form("night_high")].map { own.screen.field($0)?.typed }, ["70", "180", "70", "180"])
        let tried = own.typing("220", into: .form("day_high")).typing("", into: .form("night_high")).typing("30", into: .form("repeat")).after(.press(.replay), at: weeks.now)
        let page = try XCTUnwrap(try pages(weeks.companion, .alerts, .replay, ["day_high": "220", "night_high": "", "repeat": "30"], at: weeks.now).first)
        assertShows(page, tried.screen)
        XCTAssertNotEqual(tried.screen.figures, own.screen.figures)
        XCTAssertEqual(tried.after(.press(.leavePlan), at: weeks.now).screen, own.screen)
    }

    func testTheFloorCannotBeTriedAway() throws {
        let weeks = try Invented.weeks(at: path)
        let screen = record(weeks, .alerts).typing("45", into: .form("night_low")).after(.press(.replay), at: weeks.now).screen
        XCTAssertEqual(screen.fields.filter { $0.advice != nil }.map(\.id), [.form("night_low")])
        XCTAssertTrue(screen.field(.form("night_low"))?.advice?.contains("54") ?? false)
        XCTAssertEqual(screen.figures, record(weeks, .alerts).screen.figures, "the own lines stay shown")
    }

    func testSlipsAreSaidBesideTheirFields() throws {
        let weeks = try Invented.weeks(at: path, unit: .mmolL, language: "de")
        let screen = record(weeks, .alerts).typing("220", into: .form("day_high")).typing("bald", into: .form("delay")).after(.press(.replay), at: weeks.now).screen
        XCTAssertEqual(screen.fields.filter { $0.advice != nil }.map(\.id), [.form("day_high"), .form("delay")])
        XCTAssertEqual(screen.field(.form("day_low"))?.typed, "3,9")
        let never = record(weeks, .alerts).typing("nie", into: .form("days")).after(.press(.replay), at: weeks.now).screen
        XCTAssertEqual(never.fields.filter { $0.advice != nil }.map(\.id), [.form("days")])
    }

    /// An emptied field means what the core says, on every shell: no high is alerted about, and what is, is alerted about at once and once.
    func testAPlanIsKeptAsTheCoreReadsIt() throws {
        let weeks = try Invented.weeks(at: path)
        let kept = record(weeks, .alerts).typing("", into: .form("night_high")).typing("", into: .form("delay")).typing("", into: .form("lost"))
            .after(.press(.keepPlan), at: weeks.now)
        XCTAssertEqual(kept.screen.notices.count, 1)
        let plan = try weeks.companion.alerts().ownPlan()
        XCTAssertNil(plan.night.highMgDl)
        XCTAssertEqual(plan.day.highMgDl, 180)
        XCTAssertEqual(plan.night.highDelayMinutes, 0)
        XCTAssertNil(plan.day.lostAfterMinutes)
    }
}

final class LearntTests: RecordCase {
    func testWhatIsLearntIsShownAndKept() throws {
        let weeks = try Invented.weeks(at: path, language: "de")
        let none = record(weeks, .learnt)
        XCTAssertEqual(try pages(weeks.companion, .learnt, at: weeks.now), [])
        XCTAssertEqual(none.screen.buttons.map(\.action), [.press(.learn), .help])
        let learnt = none.after(.press(.learn), at: weeks.now)
        XCTAssertEqual(learnt.screen.notices, [])
        let kept = try page(weeks, .learnt)
        XCTAssertTrue(learnt.screen.texts.contains(kept.heading))
        assertShows(kept, record(weeks, .learnt).screen)
        XCTAssertEqual(learnt.after(.refresh, at: weeks.now).screen, learnt.screen, "what was just said stays")
    }
}
