import Ebbstead
import Foundation
import Presenters
import XCTest

/// One batch of readings, then nothing more.
private struct Once: ReadingSource {
    let batch: [HealthValue]

    func values(since: Moment) -> AsyncThrowingStream<HealthBatch, any Error> {
        AsyncThrowingStream { stream in
            stream.yield(HealthBatch(values: batch))
            stream.finish()
        }
    }
}

private final class Counter: @unchecked Sendable {
    private let lock = NSLock()
    private var counted = 0
    var count: Int { lock.withLock { counted } }
    func up() { lock.withLock { counted += 1 } }
    private var later = 0
    var minutes: Int { get { lock.withLock { later } } set { lock.withLock { later = newValue } } }
}

@MainActor
final class ShellModelTests: XCTestCase {
    private let now = Moment(unixMs: 1_773_517_800_000, offsetMinutes: 60)
    private let folder = FileManager.default.temporaryDirectory.appendingPathComponent(UUID().uuidString, isDirectory: true)

    private func made() throws -> URL {
        try FileManager.default.createDirectory(at: folder, withIntermediateDirectories: true)
        addTeardownBlock { [folder] in try? FileManager.default.removeItem(at: folder) }
        return folder
    }

    private func model(sources: [any ReadingSource] = [], passing: URL = .passing) async throws -> ShellModel {
        let path = try made().appendingPathComponent("log.ebb").path
        _ = try EbbsteadCompanion.open(path: path, language: "en", now: now).settings().keep(filledIn: ["unit": "mg_dl"], now: now)
        PhoneState(log: path).change { $0.readsHealth = true }
        let model = ShellModel(now: { [now] in now })
        model.open(at: path, language: "en", sources: sources, passing: passing)
        await model.settled()
        return model
    }

    func testWhatIsSentIsAnsweredInOrder() async throws {
        let model = try await model()
        XCTAssertEqual(Set(model.presenters.keys), Set(ShellModel.Tab.allCases))
        model.send(.log(.add), to: .log)
        model.send(.choose(id: "kind", code: "note"), to: .log)
        await model.settled()
        model.type("first", into: .form("note"), of: .log)
        model.send(.log(.keep), to: .log)
        await model.settled()
        XCTAssertEqual(model.presenters[.log]?.screen.entries.map(\.text), ["note: first"])
        model.send(.log(.undo), to: .log)
        await model.settled()
        XCTAssertEqual(model.presenters[.log]?.screen.entries, [])
    }

    func testReadingsThatArriveChangeTheScreenByThemselves() async throws {
        let batch = (0..<24).map { measured(at: now.minutes(Double(-5 * $0)), 112) }
        let model = try await model(sources: [Once(batch: batch)])
        // The intake and the watcher run on their own; they are given ten seconds, and need far less.
        for _ in 0..<500 {
            await model.settled()
            if model.presenters[.now]?.screen.drawing?.legend.contains(where: { $0.role == .reading }) == true { return }
            try await Task.sleep(for: .milliseconds(20))
        }
        XCTFail("the readings never came to be seen")
    }

    /// The log notifies the model of its own change; the look at it must not wipe what was just said.
    func testWhatWasSaidStaysWhenTheChangeComesBack() async throws {
        let model = try await model()
        model.send(.feel(.feelsLow), to: .now)
        for _ in 0..<20 {
            await model.settled()
            try await Task.sleep(for: .milliseconds(10))
        }
        XCTAssertEqual(model.presenters[.now]?.screen.notices, ["feels low: kept in the log"])
        XCTAssertEqual(model.presenters[.log]?.screen.entries.map(\.text), ["feels low"], "the log was looked at again")
        model.send(.look, to: .now)
        await model.settled()
        XCTAssertEqual(model.presenters[.now]?.screen.notices, [])
    }

