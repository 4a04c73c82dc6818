import Ebbstead
import Foundation
import Presenters
import XCTest

class ScreenCase: XCTestCase {
    var folder = URL(fileURLWithPath: "/")

    override func setUpWithError() throws {
        folder = FileManager.default.temporaryDirectory.appendingPathComponent(UUID().uuidString, isDirectory: true)
        try FileManager.default.createDirectory(at: folder, withIntermediateDirectories: true)
    }

    override func tearDownWithError() throws {
        // A model that is let go of closes its log at its own time: then the files beside the log go while this goes through the folder.
        for _ in 0..<5 where FileManager.default.fileExists(atPath: folder.path) { try? FileManager.default.removeItem(at: folder) }
        XCTAssertFalse(FileManager.default.fileExists(atPath: folder.path))
    }

    var path: String { folder.appendingPathComponent("log.ebb").path }

    func held(_ companion: EbbsteadCompanion, since now: Moment) throws -> [EntryKind] {
        try companion.log().list(from: now.minutes(-1), until: now.minutes(600), replaced: false, readings: false).map(\.entry.what)
    }

    /// The prompts that were kept as shown.
    func prompted(_ companion: EbbsteadCompanion, since now: Moment) throws -> [Prompted] {
        try companion.log().list(from: now.minutes(-1), until: now.minutes(600), replaced: false, readings: true).compactMap {
            if case .prompted(let shown) = $0.entry.what { shown } else { nil }
        }
    }
}

extension Screen {
    /// What can be seen. What is folded is one tap away.
    var shown: [Block] {
        blocks.flatMap { if case .fold(let name, let held) = $0 { [.heading(name)] + held } else { [$0] } }
    }
    var notices: [String] { blocks.compactMap { if case .notice(let text) = $0 { text } else { nil } } }
    var headline: PromptHeadline? { blocks.lazy.compactMap { if case .headline(let headline) = $0 { headline } else { nil } }.first }
    var verdict: String? { headline?.word }
    var fields: [FormField] { shown.compactMap { if case .field(let field) = $0, !field.isClock { field } else { nil } } }
    var buttons: [Button] { shown.compactMap { if case .button(let button) = $0 { button } else { nil } } + pinned }
    var entries: [EntryRow] { blocks.compactMap { if case .entry(let row) = $0 { row } else { nil } } }
    var choices: [Choice] { blocks.compactMap { if case .choice(let choice) = $0 { choice } else { nil } } }
    var drawing: Drawing? { blocks.lazy.compactMap { if case .chart(let chart) = $0 { chart.drawing() } else { nil } }.first }
    func field(_ id: String) -> FormField? { fields.first { $0.id == id } }

    /// Everything a person reads or hears on it.
    var texts: [String] {
        [title]
            + shown.flatMap { block -> [String] in
                switch block {
                case .headline(let headline): [headline.word, headline.sentence] + headline.asides + [headline.amount].compactMap { $0 } + headline.accessory
                case .sentence(let text), .text(let text), .notice(let text), .heading(let text), .said(let text): [text]
                case .fold(let name, _): [name]
                case .figures(let figures): figures.flatMap { [$0.name, $0.value] + [$0.note].filter { !$0.isEmpty } }
                case .items(let items): items
                case .chart(let chart): [chart.text] + chart.drawing().legend.map(\.name) + chart.drawing().noted
                case .field(let field): [field.name] + (field.isClock ? [field.value] : []) + [field.advice].compactMap { $0 }
                case .choice(let choice): [choice.name] + choice.options.map(\.name)
                case .button(let button): [button.name]
                case .entry(let row): [row.clock, row.text, row.takeBack.name] + [row.putRight?.name].compactMap { $0 }
                }
            } + pinned.map(\.name)
    }
}

final class NowTests: ScreenCase {
    private let always: [Action] = [.treated, .checked, .feel(.feelsLow), .help]

    func testShowsWhatTheCoreAnswers() throws {
        let evening = try Invented.evening(at: path)
        let screen = PromptPresenter(evening.companion, at: evening.now).after(.look, at: evening.now).screen
        let question = Question(now: evening.now, occasion: .look, feels: nil, meterMgDl: nil)
        let answer = try evening.companion.check().ask(question: question)
        let said = answer.said
        XCTAssertEqual(screen.blocks.first, .headline(try XCTUnwrap(screen.headline)), "nothing stands above the answer")
        let headline = try XCTUnwrap(screen.headline)
        XCTAssertEqual([headline.word, headline.sentence], [said.verdict, said.sentence])
        XCTAssertEqual([headline.amount] + headline.accessory.map(Optional.some), [said.amount, said.age, said.rate])
        XCTAssertTrue(screen.blocks.contains(.items(said.cautions)), "cautions are never folded")
        // Three reasons, and the others with what would change it behind one tap.
        XCTAssertTrue(screen.blocks.contains(.items(Array(said.reasons.prefix(3)))))
        XCTAssertTrue(screen.blocks.contains(.fold(name: "Show all", [.items(Array(said.reasons.dropFirst(3))), .heading(said.wouldChangeName), .items(said.wouldChange)])))
        XCTAssertEqual(screen.drawing?.text, answer.chart.text)
        XCTAssertEqual(screen.drawing?.noted.count, answer.chart.noted.count)
    }

