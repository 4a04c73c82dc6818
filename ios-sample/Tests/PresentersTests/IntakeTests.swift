import Ebbstead
import Foundation
import Presenters
import XCTest

/// An invented value as the phone's health store has it.
func measured(at: Moment, _ mgDl: Double, specimen: Specimen = .interstitialFluid, typed: Bool = false, tiedToMeal: Bool = false) -> HealthValue {
    HealthValue(at: at, amount: mgDl, unit: .mgDl, specimen: specimen, typed: typed, tiedToMeal: tiedToMeal)
}

/// Says what it was given, then ends, or fails.
private final class Script: ReadingSource, @unchecked Sendable {
    struct Gone: Error {}
    private let batches: [[HealthValue]]
    private let fails: (any Error)?
    private let lock = NSLock()
    private var asked: [Moment] = []
    private var taken = 0

    init(_ batches: [[HealthValue]], fails: (any Error)? = nil) { (self.batches, self.fails) = (batches, fails) }

    var since: [Moment] { lock.withLock { asked } }
    /// How many batches the phone was told that the app has.
    var done: Int { lock.withLock { taken } }

    func values(since: Moment) -> AsyncThrowingStream<HealthBatch, any Error> {
        lock.withLock { asked.append(since) }
        return AsyncThrowingStream { stream in
            for batch in batches { stream.yield(HealthBatch(values: batch) { [self] in lock.withLock { taken += 1 } }) }
            stream.finish(throwing: fails)
        }
    }
}

/// Keeps what came of a source.
private actor Came {
    private(set) var kept: UInt64 = 0
    private(set) var messages: [String] = []

    func note(_ received: Received) { (kept, messages) = (kept + received.kept, messages + received.messages) }
}

private final class Left: @unchecked Sendable {
    private let lock = NSLock()
    private var tries: Int
    init(_ tries: Int) { self.tries = tries }
    func use() throws {
        let left = lock.withLock {
            tries -= 1
            return tries
        }
        if left <= 0 { throw CancellationError() }
    }
}

final class IntakeTests: ScreenCase {
    private let now = Moment(unixMs: 1_773_517_800_000, offsetMinutes: 60)

    /// It tries so often, then lets it be.
    private func intake(tries: Int = 1) throws -> (Intake, EbbsteadCompanion) {
        let companion = try EbbsteadCompanion.open(path: path, language: "en", now: now)
        let left = Left(tries)
        return (Intake(companion, now: { [now] in now }, pause: { try left.use() }), companion)
    }

    private func readings(_ minutes: ClosedRange<Int>) -> [HealthValue] { minutes.map { measured(at: now.minutes(Double(-$0)), 120) } }

    private func follow(_ intake: Intake, _ source: Script) async -> (kept: UInt64, messages: [String]) {
        let came = Came()
        await intake.follow(source) { await came.note($0) }
        return await (came.kept, came.messages)
    }

    func testTakesBatchesOnceHoweverOftenTheyAreSaid() async throws {
        let (intake, _) = try intake()
        let source = Script([readings(1...5), [], readings(4...8)])
        let first = await follow(intake, source)
        XCTAssertEqual(first.kept, 8)
        XCTAssertEqual(source.done, 3, "the phone may suspend the app")
        let again = await follow(intake, source)
        XCTAssertEqual(again.kept, 0)
        XCTAssertEqual(first.messages + again.messages, [])
        XCTAssertEqual(source.since, [now.minutes(-30 * 1440), now.minutes(-1 - 1440)], "the second time, from a day before its newest on")
    }

    /// The phone's health records hold a sensor's readings and finger checks alike.
    func testFingerChecksAreDistinguishedFromASensorsReadings() async throws {
        let (intake, companion) = try intake()
        let values = [
            measured(at: now.minutes(-9), 110, specimen: .unknown), measured(at: now.minutes(-8), 95, specimen: .unknown, typed: true),
            measured(at: now.minutes(-7), 130, specimen: .unknown, tiedToMeal: true),
        ]
        var messages: [String] = []
        for _ in 0..<2 { messages += await follow(intake, Script([values])).messages }
        let kept = try companion.log().list(from: now.minutes(-60), until: now, replaced: false, readings: true).map(\.entry)
        XCTAssertEqual(kept.map(\.what), [.sensorReading(mgDl: 110), .meterCheck(mgDl: 95), .meterCheck(mgDl: 130)], "said twice, kept once")
        XCTAssertEqual(Set(kept.map(\.source)), ["health records"])
        XCTAssertEqual(messages, ["1 value does not say whether a sensor or a meter measured it: kept as a sensor's reading."])
    }

