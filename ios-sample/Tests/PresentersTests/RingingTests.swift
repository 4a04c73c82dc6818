import Ebbstead
import Foundation
import Presenters
import XCTest

/// Keeps what it was asked to sound.
private final class Kept: Bell, @unchecked Sendable {
    enum Sound: Equatable { case ring(Notice), said(String), quiet }
    private let lock = NSLock()
    private var all: [Sound] = []
    private var stood: [Glance] = []
    private var ahead: (notice: Notice?, at: Moment)?
    private var blocked = false
    private var looked: (() -> Void)?
    private var learnt: (offers: [RingOffer], sets: [[RingChoice]], hidden: String)?

    var sounds: [Sound] { lock.withLock { all } }
    var rung: [Notice] { sounds.compactMap { if case .ring(let notice) = $0 { notice } else { nil } } }
    var said: [String] { sounds.compactMap { if case .said(let text) = $0 { text } else { nil } } }
    var standing: [Glance] { lock.withLock { stood } }
    var silence: (notice: Notice?, at: Moment)? { lock.withLock { ahead } }
    var words: (offers: [RingOffer], sets: [[RingChoice]], hidden: String)? { lock.withLock { learnt } }

    /// What the system was told to keep back, until the wearer allows it.
    var isBlocked: Bool { get { lock.withLock { blocked } } set { lock.withLock { blocked = newValue } } }
    /// Called as soon as the next one is set ahead.
    var onceSet: (() -> Void)? { get { lock.withLock { looked } } set { lock.withLock { looked = newValue } } }

    func allow() async { isBlocked = false }
    func mayRing() async -> Bool { !isBlocked }
    func learn(_ offers: [RingOffer], sets: [[RingChoice]], hidden: String) { lock.withLock { learnt = (offers, sets, hidden) } }
    func ring(_ notice: Notice) { lock.withLock { all.append(.ring(notice)) } }
    func say(_ text: String) { lock.withLock { all.append(.said(text)) } }
    func stand(_ glances: [Glance]) { lock.withLock { stood = glances } }
    func quiet() { lock.withLock { all.append(.quiet) } }
    func callAgain(_ notice: Notice?, at: Moment) {
        lock.withLock { ahead = (notice, at) }
        onceSet?()
    }
}

private final class Clock: @unchecked Sendable {
    private let lock = NSLock()
    private var at: Moment
    init(_ at: Moment) { self.at = at }
    var now: Moment { get { lock.withLock { at } } set { lock.withLock { at = newValue } } }

    private let gate = DispatchSemaphore(value: 0)
    private var (isArmed, isHeld) = (false, false)
    /// Whoever reads it next waits until it is let go.
    func hold() { lock.withLock { isArmed = true } }
    var holds: Bool { lock.withLock { isHeld } }
    func letGo() { gate.signal() }
    func read() -> Moment {
        let waits = lock.withLock {
            defer { isArmed = false }
            isHeld = isHeld || isArmed
            return isArmed
        }
        if waits { gate.wait() }
        return now
    }
}

private final class Mutable<T>: @unchecked Sendable {
    var value: T
    init(_ value: T) { self.value = value }
}

/// A reading in, the right ring out; an answer in, the right entry in the log.
final class RingingTests: ScreenCase {
    /// 2026-03-14 15:00 +01:00: day. Twelve hours later it is night.
    private let noon = Moment(unixMs: 1_773_496_800_000, offsetMinutes: 60)

    private struct World {
        let companion: EbbsteadCompanion
        let bell = Kept()
        let clock: Clock
        let phoneState: PhoneState
        let ringing: Ringing

        init(_ path: String, at now: Moment, language: String = "en") throws {
            let clock = Clock(now)
            companion = try EbbsteadCompanion.open(path: path, language: language, now: now)
            _ = try companion.settings().keep(filledIn: ["language": language], now: now)
            phoneState = PhoneState(log: path)
            ringing = Ringing(companion, phoneState: phoneState, bell: bell, now: { clock.now })
            self.clock = clock
        }

        /// Readings five minutes apart, the last of them now.
        func read(_ mgDl: Double...) throws {
            let readings = mgDl.enumerated().map { ReadingAt(at: clock.now.minutes(-5 * Double(mgDl.count - 1 - $0)), mgDl: $1) }
            _ = try companion.log().recordReadings(source: "sensor 7", readings: readings, now: clock.now)
        }