    func testTheSameFourAreUnderTheThumbWhateverIsSaid() throws {
        let evening = try Invented.evening(at: path)
        let now = PromptPresenter(evening.companion, at: evening.now)
        let hold = now.after(.look, at: evening.now)
        XCTAssertEqual(now.screen.pinned.map(\.action), always, "before anything is answered")
        XCTAssertEqual(hold.screen.pinned.map(\.action), always)
        XCTAssertEqual(hold.screen.pinned.map(\.name), ["I treated a low", "Meter", "I feel low", "Get help"])
        XCTAssertEqual(hold.screen.pinned.filter(\.isMain), [])
        let metered = now.after(.checked, at: evening.now).typing("58", into: .meter)
        for (from, action, verdict, main) in [(metered, Action.keepMeter, Verdict.treat, Action.treated), (now, .feel(.severe), .help, .help)] {
            let screen = from.after(action, at: evening.now).screen
            XCTAssertEqual(screen.headline?.verdict, verdict)
            XCTAssertEqual(screen.pinned.map(\.action), verdict == .help ? [.help, .feel(.feelsLow)] : always)
            XCTAssertEqual(screen.pinned.filter(\.isMain).map(\.action), [main])
        }
        let lost = now.after(.look, at: evening.now.minutes(89)).screen
        XCTAssertEqual(lost.pinned.filter(\.isMain).map(\.action), [.checked])
    }

    func testWhatIsShownIsKeptOnceWhileItStaysTheSame() throws {
        let evening = try Invented.evening(at: path)
        let unseen = PromptPresenter(evening.companion, at: evening.now)
        XCTAssertNil(unseen.screen.verdict)
        XCTAssertEqual(try prompted(evening.companion, since: evening.now), [], "nobody was shown anything")
        var now = unseen.after(.refresh, at: evening.now)
        let shown = try prompted(evening.companion, since: evening.now)
        XCTAssertEqual(shown.map(\.occasion), [.look])
        XCTAssertEqual(shown.map(\.verdict), [try evening.companion.check().ask(question: Question(now: evening.now, occasion: .look, feels: nil, meterMgDl: nil)).prompt.verdict])
        for _ in 0..<3 { now = now.after(.refresh, at: evening.now) }
        XCTAssertEqual(try prompted(evening.companion, since: evening.now), shown)
        XCTAssertNil(now.hidden(at: evening.now).screen.verdict, "an answer that nobody looks at grows old")
    }

    func testFeelingLowIsAnsweredKeptAndTakenBack() throws {
        let evening = try Invented.evening(at: path)
        let before = PromptPresenter(evening.companion, at: evening.now).after(.look, at: evening.now)
        let after = before.after(.feel(.feelsLow), at: evening.now.minutes(1))
        XCTAssertNotEqual(after.screen.verdict, before.screen.verdict)
        XCTAssertEqual(try held(evening.companion, since: evening.now), [.feeling(felt: .feelsLow)])
        XCTAssertEqual(after.screen.notices, ["feels low: kept in the log"])
        XCTAssertTrue(after.after(.refresh, at: evening.now.minutes(1)).screen.buttons.contains { $0.action == .prompt(.undo) })
        let undone = after.after(.prompt(.undo), at: evening.now.minutes(2)).screen
        XCTAssertEqual(try held(evening.companion, since: evening.now), [])
        XCTAssertEqual(undone.notices, ["feels low: taken back"])
        XCTAssertFalse(undone.buttons.contains { $0.action == .prompt(.undo) })
    }

    func testAMeterCheckLeadsAndWhatIsNoAmountStaysTyped() throws {
        let evening = try Invented.evening(at: path, unit: .mmolL)
        let now = evening.now.minutes(1)
        let asked = PromptPresenter(evening.companion, at: evening.now).after(.look, at: now).after(.checked, at: now)
        XCTAssertEqual(asked.screen.field(.meter)?.unit, "mmol/L")
        XCTAssertNil(asked.after(.prompt(.leaveMeter), at: now).screen.field(.meter))
        let slip = asked.typing("98", into: .meter).after(.keepMeter, at: now)
        XCTAssertEqual(slip.screen.field(.meter)?.typed, "98")
        XCTAssertNotNil(slip.screen.field(.meter)?.advice)
        XCTAssertEqual(try held(evening.companion, since: now), [])
        let right = slip.typing("3,1", into: .meter).after(.keepMeter, at: now)
        XCTAssertEqual(right.screen.verdict, "Treat")
        XCTAssertNil(right.screen.field(.meter))
        guard case .meterCheck(let mgDl) = try held(evening.companion, since: now).first else { return XCTFail("nothing kept") }
        XCTAssertEqual(mgDl, 3.1 * 18.0156, accuracy: 0.01)  // LOINC LG7967-5: 180.156 g/mol
    }

    func testAClosedLogSaysSoAndShowsNoOldAnswer() throws {
        let evening = try Invented.evening(at: path)
        let presenter = PromptPresenter(evening.companion, at: evening.now).after(.look, at: evening.now)
        try evening.companion.closeLog()
        let screen = presenter.after(.look, at: evening.now).screen
        XCTAssertNil(screen.verdict)
        XCTAssertEqual(screen.notices.count, 1)
    }
}

