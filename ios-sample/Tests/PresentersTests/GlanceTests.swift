import Ebbstead
import Foundation
import Presenters
import XCTest

final class GlanceTests: ScreenCase {
    func testEachMinuteSaysItsAgeUntilTheReadingIsTooOld() throws {
        let evening = try Invented.evening(at: path)
        let glances = try Glance.ahead(evening.companion, from: evening.now)
        let first = try XCTUnwrap(glances.first), last = try XCTUnwrap(glances.last)
        XCTAssertEqual(first.date, Date(timeIntervalSince1970: Double(evening.now.unixMs) / 1000))
        XCTAssertEqual([first.amount, first.accessory.first], ["104 mg/dL", "just now"])
        XCTAssertEqual(glances.map(\.date), glances.map(\.date).sorted())
        // Whatever is shown with an amount has the age that the core gives it then.
        for glance in glances.dropLast() {
            XCTAssertEqual(glance.amount, "104 mg/dL")
            let minutes = glance.date.timeIntervalSince(first.date) / 60
            let answer = try evening.companion.check().ask(question: Question(now: evening.now.minutes(minutes), occasion: .look, feels: nil, meterMgDl: nil))
            XCTAssertEqual(glance.accessory.first, answer.said.age)
        }
        XCTAssertEqual(last.verdict, .check)
        XCTAssertNil(last.amount, "an old number is no news")
        XCTAssertEqual(last.accessory, [])
        XCTAssertEqual(last.sentence, "Check with a meter: the newest reading is too old to act on.")
    }

    func testWithoutReadingsThereIsOneWithoutANumber() throws {
        let now = Moment(unixMs: 1_773_517_800_000, offsetMinutes: 60)
        let companion = try EbbsteadCompanion.open(path: path, language: "de", now: now)
        let glances = try Glance.ahead(companion, from: now)
        XCTAssertEqual(glances.map(\.amount), [nil])
        XCTAssertEqual(try prompted(companion, since: now), [], "nobody was shown anything")
    }

    func testWhatIsKeptIsReadAndOnlyNewsIsNew() throws {
        let evening = try Invented.evening(at: path)
        let file = folder.appendingPathComponent("glances")
        XCTAssertEqual(Glance.kept(in: file), [])
        let glances = try Glance.ahead(evening.companion, from: evening.now)
        XCTAssertTrue(Glance.keep(glances, in: file))
        XCTAssertEqual(Glance.kept(in: file), glances)
        XCTAssertFalse(Glance.keep(glances, in: file))
        // Some minutes later the same reading says nothing new, until something is noted.
        let later = evening.now.minutes(3.4)
        XCTAssertFalse(Glance.keep(try Glance.ahead(evening.companion, from: later), in: file))
        _ = try evening.companion.log().record(what: .meterCheck(mgDl: 58), at: later, now: later)
        XCTAssertTrue(Glance.keep(try Glance.ahead(evening.companion, from: later), in: file))
        XCTAssertEqual(Glance.kept(in: file).first?.verdict, .treat)
        try Data("[]x".utf8).write(to: file)
        XCTAssertEqual(Glance.kept(in: file), [])
    }
}