        func after(_ minutes: Double, _ mgDl: Double) throws {
            clock.now = clock.now.minutes(minutes)
            try read(mgDl)
            ringing.step()
        }
    }

    func testInRangeNothingRingsAndSilenceIsSetAhead() throws {
        let world = try World(path, at: noon)
        try world.read(120, 119, 118)
        XCTAssertNil(world.ringing.step())
        XCTAssertEqual(world.bell.sounds, [.quiet], "what rang before is over")
        XCTAssertEqual(world.bell.standing.first?.amount, "118 mg/dL")
        XCTAssertNil(world.bell.standing.last?.amount)
        let silence = try XCTUnwrap(world.bell.silence)
        XCTAssertEqual(silence.at, noon.minutes(30))
        let notice = try XCTUnwrap(silence.notice)
        XCTAssertEqual(notice.title, "Check first")
        XCTAssertTrue(notice.text.hasPrefix("Check with a meter: the newest reading is too old to act on."), notice.text)
        XCTAssertTrue(notice.isLoud && notice.answers.contains(.checked))
        XCTAssertEqual(notice.again, [60, 120, 180, 240], "as long as it would ring now")
        XCTAssertEqual(try prompted(world.companion, since: noon), [], "nothing was shown yet")
        try world.after(5, 117)
        XCTAssertEqual(world.bell.silence?.at, noon.minutes(35), "each reading puts it off")
    }

    func testALowRingsLoudWithTheAnswersThatFit() throws {
        let world = try World(path, at: noon)
        try world.read(85, 76, 66)
        world.ringing.step()
        let notice = try XCTUnwrap(world.bell.rung.first)
        XCTAssertEqual(world.bell.rung.count, 1)
        XCTAssertFalse(notice.title.isEmpty || notice.title.contains(where: \.isNumber), "anybody may read a locked screen: \(notice.title)")
        XCTAssertFalse(notice.text.isEmpty)
        XCTAssertTrue(notice.isLoud)
        XCTAssertEqual(notice.again, [60, 120, 180, 240], "for the five minutes that core says")
        XCTAssertEqual(notice.answers, [.treated, .checked, .feelsLow, .snooze])
        XCTAssertTrue(try world.companion.alerts().answerSets().contains(notice.answers))
        world.ringing.step()
        XCTAssertEqual(world.bell.rung.count, 1, "what was rung is not rung again")
        // Another start goes on from the state that was kept; one that cannot be read rings once more rather than never.
        Ringing(world.companion, phoneState: PhoneState(log: path), bell: world.bell, now: { world.clock.now }).step()
        XCTAssertEqual(world.bell.rung.count, 1)
        world.phoneState.change { $0.alerts = "nonsense" }
        world.ringing.step()
        XCTAssertEqual(world.bell.rung.count, 2)
    }

    func testAHighIsQuietByDay() throws {
        let world = try World(path, at: noon)
        try world.read(181, 185, 190)
        world.ringing.step()
        let notice = try XCTUnwrap(world.bell.rung.first)
        XCTAssertFalse(notice.isLoud)
        XCTAssertEqual(notice.again, [])
        XCTAssertEqual(notice.answers, [.checked, .snooze, .feelsLow])
        XCTAssertTrue(try world.companion.alerts().answerSets().contains(notice.answers))
    }

    func testWhatIsAnsweredIsNotedAndStopsTheSound() throws {
        let world = try World(path, at: noon)
        try world.read(85, 76, 66)
        world.ringing.step()
        world.ringing.answer(.treated, rangAt: noon)
        XCTAssertEqual(try held(world.companion, since: noon), [.carbohydrate(grams: 15, purpose: .rescue)])
        XCTAssertEqual(world.bell.sounds.last, .quiet)
        world.ringing.answer(.feelsLow, rangAt: noon)
        XCTAssertTrue(try held(world.companion, since: noon).contains(.feeling(felt: .feelsLow)))
        world.ringing.answer(.checked, rangAt: noon)
        XCTAssertEqual(try held(world.companion, since: noon).count, 2, "its amount is still to be typed")
        try world.companion.closeLog()
        let silence = world.bell.silence
        XCTAssertEqual(world.ringing.step(), noon.minutes(0.25), "it is to be made again soon")
        XCTAssertEqual(world.bell.silence?.notice, silence?.notice, "what was set ahead stays")
        world.ringing.answer(.treated, rangAt: noon)
        XCTAssertEqual(world.bell.said.map(\.isEmpty), [false], "it says that it was not kept")
    }