final class NightTests: ScreenCase {
    private func woken(_ night: Invented) throws -> PromptPresenter { try night.woken() }

    func testOffersTheAnswersThatFitInTheDark() throws {
        let night = try Invented.night(at: path)
        let screen = try woken(night).screen
        XCTAssertTrue(screen.isForNight)
        XCTAssertEqual(screen.headline?.verdict, .check)
        XCTAssertEqual(screen.pinned.map(\.action), [.treated, .checked, .rolledOver, .feel(.feelsLow), .help])
        XCTAssertEqual(screen.pinned.filter(\.isMain).map(\.action), [.checked])
        XCTAssertEqual(Theme.of(screen, dark: false), .night)
        XCTAssertNil(screen.drawing)
    }

    func testTheThreeAnswersAreKeptAndAnswered() throws {
        let night = try Invented.night(at: path)
        XCTAssertNil(try woken(night).screen.field(.meter))
        let checked = try woken(night).after(.checked, at: night.now).typing("118", into: .meter).after(.keepMeter, at: night.now)
        XCTAssertEqual(try held(night.companion, since: night.now), [.meterCheck(mgDl: 118)])
        XCTAssertNil(checked.screen.field(.meter))
        let treated = checked.after(.treated, at: night.now.minutes(2))
        XCTAssertEqual(try held(night.companion, since: night.now).last, .carbohydrate(grams: 15, purpose: .rescue))
        XCTAssertEqual(treated.screen.notices.count, 1)
        _ = treated.after(.rolledOver, at: night.now.minutes(4))
        XCTAssertEqual(try held(night.companion, since: night.now).last, .sensor(event: .rolledOff))
    }

    func testAnAnswerCanBeTakenBack() throws {
        let night = try Invented.night(at: path)
        let treated = try woken(night).after(.treated, at: night.now)
        XCTAssertTrue(treated.screen.buttons.contains { $0.action == .prompt(.undo) })
        let undone = treated.after(.prompt(.undo), at: night.now.minutes(1))
        XCTAssertEqual(try held(night.companion, since: night.now), [])
        XCTAssertFalse(undone.screen.buttons.contains { $0.action == .prompt(.undo) })
    }

    /// One rule of the core's for both phones and the terminal: where a call is the answer, nothing else is offered before it.
    func testUnderHelpTheFirstThingIsToCallAndNothingIsNoted() throws {
        let night = try Invented.night(at: path)
        let screen = try woken(night).after(.feel(.severe), at: night.now).screen
        XCTAssertEqual(screen.headline?.verdict, .help)
        XCTAssertEqual(screen.verdict, "Get help")
        XCTAssertEqual(screen.pinned.map(\.action), [.help, .feel(.feelsLow)])
        XCTAssertEqual(screen.pinned.map(\.isMain), [true, false])
    }

    func testABelievedLowIsTreatedFirstAndNotRolledOff() throws {
        let evening = try Invented.evening(at: path)
        _ = try evening.companion.log().record(what: .meterCheck(mgDl: 58), at: evening.now, now: evening.now)
        let screen = try woken(evening).screen
        XCTAssertEqual(screen.verdict, "Treat")
        XCTAssertEqual(screen.pinned.prefix(2).map(\.action), [.treated, .checked])
        XCTAssertTrue(screen.pinned[0].isMain)
        XCTAssertFalse(screen.buttons.contains { $0.action == .rolledOver })
    }
}

final class BeforeTests: ScreenCase {
    private func sentences(_ screen: Screen) -> [String] { screen.blocks.compactMap { if case .sentence(let text) = $0 { text } else { nil } } }

    func testSleepIsAnsweredAtOnceAndTheAnswerComesFirst() throws {
        let evening = try Invented.evening(at: path)
        let screen = BeforePresenter(evening.companion).after(.refresh, at: evening.now).screen
        let page = try evening.companion.before().sleep(now: evening.now, until: nil, feels: nil)
        guard case .lead(let answer) = page.sections[0].holds[0] else { return XCTFail("no answer") }
        XCTAssertEqual(sentences(screen).first, answer)
        XCTAssertLessThan(try XCTUnwrap(screen.blocks.firstIndex(of: .sentence(answer))), try XCTUnwrap(screen.blocks.firstIndex { if case .choice = $0 { true } else { false } }))
        let earlier = BeforePresenter(evening.companion).after(.refresh, at: evening.now).setting(.form("until"), toMinute: 5 * 60).after(.ask, at: evening.now)
        XCTAssertTrue(earlier.screen.texts.contains("Until 05:00"), "\(earlier.screen.texts)")
    }

