import Ebbstead
import Foundation
import XCTest

/// A folder that is gone after the test, and a log in it.
class LogCase: XCTestCase {
    static let start = Moment(unixMs: 1_773_500_000_000, offsetMinutes: 60)  // 2026-03-14T15:53:20+01:00
    var folder = URL(fileURLWithPath: "/")

    override func setUpWithError() throws {
        folder = FileManager.default.temporaryDirectory.appendingPathComponent(UUID().uuidString, isDirectory: true)
        try FileManager.default.createDirectory(at: folder, withIntermediateDirectories: true)
    }

    override func tearDownWithError() throws {
        try FileManager.default.removeItem(at: folder)
    }

    var path: String { folder.appendingPathComponent("log.ebb").path }

    func open(at now: Moment = start) throws -> EbbsteadCompanion {
        try EbbsteadCompanion.open(path: path, language: "en", now: now)
    }

    func at(_ minutes: Int) -> Moment {
        Moment(unixMs: Self.start.unixMs + Int64(minutes) * 60_000, offsetMinutes: 60)
    }

    /// A fall of 2 mg/dL a minute over an hour, a reading every five minutes, the last at minute 60.
    func falling() -> [ReadingAt] {
        stride(from: 0, through: 60, by: 5).map { ReadingAt(at: at($0), mgDl: 224 - 2 * Double($0)) }
    }
}

final class CompanionTests: LogCase {
    func testWhatIsNotedIsThereAfterReopening() throws {
        let first = try open()
        let entry = try first.log().record(what: .carbohydrate(grams: 15, purpose: .rescue), at: at(0), now: at(1))
        try first.closeLog()
        let second = try open(at: at(2))
        let listed = try second.log().list(from: at(-10), until: at(10), replaced: false, readings: false)
        XCTAssertEqual(listed.map(\.entry), [entry])
        XCTAssertEqual(listed.first?.holds, true)
        XCTAssertEqual(entry.what, .carbohydrate(grams: 15, purpose: .rescue))
    }

    func testEveryCallAfterClosingIsRefused() throws {
        let companion = try open()
        let (log, check, settings) = (try companion.log(), try companion.check(), try companion.settings())
        let night = try companion.promptScreens()
        try companion.closeLog()
        XCTAssertNoThrow(try companion.closeLog(), "closing again does nothing")
        let question = Question(now: at(0), occasion: .look, feels: nil, meterMgDl: nil)
        let calls: [() throws -> Void] = [
            { _ = try companion.log() },
            { try companion.tick(now: self.at(1)) },
            { _ = try log.record(what: .note(text: "x"), at: self.at(0), now: self.at(0)) },
            { _ = try log.undo(now: self.at(0)) },
            { _ = try check.ask(question: question) },
            { _ = try night.tapped(tap: .look, state: PromptState(noted: nil, meter: nil), now: self.at(0)) },
            { _ = try settings.wearer() },
        ]
        for (index, call) in calls.enumerated() {
            XCTAssertThrowsError(try call(), "call \(index)") { error in
                guard case ApiError.Closed(let advice) = error else { return XCTFail("call \(index): \(error)") }
                XCTAssertFalse(advice.isEmpty)
            }
        }
    }