    /// Nothing would ring, and nobody would know.
    func testThatAStepKeepsFailingIsSaidOnce() throws {
        let world = try World(path, at: noon)
        try world.companion.closeLog()
        for failed in 1...5 {
            XCTAssertEqual(world.ringing.step(), noon.minutes(failed < 3 ? 0.25 : 1))
            XCTAssertEqual(world.bell.said.map(\.isEmpty), failed < 3 ? [] : [false])
        }
    }

    /// The same, where the log cannot be opened behind a locked screen.
    @MainActor
    func testALogThatCannotBeOpenedIsSaidByTheBell() async throws {
        let bell = Kept()
        let model = ShellModel(now: { [noon] in noon }, bell: bell)
        model.isShown = false
        model.open(at: folder.path, language: "en", sources: [])
        await model.settled()
        XCTAssertEqual(bell.said, [try XCTUnwrap(model.failure)])
    }

    /// The app was started by the answer: its log is not open yet.
    @MainActor
    func testAnAnswerWaitsForTheLog() async throws {
        let companion = try EbbsteadCompanion.open(path: path, language: "en", now: noon)
        let model = ShellModel(now: { [noon] in noon }, bell: Kept())
        model.isShown = false
        model.open(at: path, language: "en", sources: [])
        await model.answer(.treated, rangAt: noon)
        XCTAssertEqual(try held(companion, since: noon), [.carbohydrate(grams: 15, purpose: .rescue)])
    }

    /// What was done in the night is not noted as of the morning, and nothing invites to treat what is over.
    func testAnAnswerToARingLongPastIsNotNotedAndTheRingGoes() throws {
        let world = try World(path, at: noon)
        // A plan by which a low rings once.
        let once = AlertLines(
            lowMgDl: 70, highMgDl: 180, highDelayMinutes: 0, repeatMinutes: nil, fallingMgDlMin: nil, risingMgDlMin: nil, lostAfterMinutes: 30
        )
        try world.companion.alerts().keepPlan(plan: AlertPlan(day: once, night: once), now: noon)
        try world.read(85, 76, 66)
        world.ringing.step()
        XCTAssertEqual(world.bell.rung.map(\.at), [noon])
        try world.after(20, 66)
        let left = try XCTUnwrap(world.bell.rung.last)
        XCTAssertTrue(left.isSilent && left.answers == [.checked, .call], "\(left)")
        world.clock.now = noon.minutes(240)
        world.ringing.answer(.treated, rangAt: noon)
        XCTAssertEqual(try held(world.companion, since: noon), [])
        XCTAssertEqual(world.bell.said.count, 1)
        let other = try World(path + "2", at: noon)
        try other.read(85, 76, 66)
        other.ringing.step()
        XCTAssertNotEqual(other.bell.sounds.last, .quiet)
        for mgDl in [90.0, 110, 125, 130] { try other.after(5, mgDl) }
        XCTAssertEqual(other.bell.sounds.last, .quiet)
    }

    @MainActor
    func testAnAlertCanBeTried() async throws {
        let bell = Kept()
        let model = ShellModel(now: { [noon] in noon }, bell: bell)
        model.open(at: path, language: "en", sources: [])
        await model.settled()
        for tab in [ShellModel.Tab.settings, .record] {
            model.send(.chapter(.alerts), to: tab)
            await model.settled()
            XCTAssertEqual(model.presenters[tab]?.screen.texts.contains { $0.contains("silent mode") }, true)
            XCTAssertEqual(model.presenters[tab]?.screen.buttons.contains { $0.action == .tryAlert }, true)
        }
        model.send(.tryAlert, to: .settings)
        XCTAssertEqual(bell.said, ["Test: alerts sound like this."])
    }

