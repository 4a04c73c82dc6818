import Ebbstead
import Foundation
import Invented
import Presenters
import XCTest

/// Says what it was given, then ends, or fails.
private final class Script: ReadingSource, @unchecked Sendable {
    struct Gone: Error {}
    let name = "invented source"
    private let batches: [[Measured]]
    private let fails: Bool
    private let lock = NSLock()
    private var asked: [Moment] = []

    init(_ batches: [[Measured]], fails: Bool = false) { (self.batches, self.fails) = (batches, fails) }

    var since: [Moment] { lock.withLock { asked } }

    func values(since: Moment) -> AsyncThrowingStream<[Measured], any Error> {
        lock.withLock { asked.append(since) }
        return AsyncThrowingStream { stream in
            for batch in batches { stream.yield(batch) }
            stream.finish(throwing: fails ? Gone() : nil)
        }
    }
}

final class IntakeTests: ScreenCase {
    private let now = Moment(unixMs: 1_773_517_800_000, offsetMinutes: 60)

    private func intake() throws -> (Intake, EbbsteadCompanion) {
        let companion = try EbbsteadCompanion.open(path: path, language: "en", now: now)
        return (Intake(companion, now: { [now] in now }), companion)
    }

    private func readings(_ minutes: ClosedRange<Int>) -> [Measured] {
        minutes.map { Measured(at: now.minutes(Double(-$0)), mgDl: 120, kind: .sensor) }
    }

    func testTakesBatchesOnceHoweverOftenTheyAreSaid() async throws {
        let (intake, _) = try intake()
        let source = Script([readings(1...5), [], readings(4...8)])
        let first = await intake.follow(source)
        XCTAssertEqual(first, Received(kept: 8))
        let again = await intake.follow(source)
        XCTAssertEqual(again, Received())
        XCTAssertEqual(source.since, [now.minutes(-30 * 1440), now.minutes(-1)], "the second time, only what came since")
    }

    /// The phone's health records hold a sensor's readings and finger checks alike.
    func testFingerChecksAreDistinguishedFromASensorsReadings() async throws {
        let (intake, companion) = try intake()
        let values = [
            Measured(at: now.minutes(-9), mgDl: 110, wasTyped: false, isTiedToMeal: false), Measured(at: now.minutes(-8), mgDl: 95, wasTyped: true, isTiedToMeal: false),
            Measured(at: now.minutes(-7), mgDl: 130, wasTyped: false, isTiedToMeal: true),
        ]
        for _ in 0..<2 { _ = await intake.follow(Script([values])) }
        let kept = try companion.log().list(from: now.minutes(-60), until: now, replaced: false, readings: true).map(\.entry)
        XCTAssertEqual(kept.map(\.what), [.sensorReading(mgDl: 110), .meterCheck(mgDl: 95), .meterCheck(mgDl: 130)], "said twice, kept once")
        XCTAssertEqual(Set(kept.map(\.source)), ["invented source"])
    }

    func testAReadingThatCannotBeDoesNotTakeTheOthersWithIt() async throws {
        let (intake, _) = try intake()
        let bad = [Measured(at: now, mgDl: 0, kind: .sensor), Measured(at: now.minutes(600), mgDl: 100, kind: .meter)]
        let taken = await intake.follow(Script([readings(1...5) + bad]))
        XCTAssertEqual(taken, Received(kept: 5))
    }

    func testASourceThatFailsLeavesWhatItSaid() async throws {
        let (intake, _) = try intake()
        let taken = await intake.follow(Script([readings(1...3)], fails: true))
        XCTAssertEqual(taken.kept, 3)
        XCTAssertEqual(taken.messages.count, 1)
    }

    func testAClosedLogEndsTheIntakeWithAdvice() async throws {
        let (intake, companion) = try intake()
        try companion.closeLog()
        let taken = await intake.follow(Script([readings(1...3)]))
        XCTAssertEqual(taken.kept, 0)
        XCTAssertEqual(taken.messages.count, 1)
    }

    /// Nothing is read before the wearer asks for it. A failure is said where the sources are chosen, and the gap is filled on return.
    @MainActor
    func testHealthRecordsAreReadOnceChosenAndAgainOnReturn() async throws {
        let (_, companion) = try intake()
        _ = try companion.settings().keep(filledIn: ["unit": "mg_dl"], now: now)
        let source = Script([readings(1...3)], fails: true)
        let model = ShellModel(now: { [now] in now })
        model.open(at: path, language: "en", sources: [source])
        model.send(.chapter(.sensors), to: .record)
        await model.settled()
        XCTAssertEqual(source.since, [])
        model.send(.readHealth, to: .record)
        for _ in 0..<300 where model.presenters[.record]?.screen.notices.isEmpty != false {
            await model.settled()
            try await Task.sleep(for: .milliseconds(10))
        }
        XCTAssertEqual(model.presenters[.record]?.screen.notices.count, 1)
        XCTAssertEqual(model.presenters[.record]?.screen.buttons.first { $0.action == .readHealth }?.name, "Read the phone's health records · connected")
        model.isShown = false
        model.isShown = true
        for _ in 0..<300 where source.since.count < 2 { try await Task.sleep(for: .milliseconds(10)) }
        XCTAssertEqual(source.since, [now.minutes(-30 * 1440), now.minutes(-1)])
    }
}