    func testADriveIsAskedForItsLengthAndASlipIsSaidBesideIt() throws {
        let evening = try Invented.evening(at: path)
        let drive = BeforePresenter(evening.companion).after(.refresh, at: evening.now).after(.choose(id: "what", code: "driving"), at: evening.now)
        XCTAssertEqual(sentences(drive.screen), [], "nothing is answered before the length is known")
        for slip in ["0", "1441", "-5", "an hour"] {
            let screen = drive.typing(slip, into: .form("minutes")).after(.ask, at: evening.now).screen
            XCTAssertNotNil(screen.field(.form("minutes"))?.advice, slip)
            XCTAssertEqual(screen.field(.form("minutes"))?.typed, slip)
            XCTAssertEqual(sentences(screen), [], slip)
        }
        let asked = drive.typing("90", into: .form("minutes")).after(.ask, at: evening.now)
        XCTAssertFalse(sentences(asked.screen).isEmpty)
        XCTAssertTrue(asked.screen.texts.contains { $0.contains("90 minutes") })
        XCTAssertNil(asked.hidden(at: evening.now).after(.refresh, at: evening.now).screen.field(.form("minutes")), "asked anew it begins with sleep")
    }

    func testMovementIsAskedForItsKindAndEffort() throws {
        let evening = try Invented.evening(at: path, unit: .mmolL, language: "de")
        var screen = BeforePresenter(evening.companion).after(.refresh, at: evening.now).after(.choose(id: "what", code: "activity"), at: evening.now)
        screen = screen.after(.choose(id: "kind", code: "strength"), at: evening.now).after(.choose(id: "effort", code: "hard"), at: evening.now)
        screen = screen.typing("45", into: .form("minutes")).typing("0,4", into: .form("ketones")).after(.ask, at: evening.now)
        XCTAssertEqual(screen.screen.fields.compactMap(\.advice), [])
        XCTAssertTrue(screen.screen.texts.contains { $0.contains("mmol/L") })
        let slip = screen.typing("40", into: .form("ketones")).after(.ask, at: evening.now).screen
        XCTAssertNotNil(slip.field(.form("ketones"))?.advice)
    }

    func testWithoutAReadingForAnHourNoChanceIsGiven() throws {
        let evening = try Invented.evening(at: path)
        let screen = BeforePresenter(evening.companion).after(.refresh, at: evening.now.minutes(90)).screen
        XCTAssertTrue(screen.texts.contains { $0.hasPrefix("No chance can be given") }, "\(screen.texts)")
        XCTAssertFalse(screen.texts.contains { $0.hasPrefix("chance of a reading below") })
    }

    func testItIsOneTapFromNowAndOfferedInTheNight() throws {
        let evening = try Invented.evening(at: path)
        for presenter in [PromptPresenter(evening.companion, at: evening.now).after(.look, at: evening.now), try Invented.night(at: path + ".night").woken()] {
            XCTAssertTrue(presenter.screen.buttons.contains { $0.action == .before })
        }
    }
}

final class HelpTests: ScreenCase {
    @MainActor
    func testDialsTheWearersNumbersAsSoonAsTheyAreKept() async throws {
        let evening = try Invented.evening(at: path)
        let model = ShellModel(now: { [now = evening.now] in now })
        model.open(at: path, language: "en", sources: [])
        await model.settled()
        XCTAssertEqual(model.presenters[.help]?.screen.buttons.map(\.action), [.call("112"), .leave])
        for (number, field) in [("911", "emergency"), ("+49 30 1234", "contact")] { model.type(number, into: field, of: .settings) }
        model.send(.save, to: .settings)
        for _ in 0..<500 where model.presenters[.help]?.screen.buttons.count != 3 {
            await model.settled()
            try await Task.sleep(for: .milliseconds(10))
        }
        XCTAssertEqual(model.presenters[.help]?.screen.buttons.map(\.action), [.call("911"), .call("+49301234"), .leave])
        XCTAssertEqual(model.presenters[.help]?.screen.buttons.first?.isMain, true)
    }
}

final class LogTests: ScreenCase {
    /// Opens the form for a kind.
    private func begun(_ kind: String, _ log: LogPresenter, at now: Moment) -> LogPresenter {
        log.after(.log(.add), at: now).after(.choose(id: "kind", code: kind), at: now)
    }

    func testAddsListsTheNewestFirstAndUndoes() throws {
        let evening = try Invented.evening(at: path)
        var presenter = LogPresenter(evening.companion, at: evening.now)
        let before = presenter.screen.entries.count
        let typed: [(kind: String, field: String, text: String, what: EntryKind)] = [
            ("meter", "meter", "104", .meterCheck(mgDl: 104)), ("rapid", "rapid", "1.5", .insulin(insulin: .rapid, units: 1.5)),
            ("long_acting", "long_acting", "12", .insulin(insulin: .longActing, units: 12)),
            ("meal", "meal", "40", .carbohydrate(grams: 40, purpose: .meal)),
            ("rescue", "rescue", "15", .carbohydrate(grams: 15, purpose: .rescue)), ("note", "note", "felt odd", .note(text: "felt odd")),
            ("alcohol", "alcohol", "2", .alcohol(drinks: 2)), ("ketones", "ketones", "1,2", .ketones(mmolL: 1.2)),
        ]
        for (index, one) in typed.enumerated() {
            let now = evening.now.minutes(Double(index + 1))
            presenter = begun(one.kind, presenter, at: now).typing(one.text, into: .form(one.field)).after(.log(.keep), at: now)
            XCTAssertEqual(try held(evening.companion, since: evening.now).last, one.what)
            XCTAssertNil(presenter.screen.field(.form(one.field)), "the form is gone once it is kept")
        }
        XCTAssertEqual(presenter.screen.entries.count, before + typed.count)
        XCTAssertEqual(presenter.screen.entries.first?.text, "ketones 1.2 mmol/L")
        XCTAssertTrue(presenter.screen.buttons.contains { $0.action == .log(.undo) })
        presenter = presenter.after(.log(.undo), at: evening.now.minutes(10))
        XCTAssertEqual(presenter.screen.entries.count, before + typed.count - 1)
        XCTAssertFalse(presenter.screen.buttons.contains { $0.action == .log(.undo) }, "it stands beside what it undoes")
        let row = try XCTUnwrap(presenter.screen.entries.first { $0.text.contains("felt odd") })
        presenter = presenter.after(row.takeBack.action, at: evening.now.minutes(11))
        XCTAssertFalse(presenter.screen.entries.contains { $0.text.contains("felt odd") })
    }

