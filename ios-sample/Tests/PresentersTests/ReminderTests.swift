import Ebbstead
import Foundation
import Invented
import Presenters
import XCTest

/// Keeps what it was set to.
private final class Kept: Bell, @unchecked Sendable {
    private let lock = NSLock()
    private var all: [Reminder?] = []

    var set: [Reminder?] { lock.withLock { all } }

    func set(_ reminder: Reminder?) { lock.withLock { all.append(reminder) } }
}

final class ReminderTests: ScreenCase {
    func testComesWhenTheCoreHasALookDueAndNamesNoGlucose() throws {
        let evening = try Invented.evening(at: path)
        XCTAssertNil(Reminder(evening.companion, now: evening.now), "nobody asked yet")
        _ = PromptPresenter(evening.companion).after(.look, at: evening.now)
        let due = try XCTUnwrap(try evening.companion.due())
        let reminder = try XCTUnwrap(Reminder(evening.companion, now: evening.now))
        XCTAssertEqual(reminder.at, due.at)
        XCTAssertEqual(reminder.opens, .now)
        XCTAssertFalse(reminder.text.isEmpty || reminder.text.contains(where: \.isNumber), reminder.text)
        XCTAssertNil(Reminder(evening.companion, now: due.at), "the app itself is told then")
    }

    func testTheNightsReminderOpensTheNight() throws {
        let night = try Invented.night(at: path, language: "de")
        _ = PromptPresenter(night.companion, isForNight: true).after(.look, at: night.now).after(.rolledOver, at: night.now)
        let reminder = try XCTUnwrap(Reminder(night.companion, now: night.now))
        XCTAssertEqual(reminder.opens, .night)
        XCTAssertEqual(reminder.at, night.now.minutes(5))
        XCTAssertEqual(reminder.text, "Jetzt nachsehen")
    }

    func testAClosedLogRemindsOfNothing() throws {
        let evening = try Invented.evening(at: path)
        _ = PromptPresenter(evening.companion).after(.look, at: evening.now)
        try evening.companion.closeLog()
        XCTAssertNil(Reminder(evening.companion, now: evening.now))
    }

    @MainActor
    func testTheBellFollowsTheScreenThatIsShown() async throws {
        let evening = try Invented.evening(at: path)
        let (bell, now) = (Kept(), evening.now)
        let model = ShellModel(now: { now }, bell: bell)
        model.open(at: path, language: "en", sources: [])
        await model.settled()
        XCTAssertEqual(bell.set.last??.opens, .now)
        let before = bell.set.count
        model.send(.look, to: .now)
        await model.settled()
        XCTAssertEqual(bell.set.count, before, "what is the same is not set again")
        model.tab = .night
        await model.settled()
        XCTAssertEqual(bell.set.last??.opens, .night)
        // A change of the log makes every screen ask; the one that is shown asks last.
        model.send(.feel(.feelsLow), to: .now)
        for _ in 0..<20 {
            await model.settled()
            try await Task.sleep(for: .milliseconds(10))
        }
        XCTAssertEqual(bell.set.last??.opens, .night)
    }
}