    /// What is shown is kept, which changes the log, which makes the screen ask again: that must come to rest.
    func testTheLookAfterAPromptWasKeptIsTheLast() async throws {
        let asked = Counter()
        let folder = try made()
        let path = folder.appendingPathComponent("log.ebb").path
        let evening = try Invented.evening(at: path)
        let model = ShellModel(now: {
            asked.up()
            return evening.now.minutes(Double(asked.minutes))
        })
        func rest() async throws -> Int {
            for _ in 0..<15 {
                await model.settled()
                try await Task.sleep(for: .milliseconds(10))
            }
            return asked.count
        }
        func prompted() throws -> [Occasion] {
            try evening.companion.log().list(from: evening.now, until: evening.now.minutes(5), replaced: false, readings: true).compactMap {
                if case .prompted(let shown) = $0.entry.what { shown.occasion } else { nil }
            }
        }
        model.open(at: path, language: "en", sources: [])
        let once = try await rest()
        let again = try await rest()
        XCTAssertEqual(once, again, "it still asks")
        XCTAssertEqual(try prompted(), [.look], "only what is shown is kept")
        model.tick()
        _ = try await rest()
        XCTAssertEqual(try prompted(), [.look])
        asked.minutes = 1
        model.tab = .log
        _ = try await rest()
        XCTAssertEqual(try prompted(), [.look])
        XCTAssertNil(model.presenters[.now]?.screen.verdict, "an answer that nobody looks at is let go of")
    }

    func testTheNightComesByItselfAndIsLeftUntilTheNextLook() async throws {
        let night = try Invented.night(at: try made().appendingPathComponent("log.ebb").path)
        let model = ShellModel(now: { [now = night.now] in now })
        model.open(at: folder.appendingPathComponent("log.ebb").path, language: "en", sources: [])
        func isNight() async -> Bool? {
            await model.settled()
            return model.presenters[.now]?.screen.isForNight
        }
        var seen = [await isNight()]
        model.send(.prompt(.leaveNight), to: .now)
        seen.append(await isNight())
        model.tick()
        seen.append(await isNight())
        model.isShown = false
        model.isShown = true
        seen.append(await isNight())
        XCTAssertEqual(seen, [true, false, false, true])
    }

    /// Sealing takes seconds: a second tap meanwhile must not seal again, with passphrases that were let go of already.
    func testASecondTapOnWhatTakesItsTimeIsNoSecondWish() async throws {
        let model = try await model()
        model.tab = .record
        model.send(.chapter(.copies), to: .record)
        await model.settled()
        for field in ["passphrase", "passphrase_again"] { model.type("seven quiet herons", into: .form(field), of: .record) }
        model.send(.press(.seal), to: .record)
        XCTAssertEqual(model.underway[.record], [.press(.seal)])
        model.send(.press(.seal), to: .record)
        XCTAssertEqual(model.underway[.record], [.press(.seal)])
        await model.settled()
        XCTAssertEqual(model.underway[.record], [])
        let document = try XCTUnwrap(model.presenters[.record]?.document)
        XCTAssertEqual(model.presenters[.record]?.screen.fields.compactMap(\.advice), [])
        // And the copy is looked into where the wearer chose it.
        let copy = folder.appendingPathComponent("copy.age")
        try document.bytes.write(to: copy)
        model.look(into: copy)
        await model.settled()
        XCTAssertEqual(model.presenters[.record]?.screen.texts.contains("copy.age"), true)
        model.tab = .settings
        await model.settled()
        XCTAssertEqual(model.presenters[.record]?.screen.texts.contains("copy.age"), false, "let go of once the screen is left")
    }

    /// Half asleep one taps twice; the second tap is no second wish.
    func testTwoTapsInARowAreOne() async throws {
        let model = try await model()
        for _ in 0..<2 { model.send(.prompt(.treated), to: .now) }
        XCTAssertEqual(model.underway[.now], [.prompt(.treated)])
        await model.settled()
        let fresh = ShellModel(now: { [now] in now })
        fresh.open(at: try made().appendingPathComponent("log.ebb").path, language: "en", sources: [])
        await fresh.settled()
        for _ in 0..<2 { fresh.send(.next, to: .first) }
        await fresh.settled()
        XCTAssertEqual(fresh.presenters[.first]?.screen.texts.contains { $0.hasPrefix("2 / ") }, true)
    }

    /// What was asked ahead belongs to its moment: it is asked anew by who comes back.
    func testWhatWasAskedAheadIsNotWhatOneComesBackTo() async throws {
        let model = try await model()
        model.send(.before, to: .now)
        await model.settled()
        model.isShown = false
        await model.settled()
        XCTAssertEqual(model.presenters[.before]?.screen.choices.isEmpty, true)
        model.isShown = true
        await model.settled()
        XCTAssertEqual(model.presenters[.before]?.screen.choices.isEmpty, false)
    }