    func testKetonesAreAddedOnceTheyCanBe() throws {
        let evening = try Invented.evening(at: path)
        let slip = begun("ketones", LogPresenter(evening.companion, at: evening.now), at: evening.now)
            .typing("30", into: .form("ketones")).after(.log(.keep), at: evening.now)
        XCTAssertEqual(slip.screen.field(.form("ketones"))?.typed, "30")
        XCTAssertEqual(slip.screen.field(.form("ketones"))?.advice, "Ketones in blood: Give an amount from 0 to 20 mmol/L.")
        let kept = slip.typing("3", into: .form("ketones")).after(.log(.keep), at: evening.now)
        XCTAssertEqual(kept.screen.notices, ["ketones 3 mmol/L: kept in the log"])
        XCTAssertEqual(kept.screen.entries.first?.text, "ketones 3 mmol/L")
    }

    func testAnIllnessIsAddedAndPutRight() throws {
        let evening = try Invented.evening(at: path)
        let ill = begun("illness", LogPresenter(evening.companion, at: evening.now), at: evening.now)
            .after(.choose(id: "illness", code: "vomiting"), at: evening.now).after(.log(.keep), at: evening.now)
        let row = try XCTUnwrap(ill.screen.entries.first)
        XCTAssertEqual(row.text, "ill and vomiting")
        let well = ill.after(try XCTUnwrap(row.putRight).action, at: evening.now)
            .after(.choose(id: "illness", code: "over"), at: evening.now).after(.log(.keep), at: evening.now)
        XCTAssertEqual(well.screen.entries.first?.text, "well again")
        XCTAssertEqual(well.screen.entries.count, ill.screen.entries.count)
    }

    func testADoseThatCannotBeRightIsKeptAndAskedBack() throws {
        let evening = try Invented.evening(at: path)
        let kept = begun("rapid", LogPresenter(evening.companion, at: evening.now), at: evening.now)
            .typing("60", into: .form("rapid")).after(.log(.keep), at: evening.now)
        XCTAssertEqual(try held(evening.companion, since: evening.now).last, .insulin(insulin: .rapid, units: 60))
        let said = try XCTUnwrap(kept.screen.notices.first)
        XCTAssertTrue(said.contains("60 units") && said.contains("put it right"), said)
    }

    func testASlipStaysTypedWithAdviceAndDoesNotMoveToAnotherKind() throws {
        let evening = try Invented.evening(at: path)
        let slip = begun("rapid", LogPresenter(evening.companion, at: evening.now), at: evening.now)
            .typing("15O", into: .form("rapid")).after(.log(.keep), at: evening.now)
        XCTAssertEqual(slip.screen.field(.form("rapid"))?.typed, "15O")
        XCTAssertNotNil(slip.screen.field(.form("rapid"))?.advice)
        XCTAssertNotNil(slip.after(.refresh, at: evening.now).screen.field(.form("rapid"))?.advice, "a look again takes nothing away")
        let other = slip.after(.choose(id: "kind", code: "meal"), at: evening.now)
        XCTAssertEqual(other.screen.field(.form("meal"))?.typed, "")
        XCTAssertEqual(other.after(.choose(id: "kind", code: "rapid"), at: evening.now).screen.field(.form("rapid"))?.typed, "15O")
        XCTAssertNil(other.after(.log(.look), at: evening.now).screen.field(.form("meal")))
    }