    func testAReadingThatCannotBeDoesNotTakeTheOthersWithIt() async throws {
        let (intake, _) = try intake()
        let bad = [measured(at: now, 0), measured(at: now.minutes(600), 100, specimen: .blood)]
        let taken = await follow(intake, Script([readings(1...5) + bad]))
        XCTAssertEqual(taken.kept, 5)
        XCTAssertEqual(taken.messages.count, 1)
        XCTAssertTrue(taken.messages.first?.hasPrefix("2 values of the health records are not in the log") == true, "\(taken.messages)")
    }

    func testASourceThatFailsLeavesWhatItSaid() async throws {
        let (intake, companion) = try intake()
        let label = { (label: Label) in try companion.words().label(label: label) }
        let taken = await follow(intake, Script([readings(1...3)], fails: Script.Gone()))
        XCTAssertEqual(taken.kept, 3)
        XCTAssertEqual(taken.messages, [try label(.healthFailed)])
        let missing = await follow(intake, Script([], fails: SourceTrouble(.healthMissing)))
        XCTAssertEqual(missing.messages, [try label(.healthMissing)])
    }

    /// As it is promised to the wearer. What lasts is said once.
    func testAFailureIsTriedAgainByItself() async throws {
        let (intake, companion) = try intake(tries: 3)
        let source = Script([readings(1...3)], fails: Script.Gone())
        let taken = await follow(intake, source)
        XCTAssertEqual(source.since, [now.minutes(-30 * 1440), now.minutes(-1 - 1440), now.minutes(-1 - 1440)])
        XCTAssertEqual(taken.messages.count, 3, "each time something had come in between")
        let gone = Script([], fails: Script.Gone())
        let (again, _) = (try self.intake(tries: 3).0, companion)
        let lasting = await follow(again, gone)
        XCTAssertEqual(gone.since.count, 3)
        XCTAssertEqual(lasting.messages, [try companion.words().label(label: .healthFailed)])
        let missing = Script([], fails: SourceTrouble(.healthMissing))
        _ = await follow(again, missing)
        XCTAssertEqual(missing.since.count, 1, "waiting brings none")
    }

    /// What it refused is asked for again, and the phone is told all the same.
    func testALogThatRefusesIsTriedAgainWithAdvice() async throws {
        let (intake, companion) = try intake(tries: 2)
        let source = Script([readings(1...3), readings(4...5)])
        let taken = Came()
        await intake.follow(source) {
            if $0.kept == 3 { try? companion.closeLog() }
            await taken.note($0)
        }
        let (kept, messages) = await (taken.kept, taken.messages)
        XCTAssertEqual(kept, 3)
        XCTAssertEqual(messages.count, 1)
        XCTAssertEqual(source.done, 2)
    }

    /// Nothing is read before the wearer asks for it. A failure is said where the sources are chosen, and the gap is filled on return.
    @MainActor
    func testHealthRecordsAreReadOnceChosenAndAgainOnReturn() async throws {
        let (_, companion) = try intake()
        _ = try companion.settings().keep(filledIn: ["unit": "mg_dl"], now: now)
        let source = Script([readings(1...3)], fails: Script.Gone())
        let model = ShellModel(now: { [now] in now })
        model.open(at: path, language: "en", sources: [source])
        await model.settled()
        XCTAssertEqual(source.since, [])
        model.send(.phone(.readHealth), to: .log)
        for _ in 0..<300 where model.presenters[.log]?.screen.notices.isEmpty != false {
            await model.settled()
            try await Task.sleep(for: .milliseconds(10))
        }
        XCTAssertEqual(model.presenters[.log]?.screen.notices.count, 1)
        let screen = try XCTUnwrap(model.presenters[.log]?.screen)
        XCTAssertTrue(screen.texts.contains("Read the phone's health records · connected"), "\(screen.texts)")
        model.isShown = false
        model.isShown = true
        for _ in 0..<300 where source.since.count < 2 { try await Task.sleep(for: .milliseconds(10)) }
        XCTAssertEqual(source.since, [now.minutes(-30 * 1440), now.minutes(-1 - 1440)])
    }
}