    func testWhatCannotBeIsRefusedWithAdviceAndNothingIsKept() throws {
        let companion = try open()
        let log = try companion.log()
        let refused: [(EntryKind, Moment)] = [
            (.meterCheck(mgDl: 5), at(0)), (.meterCheck(mgDl: .nan), at(0)), (.insulin(insulin: .rapid, units: -1), at(0)),
            (.carbohydrate(grams: .infinity, purpose: .meal), at(0)), (.note(text: "   "), at(0)),
            (.note(text: String(repeating: "x", count: 2001)), at(0)), (.sensorReading(mgDl: 700), at(0)),
            (.note(text: "tomorrow"), at(24 * 60)), (.note(text: "long ago"), Moment(unixMs: 0, offsetMinutes: 0)),
            (.note(text: "nowhere"), Moment(unixMs: Int64.max, offsetMinutes: Int32.max)),
        ]
        for (what, at) in refused {
            XCTAssertThrowsError(try log.record(what: what, at: at, now: self.at(0)), "\(what)") { error in
                guard case ApiError.InvalidInput(let field, let advice) = error else { return XCTFail("\(what): \(error)") }
                XCTAssertFalse(field.isEmpty || advice.isEmpty)
            }
        }
        // One reading that cannot be refuses its whole batch.
        let batch = falling() + [ReadingAt(at: at(65), mgDl: 0)]
        XCTAssertThrowsError(try log.recordReadings(source: "test sensor", readings: batch, now: at(66)))
        XCTAssertEqual(try log.list(from: at(-1000), until: at(1000), replaced: true, readings: true), [])
    }

    func testErrorsCarryNothingTheWearerWrote() throws {
        let log = try open().log()
        let secret = String(repeating: "my secret ", count: 400)
        XCTAssertThrowsError(try log.record(what: .note(text: secret), at: at(0), now: at(0))) { error in
            XCTAssertFalse(String(reflecting: error).contains("secret"))
        }
        XCTAssertThrowsError(try EbbsteadCompanion.open(path: folder.path, language: "de", now: at(0))) { error in
            XCTAssertFalse(String(reflecting: error).contains(folder.path), "no path either")
        }
    }

    func testAFileThatIsNoLogIsLeftAsItIs() throws {
        let text = Data("this was never a log, and somebody may want it".utf8)
        try text.write(to: URL(fileURLWithPath: path))
        XCTAssertThrowsError(try open()) { error in
            guard case ApiError.Damaged = error else { return XCTFail("\(error)") }
        }
        XCTAssertEqual(try Data(contentsOf: URL(fileURLWithPath: path)), text)
    }

    func testNoSuchEntry() throws {
        let log = try open().log()
        let nobody = "0195a0de-0000-7000-8000-000000000000"
        XCTAssertThrowsError(try log.retract(id: nobody, now: at(0))) { error in
            guard case ApiError.NotFound = error else { return XCTFail("\(error)") }
        }
        XCTAssertThrowsError(try log.retract(id: "no identity", now: at(0)))
    }

    func testPuttingRightAndTakingBackKeepWhatWas() throws {
        let log = try open().log()
        let slip = try log.record(what: .carbohydrate(grams: 150, purpose: .meal), at: at(0), now: at(1))
        let right = try log.correct(id: slip.id, at: at(0), what: .carbohydrate(grams: 15, purpose: .meal), now: at(2))
        XCTAssertEqual(right.replaces, slip.id)
        XCTAssertEqual(try log.list(from: at(-1), until: at(9), replaced: false, readings: false).map(\.entry.id), [right.id])
        let undone = try XCTUnwrap(try log.undo(now: at(3)))
        XCTAssertEqual(undone.undone.id, right.id)
        let holding = try log.list(from: at(-1), until: at(9), replaced: false, readings: false)
        XCTAssertEqual(holding.map(\.entry.what), [.carbohydrate(grams: 150, purpose: .meal)])
        XCTAssertGreaterThan(try log.list(from: at(-1), until: at(9), replaced: true, readings: false).count, 1)
    }

    func testTwoCompanionsOnOneFileSeeEachOther() throws {
        let (one, other) = (try open(), try open())
        let recorder = Recorder()
        try other.watch(watcher: recorder)
        let entry = try one.log().record(what: .meterCheck(mgDl: 101), at: at(0), now: at(0))
        XCTAssertEqual(try other.log().list(from: at(-1), until: at(1), replaced: false, readings: false).map(\.entry), [entry])
        try other.tick(now: at(1))
        XCTAssertEqual(recorder.all, ["log"])
    }

