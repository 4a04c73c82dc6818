import Ebbstead
import Foundation
import Presenters
import XCTest

/// Every screen as VoiceOver reads it, against the transcripts that are kept. After a change meant to change them:
/// `EBBSTEAD_BLESS=1 bash .ci/run swift`, then read the difference.
final class TranscriptTests: ScreenCase {
    /// One way of having the screens, and the folder its transcripts are kept in.
    private struct Look {
        var folder: String
        var unit: GlucoseUnit
        var language: String
        /// Else only what differs by its amounts.
        var all = true
    }

    private let looks = [
        Look(folder: "english", unit: .mgDl, language: "en"), Look(folder: "german-mmol", unit: .mmolL, language: "de"),
        Look(folder: "english-mmol", unit: .mmolL, language: "en", all: false),
        Look(folder: "german", unit: .mgDl, language: "de", all: false),
    ]
    /// What is kept in both languages with both units: wherever amounts of glucose are shown or typed.
    private let withAmounts: Set<String> = ["now", "night", "night-slip", "record-review", "record-alerts", "settings", "first-4", "before-sleep", "before-activity"]

    private let kept = URL(fileURLWithPath: #filePath).deletingLastPathComponent().appendingPathComponent("Transcripts", isDirectory: true)

    /// One line for each thing the reader stops at: what it is, its name, and what is set there.
    private func transcript(_ screen: Screen) -> String {
        let width = Spoken.Kind.allCases.map(\.rawValue.count).max() ?? 0
        return screen.spoken.map { one in
            let said = one.value.isEmpty ? one.name : "\(one.name): \(one.value)"
            let kind = one.kind.rawValue.padding(toLength: width, withPad: " ", startingAt: 0)
            let lines = said.split(separator: "\n", omittingEmptySubsequences: false).joined(separator: "\n" + String(repeating: " ", count: width + 2))
            return "\(kind)  \(lines)\n"
        }.joined()
    }

    /// The first line that differs.
    private func difference(_ kept: String, _ read: String) -> String? {
        let (one, other) = (kept.components(separatedBy: "\n"), read.components(separatedBy: "\n"))
        let line = (0..<max(one.count, other.count)).first { $0 >= one.count || $0 >= other.count || one[$0] != other[$0] }
        return line.map { "line \($0 + 1): kept \($0 < one.count ? one[$0] : "nothing"); read \($0 < other.count ? other[$0] : "nothing")" }
    }

    /// Every screen by its name, each made from a log of its own when it is asked for: nothing one notes shows on another.
    private func screens(_ look: Look) throws -> [String: () throws -> Screen] {
        let logs = folder.appendingPathComponent(look.folder, isDirectory: true)
        try FileManager.default.createDirectory(at: logs, withIntermediateDirectories: true)
        func path() -> String { logs.appendingPathComponent("\(UUID().uuidString).ebb").path }
        func evening() throws -> Invented { try Invented.evening(at: path(), unit: look.unit, language: look.language) }
        func now(_ change: (PromptPresenter, Moment) -> PromptPresenter) throws -> Screen {
            let evening = try evening()
            return change(PromptPresenter(evening.companion, at: evening.now).after(.look, at: evening.now), evening.now.minutes(1)).screen
        }
        func night(_ change: (PromptPresenter, Moment) -> PromptPresenter) throws -> Screen {
            let night = try Invented.night(at: path(), unit: look.unit, language: look.language)
            return change(try night.woken(), night.now.minutes(1)).screen
        }
        func before(_ change: (BeforePresenter, Moment) -> BeforePresenter) throws -> Screen {
            let evening = try evening()
            return change(BeforePresenter(evening.companion).after(.refresh, at: evening.now), evening.now).screen
        }
        func adding(_ kind: String? = nil, _ change: (LogPresenter, Moment) -> LogPresenter = { log, _ in log }) throws -> Screen {
            let evening = try evening()
            let log = LogPresenter(evening.companion, at: evening.now).after(.log(.add), at: evening.now)
            return change(kind.map { log.after(.choose(id: "kind", code: $0), at: evening.now) } ?? log, evening.now).screen
        }
        func empty() throws -> (companion: EbbsteadCompanion, now: Moment) {
            let now = try evening().now
            return (try EbbsteadCompanion.open(path: path(), language: look.language, now: now), now)
        }
        // The weeks take a while to make, and few pages note anything in them.
        func weeks() throws -> Invented { try Invented.weeks(at: path(), unit: look.unit, language: look.language).looking() }
        let shared = try weeks()
        func page(
            _ chapter: Chapter, of weeks: Invented? = nil, _ change: (RecordPresenter, Moment) throws -> RecordPresenter = { page, _ in page }
        ) throws -> Screen {
            let weeks = weeks ?? shared
            return try change(RecordPresenter(weeks.companion, folder: logs).after(.chapter(chapter), at: weeks.now), weeks.now).screen
        }
        /// The first start after so many steps.
        func first(_ steps: Int) throws -> Screen {
            let (companion, now) = try empty()
            _ = try companion.settings().keep(filledIn: ["language": look.language], now: now)
            return (0..<steps).reduce(FirstPresenter(companion)) { first, step in
                (step == 1 ? first.after(.choose(id: "unit", code: look.unit == .mgDl ? "mg_dl" : "mmol_l"), at: now) : first).after(.next, at: now)
            }.screen
        }
        let (low, higher) = look.unit == .mgDl ? ("62", "220") : ("3,4", "12")
        return [
            "first-1": { try first(0) }, "first-2": { try first(1) }, "first-3": { try first(2) }, "first-4": { try first(3) }, "first-5": { try first(4) },
            "now": { try now { now, _ in now } },
            "now-low": { try now { $0.after(.feel(.feelsLow), at: $1) } },
            "now-help": { try now { $0.after(.feel(.severe), at: $1) } },
            "now-meter": { try now { $0.after(.checked, at: $1).typing(low, into: .meter).after(.keepMeter, at: $1) } },
            "now-slip": { try now { $0.after(.checked, at: $1).typing("1000", into: .meter).after(.keepMeter, at: $1) } },
            "now-lost": { try now { $0.after(.look, at: $1.minutes(89)) } },
            "now-alerts-off": {
                let evening = try evening()
                try evening.companion.alerts().setCanRing(canRing: false)
                return PromptPresenter(evening.companion, at: evening.now).after(.look, at: evening.now).screen
            },
            "now-empty": { let empty = try empty(); return PromptPresenter(empty.companion, at: empty.now).after(.look, at: empty.now).screen },
            "night": { try night { night, _ in night } },
            "night-meter": { try night { $0.after(.checked, at: $1) } },
            "night-slip": { try night { $0.after(.checked, at: $1).typing("?", into: .meter).after(.keepMeter, at: $1) } },
            "night-rolled": { try night { $0.after(.rolledOver, at: $1) } },
            "night-treated": { try night { $0.after(.treated, at: $1) } },
            "night-help": { try night { $0.after(.feel(.severe), at: $1) } },
            "before-sleep": { try before { before, _ in before } },
            "before-driving": { try before { $0.after(.choose(id: "what", code: "driving"), at: $1).typing("90", into: .form("minutes")).after(.ask, at: $1) } },
            "before-driving-slip": { try before { $0.after(.choose(id: "what", code: "driving"), at: $1).typing("2000", into: .form("minutes")).after(.ask, at: $1) } },
            "before-activity": { try before { $0.after(.choose(id: "what", code: "activity"), at: $1).typing("45", into: .form("minutes")).after(.ask, at: $1) } },
            "before-no-readings": { try before { $0.after(.refresh, at: $1.minutes(90)) } },
            "help": { HelpPresenter(PhoneState.Values(), language: look.language).screen },
            "log": { let evening = try evening(); return LogPresenter(evening.companion, at: evening.now).screen },
            "log-empty": { let empty = try empty(); return LogPresenter(empty.companion, at: empty.now).screen },
            "log-right": {
                let evening = try evening()
                let log = LogPresenter(evening.companion, at: evening.now)
                return log.after(try XCTUnwrap(log.screen.entries.lazy.compactMap(\.putRight).first).action, at: evening.now).screen
            },
            "log-add": { try adding() },
            "log-add-ketones-slip": { try adding("ketones") { $0.typing("30", into: .form("ketones")).after(.log(.keep), at: $1) } },
            "log-add-illness": { try adding("illness") },
            "log-added": { try adding("note") { $0.typing(look.language == "de" ? "Hose zu eng" : "belt too tight", into: .form("note")).after(.log(.keep), at: $1) } },
            "record-review": { try page(.review) },
            "record-sensors": { try page(.sensors) },
            "record-alerts": { try page(.alerts) },
            "record-alerts-tried": {
                try page(.alerts) {
                    $0.typing(higher, into: .form("day_high")).typing(higher, into: .form("night_high")).typing("30", into: .form("delay")).after(.press(.replay), at: $1)
                }
            },
            "record-answers": { try page(.outcomes) },
            "record-learnt": { try page(.learnt, of: weeks()) { $0.after(.press(.learn), at: $1) } },
            "record-learnt-nothing": {
                let evening = try evening()
                return RecordPresenter(evening.companion, folder: logs).after(.chapter(.learnt), at: evening.now).screen
            },
            "record-supplies": { try page(.supplies) { $0.after(.press(.statement), at: $1) } },
            "record-copies": { try page(.copies) },
            "record-copies-met": {
                // Another phone's log, which has the evening before.
                let (copy, evening) = (logs.appendingPathComponent("copy.age"), try evening())
                let seals = RecordPresenter(evening.companion, folder: logs).after(.chapter(.copies), at: evening.now)
                    .typing("seven quiet herons", into: .form("passphrase")).typing("seven quiet herons", into: .form("passphrase_again"))
                try XCTUnwrap(seals.after(.press(.seal), at: evening.now).document).bytes.write(to: copy)
                return try page(.copies) {
                    $0.looking(into: copy, at: $1).typing("seven quiet herons", into: .form("passphrase_of_copy")).after(.press(.lookIntoOther), at: $1)
                }
            },
            "settings": { SettingsPresenter(try evening().companion).screen },
            "settings-empty": { SettingsPresenter(try empty().companion).screen },
        ]
    }

    func testEveryScreenIsReadAsItIsKept() throws {
        let blesses = ProcessInfo.processInfo.environment["EBBSTEAD_BLESS"] == "1"
        var expected: Set<String> = []
        for look in looks {
            let place = kept.appendingPathComponent(look.folder, isDirectory: true)
            if blesses { try FileManager.default.createDirectory(at: place, withIntermediateDirectories: true) }
            for (name, make) in try screens(look).sorted(by: { $0.key < $1.key }) where look.all || withAmounts.contains(name) {
                let screen = try make()
                // Nothing that shows is left out of what is read.
                let read = screen.spoken.flatMap { [$0.name, $0.value] }
                for text in screen.texts { XCTAssertTrue(read.contains { $0.contains(text) }, "\(look.folder) \(name): \(text)") }
                let file = place.appendingPathComponent("\(name).txt")
                expected.insert("\(look.folder)/\(name).txt")
                if blesses { try Data(transcript(screen).utf8).write(to: file) }
                let before = (try? String(contentsOf: file, encoding: .utf8)) ?? ""
                XCTAssertNil(difference(before, transcript(screen)), "\(look.folder)/\(name).txt")
            }
        }
        let there = try FileManager.default.subpathsOfDirectory(atPath: kept.path).filter { $0.hasSuffix(".txt") }
        XCTAssertEqual(Set(there), expected, "a transcript is kept of a screen that is no more")
    }

    /// WCAG 2.2, 1.3.1 and 2.4.6 (level AA): headings say what a screen is about; the prompt's verdict is the first below the title.
    func testTheVerdictIsTheFirstHeadingBelowTheTitle() throws {
        let evening = try Invented.evening(at: path)
        let screen = PromptPresenter(evening.companion, at: evening.now).after(.look, at: evening.now).screen
        let headings = screen.spoken.filter { $0.kind == .heading }.map(\.name)
        XCTAssertEqual(Array(headings.prefix(2)), [screen.title, try XCTUnwrap(screen.verdict)])
    }

    func testAPassphraseIsNeverReadOut() throws {
        let evening = try Invented.evening(at: path)
        let screen = RecordPresenter(evening.companion, folder: folder).after(.chapter(.copies), at: evening.now)
            .typing("seven quiet herons", into: .form("passphrase")).screen
        XCTAssertEqual(screen.field(.form("passphrase"))?.typed, "seven quiet herons")
        XCTAssertFalse(screen.spoken.contains { ($0.name + $0.value).contains("herons") })
        XCTAssertTrue(screen.spoken.contains { $0.kind == .secret })
    }

    /// WCAG 2.2, 2.4.9: what a button does is said by its name alone, however many lines of the log have one.
    func testNoTwoButtonsAreReadAlike() throws {
        let evening = try Invented.evening(at: path)
        let log = evening.companion
        _ = try log.log().record(what: .carbohydrate(grams: 15, purpose: .rescue), at: evening.now, now: evening.now)
        let names = LogPresenter(log, at: evening.now).screen.entries.flatMap { row in row.buttons.map { row.spokenName(of: $0) } }
        XCTAssertEqual(Set(names).count, names.count)
    }
}