    func testASnoozeNeverHoldsBackTheFloor() throws {
        let world = try World(path, at: noon)
        try world.read(85, 76, 66)
        world.ringing.step()
        world.ringing.answer(.snooze, rangAt: noon)
        XCTAssertEqual(try held(world.companion, since: noon), [])
        try world.after(5, 64)
        XCTAssertEqual(world.bell.rung.count, 1, "put off")
        try world.after(5, 52)
        XCTAssertEqual(world.bell.rung.count, 2)
        let floor = try XCTUnwrap(world.bell.rung.last)
        XCTAssertEqual(floor.answers, [.treated, .checked, .feelsLow], "it cannot be put off")
        XCTAssertTrue(try world.companion.alerts().answerSets().contains(floor.answers))
        XCTAssertEqual(floor.again.last, 14 * 60, "it lasts until it rings again")
        XCTAssertLessThan(floor.again.count, Notice.mostSounds, "none of them is left behind when it is answered")
        // What still lasts when the quarter of an hour is over rings again.
        let other = try World(path + "2", at: noon)
        try other.read(85, 76, 66)
        other.ringing.step()
        other.ringing.answer(.snooze, rangAt: noon)
        for _ in 0..<3 { try other.after(5, 65) }
        XCTAssertEqual(other.bell.rung.count, 2)
    }

    func testSilenceRingsOnceWhetherItWasSetAheadOrNot() throws {
        let world = try World(path, at: noon)
        _ = RecordPresenter(world.companion, folder: folder).after(.chapter(.alerts), at: noon).typing("20", into: .form("repeat")).after(.press(.keepPlan), at: noon)
        try world.read(120, 119, 118)
        world.ringing.step()
        world.clock.now = noon.minutes(31)
        world.ringing.step()
        XCTAssertEqual(world.bell.rung, [], "what was set ahead has rung by itself")
        XCTAssertEqual(try prompted(world.companion, since: noon).map(\.occasion), [.look], "and core knows it")
        XCTAssertEqual(world.bell.silence?.at, noon.minutes(50), "it is set for the next time, by the wearer's plan")
        XCTAssertNotNil(world.bell.silence?.notice)
        let other = try World(path + "2", at: noon)
        try other.read(120, 119, 118)
        other.clock.now = noon.minutes(31)
        other.ringing.step()
        XCTAssertEqual(other.bell.rung.map(\.isLoud), [true])
        XCTAssertEqual(other.bell.rung.first?.answers.first, .checked)
        XCTAssertNil(try XCTUnwrap(other.bell.silence).notice, "the usual plan alerts about a lost signal once by day")
    }

    /// A sensor that comes back into reach sends what it read meanwhile: a low among it must not be taken for the silence.
    func testALowThatCameInLateRings() throws {
        let world = try World(path, at: noon)
        try world.read(120, 119, 118)
        world.ringing.step()
        world.clock.now = noon.minutes(33)
        let late = (1...6).map { ReadingAt(at: noon.minutes(Double($0) * 5), mgDl: 118 - Double($0) * 10) }
        _ = try world.companion.log().recordReadings(source: "sensor 7", readings: late, now: world.clock.now)
        world.ringing.step()
        XCTAssertEqual(world.bell.rung.map(\.isLoud), [true])
        XCTAssertEqual(world.bell.rung.first?.answers.first, .treated)
    }

    func testTheWordsAreTheWearers() throws {
        let world = try World(path, at: noon, language: "de")
        world.ringing.name()
        let words = try XCTUnwrap(world.bell.words)
        XCTAssertEqual(words.offers.map(\.what).map { RingChoice(id: $0.id) }, words.offers.map(\.what), "each is known again")
        XCTAssertEqual([words.offers.first { $0.what == .snooze }?.text, words.hidden], ["In 15 Minuten", "Jetzt nachsehen"])
        XCTAssertEqual(words.offers.filter(\.opens).map(\.what), [.call, .checked])
        XCTAssertEqual(words.offers.map(\.what.opensApp), words.offers.map(\.opens), "known without a log too")
        XCTAssertNil(RingChoice(id: "nothing"))
    }

    /// An app that is ended in between must not believe that something rings which was never set.
    func testTheNextOneIsSetBeforeItIsRemembered() throws {
        let world = try World(path, at: noon)
        try world.read(120, 119, 118)
        let remembered = Mutable<Int64?>(0)
        world.bell.onceSet = { [path] in remembered.value = PhoneState(log: path).values.silence }
        world.ringing.step()
        XCTAssertNil(remembered.value)
        XCTAssertEqual(PhoneState(log: path).values.silence, noon.minutes(30).unixMs)
    }