    func testReadingsComeInOnce() throws {
        let log = try open().log()
        let first = try log.recordReadings(source: "test sensor", readings: falling(), now: at(61))
        let again = try log.recordReadings(source: "test sensor", readings: falling(), now: at(62))
        XCTAssertEqual([first.new, first.known, again.new, again.known], [13, 0, 0, 13])
    }

    func testAFallIsAnsweredInWordsAndPicture() throws {
        let companion = try open()
        _ = try companion.log().recordReadings(source: "test sensor", readings: falling(), now: at(61))
        let answer = try companion.check().ask(question: Question(now: at(61), occasion: .look, feels: nil, meterMgDl: nil))
        XCTAssertEqual(answer.prompt.estimate?.readingMgDl, 104)
        XCTAssertLessThan(try XCTUnwrap(answer.prompt.estimate).rateMgDlMin, -1.5)
        XCTAssertEqual(answer.prompt.forecast?.path.count, 24)
        XCTAssertFalse(answer.said.sentence.isEmpty || answer.said.reasons.isEmpty || answer.chart.text.isEmpty)
        XCTAssertEqual(answer.chart.readings.count, 13)
        // Severe signs outrank every number.
        let severe = try companion.check().ask(question: Question(now: at(61), occasion: .look, feels: .severe, meterMgDl: 180))
        XCTAssertEqual(severe.prompt.verdict, .help)
    }

    /// A calm night, then a drop steeper than glucose falls: the sensor looks pressed. The third answer is kept as what it is,
    /// and the core heeds it: it waits for the readings to come back, and no longer once they had their time.
    func testRollingOffTheSensorIsKeptAndHeeded() throws {
        let companion = try open(at: at(-200))
        let log = try companion.log()
        _ = try log.record(what: .sensor(event: .inserted(site: nil)), at: at(-4 * 24 * 60), now: at(-200))
        func read(_ minutes: Int, _ mgDl: Double) throws {
            _ = try log.recordReadings(source: "test sensor", readings: [ReadingAt(at: at(minutes), mgDl: mgDl)], now: at(minutes))
        }
        let unrest: [Double] = [0.4, -0.8, 1.1, -0.3, 0, -1.2, 0.7]
        for minutes in stride(from: -180, through: -20, by: 5) { try read(minutes, 117 + unrest[(minutes + 180) / 5 % 7]) }
        for (minutes, mgDl) in [(-15, 112.0), (-10, 90), (-5, 68), (0, 57)] { try read(minutes, mgDl) }
        func woken(_ minutes: Int) throws -> Prompt {
            try companion.check().ask(question: Question(now: at(minutes), occasion: .wake, feels: nil, meterMgDl: nil)).prompt
        }
        XCTAssertEqual(try woken(0).sentence, .checkCompression)
        let night = try companion.promptScreens()
        let done = try night.tapped(tap: .rolledOver, state: PromptState(noted: nil, meter: nil), now: at(0))
        XCTAssertEqual(done.state.noted?.text, "rolled off the sensor: kept in the log")
        XCTAssertEqual(try woken(0).sentence, .checkRolledOff)
        XCTAssertTrue(try woken(0).reasons.contains(.rolledOff(minutesAgo: 0)))
        // What is listed is what was said, and it can be taken back: then nobody rolled.
        let kept = try log.list(from: at(0), until: at(0), replaced: false, readings: false).map(\.entry)
        XCTAssertEqual(kept.map(\.what), [.sensor(event: .rolledOff)])
        for minutes in [5, 10, 15, 20] { try read(minutes, 57) }
        XCTAssertNotEqual(try woken(20).sentence, .checkRolledOff, "the readings had their time")
        XCTAssertEqual(try log.undo(now: at(21))?.undone.id, kept.first?.id)
        XCTAssertFalse(try woken(20).reasons.contains { if case .rolledOff = $0 { true } else { false } })
    }
}
