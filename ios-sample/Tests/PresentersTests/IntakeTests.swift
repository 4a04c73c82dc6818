import Ebbstead
import Foundation
import Invented
import Presenters
import XCTest

/// Says what it was given, then ends, or fails.
private struct Script: ReadingSource {
    struct Gone: Error {}
    let name = "invented source"
    let batches: [[ReadingAt]]
    var fails = false

    func readings(since: Moment?) -> AsyncThrowingStream<[ReadingAt], any Error> {
        AsyncThrowingStream { stream in
            for batch in batches { stream.yield(batch.filter { $0.at.unixMs >= since?.unixMs ?? 0 }) }
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

    private func readings(_ minutes: ClosedRange<Int>) -> [ReadingAt] {
        minutes.map { ReadingAt(at: now.minutes(Double(-$0)), mgDl: 120) }
    }

    func testTakesBatchesOnceHoweverOftenTheyAreSaid() async throws {
        let (intake, _) = try intake()
        let source = Script(batches: [readings(1...5), [], readings(4...8)])
        let first = await intake.follow(source, since: nil)
        XCTAssertEqual([first.new, first.known, first.refused], [8, 2, 0])
        let again = await intake.follow(source, since: nil)
        XCTAssertEqual([again.new, again.known], [0, 10])
        XCTAssertNil(again.failure)
    }

    func testAReadingThatCannotBeDoesNotTakeTheOthersWithIt() async throws {
        let (intake, _) = try intake()
        let bad = [ReadingAt(at: now, mgDl: 0), ReadingAt(at: now.minutes(600), mgDl: 100)]
        let taken = await intake.follow(Script(batches: [readings(1...5) + bad]), since: nil)
        XCTAssertEqual([taken.new, taken.refused], [5, 2])
    }

    func testASourceThatFailsLeavesWhatItSaid() async throws {
        let (intake, _) = try intake()
        let taken = await intake.follow(Script(batches: [readings(1...3)], fails: true), since: nil)
        XCTAssertEqual(taken.new, 3)
        XCTAssertNotNil(taken.failure)
    }

    func testAClosedLogEndsTheIntakeWithAdvice() async throws {
        let (intake, companion) = try intake()
        try companion.closeLog()
        let taken = await intake.follow(Script(batches: [readings(1...3)]), since: nil)
        XCTAssertEqual(taken.new, 0)
        XCTAssertNotNil(taken.failure)
    }
}