    func testKeysTypedWhileTheWorkGoesOnAreKept() async throws {
        let model = try await model()
        model.send(.checked, to: .now)
        await model.settled()
        model.send(.refresh, to: .now)
        await Task.yield()
        model.type("10", into: .meter, of: .now)
        model.type("104", into: .meter, of: .now)
        await model.settled()
        XCTAssertEqual(model.presenters[.now]?.screen.field(.meter)?.typed, "104")
    }

    func testALogThatCannotBeOpenedIsSaidAndMayBeOpenedAgain() async throws {
        let model = try await model()
        model.open(at: folder.path, language: "en", sources: [])
        await model.settled()
        XCTAssertFalse(try XCTUnwrap(model.failure).isEmpty)
        model.open(at: folder.appendingPathComponent("log.ebb").path, language: "en", sources: [])
        await model.settled()
        XCTAssertNil(model.failure)
    }

    /// Nothing may lie over the way to help, and nothing may keep it from being shown.
    func testHelpIsOneTapAwayWhileTheMeterIsAskedFor() async throws {
        let model = try await model()
        model.send(.checked, to: .now)
        await model.settled()
        XCTAssertNotNil(model.presenters[.now]?.screen.field(.meter))
        XCTAssertEqual(model.presenters[.now]?.screen.pinned.map(\.action), [.help])
        model.woken(by: .call)
        XCTAssertEqual(model.over, .help)
    }

    func testHelpAndWhatIsAskedAheadLieOverTheOthersAndAreLeftAgain() async throws {
        let model = try await model()
        model.send(.before, to: .now)
        await model.settled()
        XCTAssertEqual(model.over, .before)
        XCTAssertEqual(model.presenters[.before]?.screen.choices.isEmpty, false)
        model.send(.help, to: .before)
        XCTAssertEqual(model.over, .help)
        model.send(.leave, to: .help)
        XCTAssertNil(model.over)
        XCTAssertEqual(model.tab, .now)
    }

    /// The numbers lie beside the log, for the day it cannot be opened.
    func testHelpDialsWithoutALog() async throws {
        let folder = try made()
        let path = folder.appendingPathComponent("log.ebb").path
        let companion = try EbbsteadCompanion.open(path: path, language: "en", now: now)
        _ = try companion.settings().keep(filledIn: ["emergency": "999", "language": "de"], now: now)
        try companion.closeLog()
        let model = ShellModel(now: { [now] in now })
        model.open(at: path, language: "en", sources: [])
        await model.settled()
        let broken = ShellModel(now: { [now] in now })
        try Data("no log at all, and long enough to be looked at".utf8).write(to: URL(fileURLWithPath: path))
        for beside in ["-wal", "-shm"] { try? FileManager.default.removeItem(atPath: path + beside) }
        broken.open(at: path, language: "en", sources: [])
        XCTAssertEqual(broken.presenters[.help]?.screen.buttons.first?.action, .call("999"), "before anything was tried")
        await broken.settled()
        XCTAssertNotNil(broken.failure)
        XCTAssertEqual(broken.presenters[.help]?.screen.buttons.first?.action, .call("999"))
        XCTAssertEqual(broken.helpName, "Hilfe holen", "in the language that was the wearer's own")
    }

    /// Spanish is a draft until somebody of the trade has read it.
    func testADraftSaysSoAboveEveryScreenAndIsNotOffered() async throws {
        XCTAssertEqual(try languages().map(\.tag), ["en", "de"])
        let model = ShellModel(now: { [now] in now })
        model.open(at: try made().appendingPathComponent("log.ebb").path, language: "es", sources: [])
        await model.settled()
        XCTAssertEqual(model.draft, "borrador, sin revisar")
        let english = ShellModel(now: { [now] in now })
        english.open(at: try made().appendingPathComponent("other.ebb").path, language: "en", sources: [])
        await english.settled()
        XCTAssertNil(english.draft)
    }

