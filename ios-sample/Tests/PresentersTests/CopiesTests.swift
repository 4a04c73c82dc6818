import Ebbstead
import Foundation
import Presenters
import XCTest

final class CopiesTests: RecordCase {
    private let passphrase = "seven quiet herons"

    private func copies(_ companion: EbbsteadCompanion, at now: Moment) -> RecordPresenter {
        RecordPresenter(companion, folder: underway).after(.chapter(.copies), at: now)
    }

    private var underway: URL { folder.appendingPathComponent("underway", isDirectory: true) }

    /// What lies where files lie on their way.
    private func left() throws -> [String] {
        FileManager.default.fileExists(atPath: underway.path) ? try FileManager.default.contentsOfDirectory(atPath: underway.path) : []
    }

    private func all(_ companion: EbbsteadCompanion, until now: Moment) throws -> [EntryKind] {
        try companion.log().list(from: now.minutes(-60 * 1440), until: now.minutes(60), replaced: true, readings: true).map(\.entry.what)
    }

    private func kept(_ document: Document, as name: String) throws -> URL {
        let file = folder.appendingPathComponent(name)
        try document.bytes.write(to: file)
        return file
    }

    private func sealed(_ invented: Invented) throws -> URL {
        let done = copies(invented.companion, at: invented.now).typing(passphrase, into: .form("passphrase"))
            .typing(passphrase, into: .form("passphrase_again")).after(.press(.seal), at: invented.now)
        return try kept(try XCTUnwrap(done.document, "\(done.screen.texts)"), as: "copy.age")
    }

    func testTheTableAndTheBundleAreTheCoresAndNothingStaysBehind() throws {
        let evening = try Invented.evening(at: path)
        let page = copies(evening.companion, at: evening.now)
        let table = page.after(.press(.writeTable), at: evening.now)
        let written = try XCTUnwrap(table.document)
        XCTAssertEqual(written.name, "ebbstead-2026-03-14.csv")
        let made = try XCTUnwrap(try core(evening.companion, .copies, .writeTable, at: evening.now).document)
        XCTAssertEqual(written.bytes, try Data(contentsOf: URL(fileURLWithPath: made.path)))
        XCTAssertEqual(table.screen.notices, [], "said once it is where the wearer wants it")
        XCTAssertEqual(table.after(.documentDone(why: "no room"), at: evening.now).screen.notices, ["no room"])
        let done = table.after(.documentDone(isKept: true), at: evening.now)
        XCTAssertNil(done.document)
        XCTAssertEqual(done.screen.notices, [made.said])
        let bundle = try XCTUnwrap(table.after(.press(.writeBundle), at: evening.now).document)
        XCTAssertEqual(bundle.name, "ebbstead-2026-03-14.json")
        let json = try XCTUnwrap(try JSONSerialization.jsonObject(with: bundle.bytes) as? [String: Any])
        XCTAssertEqual(json["resourceType"] as? String, "Bundle")  // HL7 FHIR R4, Bundle
        XCTAssertEqual(try left(), [])
    }

    func testASealedCopyComesBackOnAFreshPhoneWithItsSettings() throws {
        let evening = try Invented.evening(at: path, unit: .mmolL, language: "de")
        let file = try sealed(evening)
        // Format: C2SP, age.md: the first line of the header.
        XCTAssertTrue(try Data(contentsOf: file).starts(with: Data("age-encryption.org/v1\n".utf8)))
        let fresh = try EbbsteadCompanion.open(path: path + ".fresh", language: "en", now: evening.now)
        // The prompt that the app shows at its start must not be in the way.
        _ = PromptPresenter(fresh, at: evening.now).after(.press(.lookIntoOther), at: evening.now)
        let met = copies(fresh, at: evening.now).looking(into: file, at: evening.now).typing(passphrase, into: .form("passphrase_of_copy"))
            .after(.press(.lookIntoOther), at: evening.now).after(.refresh, at: evening.now)
        XCTAssertEqual(met.screen.field(.form("passphrase_of_copy"))?.typed, passphrase, "wanted once more to merge")
        XCTAssertEqual(met.screen.notices, [])
        let restores = try fresh.words().label(label: .copyRestores)
        XCTAssertTrue(met.screen.texts.contains(restores), "\(met.screen.texts)")
        XCTAssertEqual(try fresh.settings().wearer().language, "en", "nothing is merged by looking")
        let taken = met.after(.press(.merge), at: evening.now)
        XCTAssertTrue(try all(fresh, until: evening.now).filter { if case .prompted = $0 { false } else { true } }
            .elementsEqual(try all(evening.companion, until: evening.now)))
        XCTAssertEqual(try fresh.settings().wearer(), try evening.companion.settings().wearer())
        XCTAssertTrue(taken.screen.notices.first?.contains("\(try all(evening.companion, until: evening.now).count) Einträge") ?? false, "\(taken.screen.notices)")
        XCTAssertFalse(taken.screen.fields.contains { $0.typed.contains("heron") }, "let go of")
        XCTAssertFalse(taken.screen.buttons.contains { $0.action == .press(.merge) })
    }