    /// A large file is read in on the log's screen; a low that comes meanwhile rings at once.
    @MainActor
    func testARingWaitsForNoScreen() async throws {
        let (bell, clock) = (Kept(), Clock(noon))
        _ = try EbbsteadCompanion.open(path: path, language: "en", now: noon).settings().keep(filledIn: ["unit": "mg_dl"], now: noon)
        let model = ShellModel(now: { clock.read() }, bell: bell)
        model.open(at: path, language: "en", sources: [])
        await model.settled()
        clock.hold()
        model.read(file: folder.appendingPathComponent("large.csv"))
        try await until { clock.holds }
        let companion = try EbbsteadCompanion.open(path: path, language: "en", now: noon)
        let low = [85.0, 76, 66].enumerated().map { ReadingAt(at: noon.minutes(Double($0) * 5 - 10), mgDl: $1) }
        _ = try companion.log().recordReadings(source: "sensor 7", readings: low, now: noon)
        model.tick()
        try await until { !bell.rung.isEmpty }
        XCTAssertEqual(bell.rung.count, 1)
        clock.letGo()
        await model.settled()
    }

    /// A refusal is said where one looks for an answer, with the way to change it, and no longer than it lasts.
    @MainActor
    func testThatAlertsCannotRingIsSaid() async throws {
        let bell = Kept()
        bell.isBlocked = true
        _ = try EbbsteadCompanion.open(path: path, language: "en", now: noon).settings().keep(filledIn: ["unit": "mg_dl"], now: noon)
        let model = ShellModel(now: { [noon] in noon }, bell: bell)
        model.isShown = false
        model.open(at: path, language: "en", sources: [])
        model.isShown = true
        let said = { model.presenters[.now]?.screen.notices.contains { $0.hasPrefix("Alerts may not ring") } }
        try await until { said() == true }
        let allow = try XCTUnwrap(model.presenters[.now]?.screen.buttons.first { $0.action == .phone(.allowAlerts) })
        model.send(allow.action, to: .now)
        try await until { said() == false }
        XCTAssertFalse(bell.isBlocked)
    }

    /// Gives it ten seconds; it needs far less.
    @MainActor
    private func until(_ done: () -> Bool) async throws {
        for _ in 0..<1000 where !done() { try await Task.sleep(for: .milliseconds(10)) }
        XCTAssertTrue(done())
    }

    func testWhatLiesBesideTheLogOutlivesTheApp() {
        let phoneState = PhoneState(log: path)
        phoneState.change { ($0.emergency, $0.silence) = ("999", 7) }
        XCTAssertEqual(PhoneState(log: path).values, phoneState.values)
        XCTAssertEqual(PhoneState(log: path).values.emergency, "999")
        XCTAssertEqual(PhoneState(log: path + "x").values, PhoneState.Values())
    }

    /// With the app closed a reading rings, an answer is noted, and no screen is shown to nobody.
    @MainActor
    func testAReadingRingsThoughNothingIsShown() async throws {
        let (bell, clock) = (Kept(), Clock(noon))
        let model = ShellModel(now: { clock.now }, bell: bell)
        model.isShown = false
        model.open(at: path, language: "en", sources: [])
        let companion = try EbbsteadCompanion.open(path: path, language: "en", now: noon)
        let low = [85.0, 76, 66].enumerated().map { ReadingAt(at: noon.minutes(Double($0) * 5 - 10), mgDl: $1) }
        _ = try companion.log().recordReadings(source: "sensor 7", readings: low, now: noon)
        model.tick()
        for _ in 0..<300 where bell.rung.isEmpty {
            await model.settled()
            try await Task.sleep(for: .milliseconds(10))
        }
        XCTAssertEqual(bell.rung.count, 1)
        XCTAssertEqual(bell.words?.offers.first { $0.what == .treated }?.text, "I treated a low")
        XCTAssertNil(model.presenters[.now]?.screen.verdict)
        await model.answer(.treated, rangAt: noon)
        XCTAssertEqual(try held(companion, since: noon), [.carbohydrate(grams: 15, purpose: .rescue)])
        model.isShown = true
        model.woken(by: .checked)
        await model.settled()
        XCTAssertEqual(model.tab, .now)
        XCTAssertEqual(model.presenters[.now]?.screen.isForNight, false, "it is day")
        XCTAssertNotNil(model.presenters[.now]?.screen.field(.meter))
        XCTAssertEqual(bell.sounds.last, .quiet)
        model.woken(by: .call)
        XCTAssertEqual(model.over, .help)
    }
}