    func testAnEntryIsPutRightAtItsOwnTime() throws {
        let evening = try Invented.evening(at: path)
        let log = LogPresenter(evening.companion, at: evening.now)
        let row = try XCTUnwrap(log.screen.entries.first { $0.text.contains("60 g") })
        let begun = log.after(try XCTUnwrap(row.putRight).action, at: evening.now)
        XCTAssertEqual(begun.screen.field(.form("meal"))?.typed, "60")
        XCTAssertTrue(begun.screen.texts.contains(row.text), "what is put right is said")
        XCTAssertEqual(begun.screen.choices, [], "a meal stays a meal")
        // Left as it was: nothing is kept, and nothing typed for it stays.
        let left = begun.typing("90", into: .form("meal")).after(.log(.look), at: evening.now)
        XCTAssertEqual(left.screen, log.screen)
        // A slip stays typed; what is right takes the entry's place and its time.
        let slip = begun.typing("9OO", into: .form("meal")).after(.log(.keep), at: evening.now)
        XCTAssertNotNil(slip.screen.field(.form("meal"))?.advice)
        let right = slip.typing("45.5", into: .form("meal")).after(.log(.keep), at: evening.now.minutes(1))
        XCTAssertEqual(right.screen.notices.count, 1)
        XCTAssertEqual(right.screen.entries.first { $0.clock == row.clock }?.text, "carbohydrate 45.5 g, meal")
        XCTAssertEqual(right.screen.entries.count, log.screen.entries.count)
        // Undone, the old one holds again.
        XCTAssertEqual(right.after(.log(.undo), at: evening.now.minutes(2)).screen.entries.map(\.text), log.screen.entries.map(\.text))
    }

    func testWhatHappenedEarlierIsNotedAtItsTime() throws {
        let evening = try Invented.evening(at: path)  // 20:50
        let log = begun("meal", LogPresenter(evening.companion, at: evening.now), at: evening.now).typing("20", into: .form("meal"))
        let time = { (log: LogPresenter) in log.screen.blocks.compactMap { if case .field(let field) = $0, case .clock = field.takes { field.value } else { nil } } }
        XCTAssertEqual(time(log), ["20:50"])
        let earlier = log.setting(.form("happened"), toMinute: 20 * 60 + 15).after(.log(.keep), at: evening.now)
        XCTAssertEqual(earlier.screen.entries.first { $0.text.contains("20 g") }?.clock, "20:15")
        let next = begun("meal", earlier, at: evening.now)
        XCTAssertEqual(time(next), ["20:50"], "the next one happens now again")
        // A time that is still to come today was yesterday.
        let night = next.typing("15", into: .form("meal")).setting(.form("happened"), toMinute: 23 * 60).after(.log(.keep), at: evening.now)
        let yesterday = try evening.companion.log().list(
            from: evening.now.minutes(-1440), until: evening.now.minutes(-600), replaced: false, readings: false)
        XCTAssertEqual(yesterday.map(\.clock), ["23:00"])
        // Put right, it stays on its own day; and the amount that nobody touched stays too.
        let row = try XCTUnwrap(night.screen.entries.first { $0.clock == "18:55" })
        let wrong = night.after(try XCTUnwrap(row.putRight).action, at: evening.now)
        XCTAssertEqual(time(wrong), ["18:55"])
        let right = wrong.setting(.form("happened"), toMinute: 18 * 60 + 20).after(.log(.keep), at: evening.now)
        XCTAssertEqual(right.screen.entries.first { $0.text == row.text }?.clock, "18:20")
        let ahead = wrong.setting(.form("happened"), toMinute: 23 * 60).after(.log(.keep), at: evening.now)
        XCTAssertTrue(ahead.screen.notices.first?.contains("lies ahead") ?? false, "nothing is noted ahead of the clock")
    }

    /// 141 mg/dL is shown as 7.8 mmol/L, and 7.8 mmol/L is 140.5 mg/dL: what nobody typed anew must not change.
    func testWhatIsNotTouchedIsNotRounded() throws {
        let evening = try Invented.evening(at: path, unit: .mmolL, language: "de")
        let log = LogPresenter(evening.companion, at: evening.now)
        let row = try XCTUnwrap(log.screen.entries.first { $0.clock == "18:51" })
        let begun = log.after(try XCTUnwrap(row.putRight).action, at: evening.now)
        XCTAssertEqual(begun.screen.field(.form("meter"))?.typed, "7,8")
        XCTAssertEqual(begun.after(.log(.keep), at: evening.now).screen.notices, ["Es wurde nichts geändert."])
        let from = evening.now.minutes(-119)
        let held = try evening.companion.log().list(from: from, until: from, replaced: true, readings: false).map(\.entry.what)
        XCTAssertEqual(held, [.meterCheck(mgDl: 141)])
    }

    func testAWalkAndASensorCanBePutRightAndWhatCameInAsAFileCannot() throws {
        let evening = try Invented.evening(at: path)
        let log = LogPresenter(evening.companion, at: evening.now)
        XCTAssertEqual(log.screen.entries.filter { $0.putRight == nil }.map(\.clock), [])
        let walk = try XCTUnwrap(log.screen.entries.first { $0.clock == "20:05" })
        let longer = log.after(try XCTUnwrap(walk.putRight).action, at: evening.now).typing("35", into: .form("activity_minutes")).after(.log(.keep), at: evening.now)
        XCTAssertTrue(longer.screen.entries.first { $0.clock == "20:05" }?.text.contains("35 minutes") ?? false)
        let read = log.reading(file: "m.csv", bytes: Data("time,glucose mg/dL\n2026-03-13 08:00:00,100\n".utf8), offsets: .ofThisZone, at: evening.now)
        XCTAssertEqual(read.screen.entries.filter { $0.putRight == nil }.count, 1)
    }