    func testPassphrasesThatDifferOrAreTooShortSealNothingAndAreForgotten() throws {
        let evening = try Invented.evening(at: path)
        let page = copies(evening.companion, at: evening.now)
        XCTAssertEqual(page.screen.fields.map(\.takes), [.secret, .secret])
        for (first, second, place) in [(passphrase, passphrase + "s", String.form("passphrase_again")), ("short", "short", .form("passphrase")), ("", "", .form("passphrase"))] {
            let done = page.typing(first, into: .form("passphrase")).typing(second, into: .form("passphrase_again")).after(.press(.seal), at: evening.now)
            XCTAssertNil(done.document)
            XCTAssertEqual(done.screen.fields.filter { $0.advice != nil }.map(\.id), [place])
            XCTAssertEqual(done.screen.fields.map(\.typed), ["", ""])
        }
        XCTAssertEqual(try left(), [])
    }

    func testAWrongPassphraseIsSaidBesideItsFieldAndTheRightOneNeedsNoNewChoice() throws {
        let evening = try Invented.evening(at: path)
        let file = try sealed(evening)
        let other = try Invented.night(at: path + ".other")
        let wrong = copies(other.companion, at: other.now).looking(into: file, at: other.now)
            .typing("seven quiet storks", into: .form("passphrase_of_copy")).after(.press(.lookIntoOther), at: other.now)
        XCTAssertNotNil(wrong.screen.field(.form("passphrase_of_copy"))?.advice)
        XCTAssertEqual(wrong.screen.field(.form("passphrase_of_copy"))?.typed, "")
        XCTAssertFalse(wrong.screen.buttons.contains { $0.action == .press(.merge) || $0.action == .press(.mergeAnyway) })
        let right = wrong.typing(passphrase, into: .form("passphrase_of_copy")).after(.press(.lookIntoOther), at: other.now)
        XCTAssertNil(right.screen.field(.form("passphrase_of_copy"))?.advice)
        XCTAssertTrue(right.screen.buttons.contains { $0.action == .press(.merge) || $0.action == .press(.mergeAnyway) }, "\(right.screen.texts)")
    }

    func testTwoPhonesLogsBecomeTheUnionAndAgainNothingIsNew() throws {
        let mine = try Invented.evening(at: path)
        let theirs = try Invented.night(at: path + ".theirs")
        let (own, other) = (try all(mine.companion, until: theirs.now), try all(theirs.companion, until: theirs.now))
        // Closed, a log is one whole file.
        try theirs.companion.closeLog()
        let met = copies(mine.companion, at: theirs.now).looking(into: URL(fileURLWithPath: path + ".theirs"), at: theirs.now)
        XCTAssertTrue(met.screen.texts.contains { $0.hasPrefix("New: ") }, "\(met.screen.texts)")
        let take = try XCTUnwrap(met.screen.buttons.first { [.press(.merge), .press(.mergeAnyway)].contains($0.action) })
        XCTAssertEqual(take.action, met.screen.notices.isEmpty ? .press(.merge) : .press(.mergeAnyway))
        let left = met.after(.press(.leaveOther), at: theirs.now)
        XCTAssertEqual(try all(mine.companion, until: theirs.now), own, "left as it was")
        XCTAssertEqual(left.screen, copies(mine.companion, at: theirs.now).screen)
        _ = left.looking(into: URL(fileURLWithPath: path + ".theirs"), at: theirs.now).after(take.action, at: theirs.now)
        XCTAssertEqual(try all(mine.companion, until: theirs.now).count, own.count + other.count)
        let again = copies(mine.companion, at: theirs.now).looking(into: URL(fileURLWithPath: path + ".theirs"), at: theirs.now)
        XCTAssertTrue(again.screen.texts.contains(try mine.companion.words().label(label: .nothingNew)))
        XCTAssertFalse(again.screen.buttons.contains { $0.action == .press(.merge) || $0.action == .press(.mergeAnyway) })
    }

