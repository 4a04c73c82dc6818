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

    init(_ batches: [[HealthValue]], fails: (any Error)? = nil) { (self.batches, self.fails) = (batches, fails) }

    var since: [Moment] { lock.withLock { asked } }

    func values(since: Moment) -> AsyncThrowingStream<[HealthValue], any Error> {
        lock.withLock { asked.append(since) }
        return AsyncThrowingStream { stream in
            for batch in batches { stream.yield(batch) }
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

final class IntakeTests: ScreenCase {
    private let now = Moment(unixMs: 1_773_517_800_000, offsetMinutes: 60)

    private func intake() throws -> (Intake, EbbsteadCompanion) {
        let companion = try EbbsteadCompanion.open(path: path, language: "en", now: now)
        return (Intake(companion, now: { [now] in now }), companion)
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

    func testAClosedLogEndsTheIntakeWithAdvice() async throws {
        let (intake, companion) = try intake()
        try companion.closeLog()
        let taken = await follow(intake, Script([readings(1...3)]))
        XCTAssertEqual(taken.kept, 0)
        XCTAssertEqual(taken.messages.count, 1)
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
        XCTAssertEqual(model.presenters[.log]?.screen.buttons.first { $0.action == .phone(.readHealth) }?.name, "Read the phone's health records · connected")
        model.isShown = false
        model.isShown = true
        for _ in 0..<300 where source.since.count < 2 { try await Task.sleep(for: .milliseconds(10)) }
        XCTAssertEqual(source.since, [now.minutes(-30 * 1440), now.minutes(-1 - 1440)])
    }
}
