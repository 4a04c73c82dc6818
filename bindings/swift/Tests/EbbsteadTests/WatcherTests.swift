import Ebbstead
import Foundation
import XCTest

/// Records what it was notified of, on whatever thread.
final class Recorder: Watcher, @unchecked Sendable {
    private let lock = NSLock()
    private var kept: [String] = []

    var all: [String] { lock.withLock { kept } }

    func logChanged() throws { lock.withLock { kept.append("log") } }
    func settingsChanged() throws { lock.withLock { kept.append("settings") } }
    func promptDue(due: Due) throws { lock.withLock { kept.append("due \(due.at.unixMs)") } }
}

/// Throws at every notification.
final class Grumbler: Watcher, @unchecked Sendable {
    struct Enough: Error {}
    let calls = Recorder()

    func logChanged() throws {
        try calls.logChanged()
        throw Enough()
    }
    func settingsChanged() throws {
        try calls.settingsChanged()
        throw ApiError.Busy(advice: "not now")
    }
    func promptDue(due: Due) throws {}
}

/// Asks the companion that is just notifying it.
final class CallsBack: Watcher, @unchecked Sendable {
    weak var companion: EbbsteadCompanion?
    let listed = Recorder()
    let now: Moment

    init(_ companion: EbbsteadCompanion, now: Moment) { (self.companion, self.now) = (companion, now) }

    func logChanged() throws {
        let from = Moment(unixMs: now.unixMs - 7_200_000, offsetMinutes: 0)
        for _ in try companion?.log().list(from: from, until: now, replaced: false, readings: true) ?? [] {
            try listed.logChanged()
        }
    }
    func settingsChanged() throws {}
    func promptDue(due: Due) throws {}
}

final class WatcherTests: LogCase {
    func testIsNotifiedOfChangesAndOnlyOfChanges() throws {
        let companion = try open()
        let recorder = Recorder()
        try companion.watch(watcher: recorder)
        _ = try companion.log().recordReadings(source: "test sensor", readings: falling(), now: at(61))
        XCTAssertEqual(recorder.all, ["log"])
        _ = try companion.log().recordReadings(source: "test sensor", readings: falling(), now: at(61))
        _ = try companion.check().ask(question: Question(now: at(61), occasion: .look, feels: nil, meterMgDl: nil))
        try companion.tick(now: at(61))
        XCTAssertEqual(recorder.all, ["log"], "nothing changed")
        let wearer = try companion.settings().wearer()
        try companion.settings().setWearer(wearer: wearer, now: at(61))
        XCTAssertEqual(recorder.all.filter { $0 == "settings" }.count, 1)
        try companion.watch(watcher: nil)
        _ = try companion.log().record(what: .note(text: "unheard"), at: at(61), now: at(61))
        XCTAssertEqual(recorder.all.filter { $0 == "log" }.count, 1)
    }

    func testIsNotifiedOnceOfAPromptThatIsDue() throws {
        let companion = try open()
        let recorder = Recorder()
        try companion.watch(watcher: recorder)
        _ = try companion.log().recordReadings(source: "test sensor", readings: falling(), now: at(61))
        let answer = try companion.check().ask(question: Question(now: at(61), occasion: .look, feels: nil, meterMgDl: nil))
        let minutes = try XCTUnwrap(answer.prompt.lookAgainMinutes)
        let due = try XCTUnwrap(try companion.due())
        XCTAssertEqual(due.at, at(61 + Int(minutes)))
        try companion.tick(now: at(60 + Int(minutes)))
        XCTAssertEqual(recorder.all, ["log"])
        try companion.tick(now: due.at)
        try companion.tick(now: due.at)
        XCTAssertEqual(recorder.all, ["log", "due \(due.at.unixMs)"])
    }

    func testWhatAWatcherThrowsHarmsNothing() throws {
        let companion = try open()
        let grumbler = Grumbler()
        try companion.watch(watcher: grumbler)
        let entry = try companion.log().record(what: .note(text: "kept all the same"), at: at(0), now: at(0))
        try companion.settings().setWearer(wearer: companion.settings().wearer(), now: at(0))
        XCTAssertEqual(Set(grumbler.calls.all), ["log", "settings"])
        XCTAssertEqual(try companion.log().list(from: at(-1), until: at(1), replaced: false, readings: false).map(\.entry), [entry])
    }

    func testMayCallBack() throws {
        let companion = try open()
        let caller = CallsBack(companion, now: at(61))
        try companion.watch(watcher: caller)
        _ = try companion.log().recordReadings(source: "test sensor", readings: falling(), now: at(61))
        XCTAssertEqual(caller.listed.all.count, 13)
    }
}