    /// What is damaged is asked for at opening, and said with the way to a copy.
    func testADamagedLogSaysSoAtOpeningAndLeadsToACopy() async throws {
        let path = try made().appendingPathComponent("log.ebb").path
        let companion = try EbbsteadCompanion.open(path: path, language: "en", now: now)
        for n in 0..<200 {
            _ = try companion.log().record(what: .note(text: "\(n) " + String(repeating: "long ", count: 40)), at: now, now: now)
        }
        try companion.closeLog()
        var bytes = try Data(contentsOf: URL(fileURLWithPath: path))
        // A leaf of entries says that it holds one row: SQLite, "Database File Format", 1.6.
        let leaf = try XCTUnwrap((1..<bytes.count / 4096).last { bytes[$0 * 4096] == 0x0D && bytes[$0 * 4096 + 4] > 5 })
        bytes[leaf * 4096 + 4] = 1
        try bytes.write(to: URL(fileURLWithPath: path))
        let model = ShellModel(now: { [now] in now })
        model.open(at: path, language: "en", sources: [])
        await model.settled()
        let warning = try XCTUnwrap(model.warning)
        XCTAssertTrue(warning.text.contains("damaged"), warning.text)
        model.send(warning.copies.action, to: .now)
        await model.settled()
        XCTAssertEqual(model.tab, .record)
        XCTAssertEqual(model.presenters[.record]?.screen.buttons.contains { $0.action == .press(.seal) }, true)
    }

    /// As on the other phone: the same file is the same facts there. From 2000 to a year ahead, changes that are no summer time among them.
    func testAZonesOffsetsReachFrom2000ToAYearAhead() async throws {
        let at = Date(timeIntervalSince1970: 1_773_496_800)  // 2026-03-14
        func changes(_ zone: String) throws -> [OffsetChange] { .of(try XCTUnwrap(TimeZone(identifier: zone)), at: at) }
        let berlin = try changes("Europe/Berlin")
        XCTAssertEqual(berlin.first, OffsetChange(fromUnixMs: 946_684_800_000, offsetMinutes: 60))
        XCTAssertEqual(berlin[1], OffsetChange(fromUnixMs: 954_032_400_000, offsetMinutes: 120), "2000-03-26 01:00 UTC")
        XCTAssertEqual(berlin.count, 1 + 2 * 27)
        XCTAssertEqual(berlin.suffix(2).map(\.fromUnixMs), [1_774_746_000_000, 1_792_890_000_000], "2026-03-29 and 2026-10-25, 01:00 UTC")
        let moscow = try changes("Europe/Moscow")
        XCTAssertEqual(moscow.suffix(2).map(\.fromUnixMs), [1_301_180_400_000, 1_414_274_400_000], "2011-03-26 23:00 and 2014-10-25 22:00 UTC")
        XCTAssertEqual(moscow.suffix(2).map(\.offsetMinutes), [240, 180])
        XCTAssertEqual(try changes("UTC"), [OffsetChange(fromUnixMs: 946_684_800_000, offsetMinutes: 0)])
    }

    func testAFileThatCannotBeReadSaysSo() async throws {
        let model = try await model()
        model.read(file: folder.appendingPathComponent("not there.csv"))
        await model.settled()
        XCTAssertEqual(model.tab, .log)
        XCTAssertEqual(model.presenters[.log]?.screen.notices.count, 1)
        let table = folder.appendingPathComponent("tabs.tsv")
        try Data("time\tglucose mg/dL\n2026-03-14 08:00:00\t100\n".utf8).write(to: table)
        model.read(file: table)
        await model.settled()
        XCTAssertEqual(model.presenters[.log]?.screen.notices.first?.contains("1"), true)
    }

    /// What an app that was ended had in hand must not stay on the phone.
    func testWhatWasOnItsWayIsGoneWithTheNextStart() async throws {
        let passing = try made().appendingPathComponent("passing", isDirectory: true)
        let model = try await model(passing: passing)
        model.tab = .record
        model.look(into: folder.appendingPathComponent("log.ebb"))
        await model.settled()
        XCTAssertEqual(try FileManager.default.contentsOfDirectory(atPath: passing.path).isEmpty, false)
        _ = try await self.model(passing: passing)
        XCTAssertFalse(FileManager.default.fileExists(atPath: passing.path))
    }
}