    /// Tapped twice, it takes back one.
    func testUndoIsNothingWhereItIsNotOffered() throws {
        let companion = try EbbsteadCompanion.open(path: path, language: "en", now: Moment(unixMs: 1_773_517_800_000, offsetMinutes: 0))
        let now = Moment(unixMs: 1_773_517_800_000, offsetMinutes: 0)
        let screen = LogPresenter(companion, at: now).after(.log(.undo), at: now).screen
        XCTAssertEqual(screen.notices, [])
        XCTAssertEqual(screen.entries, [])
    }

    func testAFileComesInAsAWholeAndGoesAsAWhole() throws {
        let evening = try Invented.evening(at: path)
        let zone = [OffsetChange(fromUnixMs: 946_684_800_000, offsetMinutes: 60)]
        let log = LogPresenter(evening.companion, at: evening.now)
        let table = "time,glucose mg/dL\n" + (0..<30).map { "2026-03-13 08:\($0 < 10 ? "0" : "")\($0):00,\(100 + $0)\n" }.joined()
        let read = log.reading(file: "morning.csv", bytes: Data(table.utf8), offsets: zone, at: evening.now)
        XCTAssertTrue(read.screen.notices.first?.contains("30") ?? false, "\(read.screen.notices)")
        let refused = log.reading(file: "nothing.csv", bytes: Data(), offsets: zone, at: evening.now)
        XCTAssertTrue(refused.screen.notices.first?.hasPrefix("nothing.csv") ?? false)
        let from = evening.now.minutes(-2 * 1440)
        let readings = { try evening.companion.log().list(from: from, until: from.minutes(1440), replaced: false, readings: true).filter { $0.entry.source == "sensor" && $0.entry.import != nil } }
        XCTAssertEqual(try readings().count, 30)
        let whole = try XCTUnwrap(read.screen.entries.first { $0.putRight == nil })
        _ = read.after(whole.takeBack.action, at: evening.now.minutes(1))
        XCTAssertEqual(try readings().count, 0)
    }
}

final class BundleTests: ScreenCase {
    /// LOINC 2339-0 is glucose in blood by mass; 41653-7 by a glucometer (both read in the LOINC table).
    func testAFhirBundleComesInAsAWholeAndOneThatIsNoneIsRefused() throws {
        let now = Moment(unixMs: 1_773_517_800_000, offsetMinutes: 60)
        let companion = try EbbsteadCompanion.open(path: path, language: "en", now: now)
        let observation = """
            {"resource":{"resourceType":"Observation","status":"final",
            "code":{"coding":[{"system":"http://loinc.org","code":"41653-7"}]},
            "effectiveDateTime":"2026-03-14T08:00:00+01:00",
            "valueQuantity":{"value":104,"unit":"mg/dL","system":"http://unitsofmeasure.org","code":"mg/dL"}}}
            """
        let bundle = Data("{\"resourceType\":\"Bundle\",\"type\":\"collection\",\"entry\":[\(observation)]}".utf8)
        let log = LogPresenter(companion, at: now)
        let read = log.reading(file: "from-the-clinic.json", bytes: bundle, offsets: .ofThisZone, at: now)
        XCTAssertTrue(read.screen.notices.first?.hasPrefix("1 new entry") ?? false, "\(read.screen.notices)")
        XCTAssertTrue(read.screen.texts.contains { $0.contains("104 mg/dL") }, "\(read.screen.texts)")
        let whole = try XCTUnwrap(read.screen.entries.first { $0.putRight == nil })
        XCTAssertFalse(read.after(whole.takeBack.action, at: now.minutes(1)).screen.entries.contains { $0.text.contains("104 mg/dL") })
        let refused = log.reading(file: "broken.json", bytes: Data("{".utf8), offsets: .ofThisZone, at: now)
        XCTAssertTrue(refused.screen.notices.first?.contains("broken.json") ?? false, "\(refused.screen.notices)")
    }
}

final class SettingsTests: ScreenCase {
    func testTypedSettingsAreKeptAllOrNone() throws {
        let evening = try Invented.evening(at: path)
        let settings = SettingsPresenter(evening.companion)
        let slip = settings.typing("80", into: .form("low_line")).typing("9000", into: .form("high_line")).after(.save, at: evening.now)
        XCTAssertNotNil(slip.screen.field(.form("high_line"))?.advice)
        XCTAssertEqual(try evening.companion.settings().wearer().lowLineMgDl, 70)
        let right = slip.typing("200", into: .form("high_line")).typing("", into: .form("insulin_factor")).setting(.form("night_from"), toMinute: 22 * 60 + 30)
            .after(.save, at: evening.now)
        XCTAssertEqual(right.screen.notices.count, 1)
        let kept = try evening.companion.settings().wearer()
        XCTAssertEqual([kept.lowLineMgDl, kept.highLineMgDl], [80, 200])
        XCTAssertNil(kept.insulinFactorMgDlPerUnit)
        XCTAssertEqual(kept.carbohydrateFactorMgDlPerG, 4)
        XCTAssertEqual(kept.nightFromMinute, 22 * 60 + 30)
    }

    func testALineThatTheCoreRefusesIsSaidBesideItsField() throws {
        let evening = try Invented.evening(at: path)
        let screen = SettingsPresenter(evening.companion).typing("40", into: .form("low_line")).after(.save, at: evening.now).screen
        XCTAssertNotNil(screen.field(.form("low_line"))?.advice)
        XCTAssertEqual(screen.field(.form("low_line"))?.typed, "40")
    }