    /// A log that takes back much of what this one holds: it is said, and wants the other button.
    func testWhatSpeaksAgainstItIsSaidAndAskedOnceMore() throws {
        let mine = try Invented.evening(at: path)
        for nth in 0..<30 { _ = try mine.companion.log().record(what: .note(text: "note \(nth)"), at: mine.now, now: mine.now) }
        let copy = try sealed(mine)
        let theirs = try EbbsteadCompanion.open(path: path + ".theirs", language: "en", now: mine.now)
        _ = copies(theirs, at: mine.now).looking(into: copy, at: mine.now).typing(passphrase, into: .form("passphrase_of_copy"))
            .after(.press(.lookIntoOther), at: mine.now).after(.press(.merge), at: mine.now)
        for entry in try theirs.log().list(from: mine.now.minutes(-600), until: mine.now, replaced: false, readings: false) {
            _ = try theirs.log().retract(id: entry.entry.id, now: mine.now)
        }
        try theirs.closeLog()
        let met = copies(mine.companion, at: mine.now).looking(into: URL(fileURLWithPath: path + ".theirs"), at: mine.now)
        let warnings = met.screen.notices
        let before = try held(mine.companion, since: mine.now.minutes(-180))
        XCTAssertFalse(before.isEmpty)
        XCTAssertFalse(warnings.isEmpty)
        XCTAssertFalse(met.screen.buttons.contains { $0.action == .press(.merge) })
        XCTAssertEqual(met.after(.press(.merge), at: mine.now).screen.notices.count, 1 + warnings.count, "refused by the core")
        XCTAssertEqual(try held(mine.companion, since: mine.now.minutes(-180)), before)
        _ = met.after(.press(.mergeAnyway), at: mine.now)
        XCTAssertEqual(try held(mine.companion, since: mine.now.minutes(-180)), [])
    }

    func testWhatIsNoLogIsSaidAndLeftAndLeavingLetsGoOfEverything() throws {
        let evening = try Invented.evening(at: path)
        let notes = folder.appendingPathComponent("notes.txt")
        try Data("milk, bread".utf8).write(to: notes)
        var page = copies(evening.companion, at: evening.now).looking(into: notes, at: evening.now)
        XCTAssertEqual(page.screen.notices.count, 1)
        XCTAssertFalse(page.screen.texts.contains("notes.txt"))
        XCTAssertEqual(try left(), [])
        page = page.looking(into: folder.appendingPathComponent("gone"), at: evening.now)
        XCTAssertEqual(page.screen.notices.count, 1)
        let other = try Invented.night(at: path + ".other")
        page = page.typing(passphrase, into: .form("passphrase")).looking(into: URL(fileURLWithPath: path + ".other"), at: other.now)
        XCTAssertEqual(try left().filter { !$0.contains("-wal") && !$0.contains("-shm") }.count, 1, "the copy lies there while it is looked into")
        page = page.after(.chapter(.review), at: other.now)
        XCTAssertEqual(try left(), [])
        page = page.after(.chapter(.copies), at: other.now)
        XCTAssertEqual(page.screen.fields.map(\.typed), ["", ""])
        XCTAssertFalse(page.screen.buttons.contains { $0.action == .press(.leaveOther) })
    }
}