    /// 70 mg/dL is 3.9 mmol/L, and 3.9 mmol/L is 70.26 mg/dL: going there and back must not move the line.
    func testChangingTheUnitMovesNoLine() throws {
        let evening = try Invented.evening(at: path)
        var settings = SettingsPresenter(evening.companion)
        settings = settings.after(.choose(id: "unit", code: "mmol_l"), at: evening.now).after(.save, at: evening.now)
        XCTAssertEqual(settings.screen.field(.form("low_line"))?.typed, "3.9")
        XCTAssertEqual(settings.screen.field(.form("low_line"))?.unit, "mmol/L")
        settings = settings.after(.choose(id: "unit", code: "mg_dl"), at: evening.now).after(.save, at: evening.now)
        XCTAssertEqual(try evening.companion.settings().wearer().lowLineMgDl, 70)
        XCTAssertEqual(try evening.companion.settings().wearer().insulinFactorMgDlPerUnit, 40)
    }

    func testTheFloorLineIsShownAndHasNoField() throws {
        let evening = try Invented.evening(at: path)
        let screen = SettingsPresenter(evening.companion).screen
        XCTAssertTrue(screen.texts.contains { $0.contains("54 mg/dL") })
        XCTAssertFalse(screen.fields.contains { $0.typed == "54" })
    }

    func testTheSensorsLengthAndTheDeliveryAreKeptAndSlipsSaidBesideThem() throws {
        let evening = try Invented.evening(at: path)
        let kept = SettingsPresenter(evening.companion).typing("10", into: .form("rated_days")).typing("7", into: .form("lead_days")).after(.save, at: evening.now)
        XCTAssertEqual(kept.screen.notices.count, 1)
        // A change elsewhere must not lose them.
        _ = kept.after(.choose(id: "weighing", code: "early"), at: evening.now).after(.save, at: evening.now)
        var wearer = try evening.companion.settings().wearer()
        XCTAssertEqual([wearer.sensorRatedDays, wearer.reorderLeadDays], [10, 7])
        for (field, slips) in [(String.form("rated_days"), ["0", "900", "10.5", "ten"]), (.form("lead_days"), ["-1", "366", "soon"])] {
            for slip in slips {
                let screen = kept.typing(slip, into: field).after(.save, at: evening.now).screen
                XCTAssertEqual(screen.fields.filter { $0.advice != nil }.map(\.id), [field], slip)
                XCTAssertEqual(screen.field(field)?.typed, slip)
            }
        }
        _ = kept.typing("", into: .form("rated_days")).typing(" ", into: .form("lead_days")).after(.save, at: evening.now)
        wearer = try evening.companion.settings().wearer()
        XCTAssertEqual([wearer.sensorRatedDays, wearer.reorderLeadDays], [nil, nil])
    }
}

final class LanguageTests: ScreenCase {
    func testEveryScreenIsWholeInBothLanguages() throws {
        var names: [String: [String]] = [:]
        for language in ["en", "de"] {
            let path = folder.appendingPathComponent("\(language).ebb").path
            let evening = try Invented.evening(at: path, unit: .mmolL, language: language)
            let weeks = try Invented.weeks(at: path + ".weeks", unit: .mmolL, language: language)
            let screens = [
                PromptPresenter(evening.companion, at: evening.now).after(.look, at: evening.now).screen,
                try Invented.night(at: path + ".night", unit: .mmolL, language: language).woken().screen,
                LogPresenter(evening.companion, at: evening.now).screen, SettingsPresenter(evening.companion).screen,
                BeforePresenter(evening.companion).after(.refresh, at: evening.now).screen,
                HelpPresenter(PhoneState.Values(), language: language).screen,
                RecordPresenter(weeks.companion).after(.refresh, at: weeks.now).screen,
                RecordPresenter(weeks.companion).after(.chapter(.sensors), at: weeks.now).screen,
                RecordPresenter(weeks.companion).after(.chapter(.alerts), at: weeks.now).screen,
                RecordPresenter(weeks.companion).after(.chapter(.learnt), at: weeks.now).after(.press(.learn), at: weeks.now).screen,
                RecordPresenter(weeks.companion).after(.chapter(.outcomes), at: weeks.now).screen,
                RecordPresenter(weeks.companion).after(.chapter(.supplies), at: weeks.now).after(.press(.statement), at: weeks.now).screen,
                RecordPresenter(weeks.companion).after(.chapter(.copies), at: weeks.now).screen,
            ]
            for screen in screens {
                for text in screen.texts {
                    XCTAssertFalse(text.trimmingCharacters(in: .whitespaces).isEmpty, screen.title)
                    // Trend signs are said in words here.
                    XCTAssertFalse(text.unicodeScalars.contains { (0x2190...0x21FF).contains($0.value) }, text)
                }
            }
            let buttons = screens.flatMap(\.buttons).map(\.name)
            names[language] = buttons
        }
        for (english, german) in zip(names["en"] ?? [], names["de"] ?? []) { XCTAssertNotEqual(english, german) }
    }
}
