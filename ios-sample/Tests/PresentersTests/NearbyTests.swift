import Ebbstead
import Foundation
@testable import Presenters
import XCTest

/// Says what it was given, and keeps what it was asked to write.
private final class Scripted: DeviceSource, @unchecked Sendable {
    static let device = DeviceFound(id: "7", name: "invented device", services: [0x181F])
    static let meter = DeviceFound(id: "9", name: "invented meter", services: [0x1808, 0x180A])
    private let lock = NSLock()
    private let script: [DeviceEvent]
    private let refuses: Bool
    private var written: [Data] = []
    private var wanted: [String] = []

    init(_ script: [DeviceEvent], refuses: Bool = false) { (self.script, self.refuses) = (script, refuses) }

    var asked: [Data] { lock.withLock { written } }
    var followed: [String] { lock.withLock { wanted } }

    func search() -> AsyncThrowingStream<DeviceFound, any Error> {
        AsyncThrowingStream { stream in
            if refuses { return stream.finish(throwing: SourceTrouble(.sensorRefused)) }
            for found in [DeviceFound(id: "3", name: "a neighbour's", services: [0x181F]), Self.device, Self.meter] { stream.yield(found) }
        }
    }

    func follow(_ id: String) -> AsyncThrowingStream<DeviceEvent, any Error> {
        lock.withLock { wanted.append(id) }
        return AsyncThrowingStream { stream in
            for event in script { stream.yield(event) }
            stream.finish(throwing: refuses ? SourceTrouble(.sensorRefused) : nil)
        }
    }

    func ask(_ bytes: Data, of id: String) { lock.withLock { if id == Self.device.id { written.append(bytes) } } }
}

private actor Receiver {
    private(set) var all: [Received] = []
    func receive(_ one: Received) { all.append(one) }
}

/// Octets laid out by hand after the Bluetooth SIG's Continuous Glucose Monitoring Service 1.0.2 and Glucose Service 1.0.1.
final class NearbyTests: ScreenCase {
    /// 2024-05-02 10:21 +01:00
    private let now = Moment(unixMs: 1_714_641_660_000, offsetMinutes: 60)
    /// Session start time: 2024-05-02 10:15:00, zone +1 h (4 quarters), no daylight saving.
    private let start = said(0x2AAA, [0xE8, 0x07, 5, 2, 10, 15, 0, 4, 0])
    /// Measurement: size 6, no flags, 120 mg/dL, 5 minutes into the session.
    private let reading = said(0x2AA7, [0x06, 0x00, 0x78, 0x00, 0x05, 0x00])

    private static func said(_ characteristic: UInt16, _ octets: [UInt8]) -> DeviceEvent {
        .value(DeviceValue(characteristic: characteristic, bytes: Data(octets)))
    }

    private func nearby() throws -> (Nearby, EbbsteadCompanion) {
        let companion = try EbbsteadCompanion.open(path: path, language: "en", now: now)
        return (try Nearby(companion, Scripted.device, offsets: zone(60), now: { [now] in now }), companion)
    }

    private func zone(_ minutes: Int32) -> [OffsetChange] { [OffsetChange(fromUnixMs: 946_684_800_000, offsetMinutes: minutes)] }

    private func readings(_ companion: EbbsteadCompanion) throws -> [Entry] {
        try companion.log().list(from: now.minutes(-600), until: now, replaced: false, readings: true).map(\.entry)
    }

    private func received(_ script: [DeviceEvent], _ nearby: Nearby) async -> (all: [Received], asked: [Data]) {
        let (receiver, sensor) = (Receiver(), Scripted(script))
        await nearby.follow(sensor) { await receiver.receive($0) }
        return (await receiver.all, sensor.asked)
    }

    func testASensorsBytesBecomeReadingsEvenBeforeItsSessionIsKnown() async throws {
        let (nearby, companion) = try nearby()
        let (all, _) = await received([reading, start, reading], nearby)
        let entries = try readings(companion)
        XCTAssertEqual(entries.map(\.what), [.sensorReading(mgDl: 120)])
        XCTAssertEqual(entries.first?.at, now.minutes(-1))
        XCTAssertEqual(entries.first?.source, "invented device")
        XCTAssertEqual(all.map(\.kept).reduce(0, +), 1)
        XCTAssertEqual(all.compactMap(\.sessionBegan), [now.minutes(-6)])
    }

    /// Glucose Service 1.0.1 and Continuous Glucose Monitoring Service 1.0.2: report stored records (1), all of them (1), or from (3) a
    /// minute of the session (1) on.
    func testEachTimeItComesIntoReachItIsAskedForWhatIsMissing() async throws {
        let (nearby, _) = try nearby()
        // It answers (6) that all was sent (1); what it read out of reach is missing although it has sent a newer reading by then.
        let (sent, later) = (Self.said(0x2A52, [6, 0, 1, 1]), Self.said(0x2AA7, [0x06, 0x00, 0x78, 0x00, 0x06, 0x00]))
        let script: [DeviceEvent] = [.connected, .takesQuestions, start, reading, sent, .lost, .connected, start, later, .takesQuestions]
        let (all, asked) = await received(script, nearby)
        XCTAssertEqual(asked, [Data([1, 1]), Data([1, 3, 1, 5, 0])])
        XCTAssertEqual(all.compactMap(\.state), [.connected, .lost, .connected])
    }

    /// A meter's clock shows the local time of wherever the wearer is. Measurement: concentration in kg/L (2), its number, 2024-05-02
    /// 10:00:00, 120e-5 kg/L, capillary whole blood from a finger.
    func testInAnotherZoneAMetersTimeIsAnother() async throws {
        let (nearby, companion) = try nearby()
        func checked(_ number: UInt8) -> DeviceEvent { Self.said(0x2A18, [0x02, number, 0, 0xE8, 0x07, 5, 2, 10, 0, 0, 0x78, 0xB0, 0x11]) }
        _ = await received([checked(1)], nearby)
        nearby.change(zone(120))
        _ = await received([checked(2)], nearby)
        XCTAssertEqual(try readings(companion).map(\.at.unixMs), [now.minutes(-81).unixMs, now.minutes(-21).unixMs])
    }

    func testWhatCannotBeUnderstoodIsReportedAndTheNextIsTaken() async throws {
        let (nearby, companion) = try nearby()
        let (all, _) = await received([start, Self.said(0x2AA7, [0x06, 0x00]), reading, Self.said(0xFFFF, [1])], nearby)
        XCTAssertEqual(try readings(companion).count, 1)
        XCTAssertEqual(all.flatMap(\.messages).count, 1)
    }

    func testAClosedLogIsReported() async throws {
        let (nearby, companion) = try nearby()
        try companion.closeLog()
        let (all, _) = await received([start], nearby)
        XCTAssertEqual(all.flatMap(\.messages).count, 1)
    }

    /// A log that refuses once must not end the readings: the device is asked for all it has, and what it says next is taken.
    func testALogThatRefusesEndsNothing() async throws {
        let (nearby, companion) = try nearby()
        let (receiver, sensor) = (Receiver(), Scripted([.connected, start, .takesQuestions, reading, .lost, .connected]))
        await nearby.follow(sensor) {
            if $0.sessionBegan != nil { try? companion.closeLog() }
            await receiver.receive($0)
        }
        let all = await receiver.all
        XCTAssertEqual(sensor.asked, [Data([1, 1])])
        XCTAssertEqual(all.flatMap(\.messages).count, 1)
        XCTAssertEqual(all.compactMap(\.state), [.connected, .lost, .connected])
    }

    /// In the core's words: the system's say what failed in it, in its language.
    @MainActor
    func testARadioThatMayNotBeUsedIsSaid() async throws {
        let (nearby, companion) = try nearby()
        let why = try companion.words().label(label: .sensorRefused)
        let receiver = Receiver()
        await nearby.follow(Scripted([], refuses: true)) { await receiver.receive($0) }
        let all = await receiver.all
        XCTAssertEqual(all.flatMap(\.messages), [why])
        XCTAssertEqual(all.map(\.state), [.lost])
        _ = try companion.settings().keep(filledIn: ["unit": "mg_dl"], now: now)
        let model = ShellModel(now: { [now] in now }, radio: Scripted([], refuses: true))
        model.open(at: path, language: "en", sources: [])
        await model.settled()
        model.tab = .log
        model.send(.phone(.findSensor), to: .log)
        for _ in 0..<500 where model.presenters[.log]?.screen.notices.isEmpty != false {
            await model.settled()
            try await Task.sleep(for: .milliseconds(10))
        }
        XCTAssertEqual(model.presenters[.log]?.screen.notices, [why])
    }

    func testThePageShowsWhatWasSaidAndNotesTheInsertionWhenItWas() async throws {
        let (_, companion) = try nearby()
        let log = LogPresenter(companion, at: now)
        let received = log.receiving(Received(messages: ["the battery is low"], sessionBegan: now.minutes(-6)), Devices(), at: now)
        XCTAssertEqual(received.screen.notices, ["the battery is low"])
        XCTAssertEqual(received.receiving(Received(), Devices(), at: now).screen.notices, ["the battery is low"])
        let noted = received.after(.log(.inserted), at: now)
        let entry = try XCTUnwrap(try readings(companion).last)
        XCTAssertEqual(entry.what, .sensor(event: .inserted(site: nil)))
        XCTAssertEqual(entry.at, now.minutes(-6))
        XCTAssertFalse(noted.screen.buttons.contains { $0.action == .log(.inserted) }, "once is enough")
    }

    /// None is followed until the wearer says which; the one that was chosen is followed again with the next start.
    @MainActor
    func testTheWearerChoosesTheirSensorAndItIsKept() async throws {
        let (_, companion) = try nearby()
        _ = try companion.settings().keep(filledIn: ["unit": "mg_dl"], now: now)
        let (now, radio) = (now, Scripted([.connected, start, reading]))
        let model = ShellModel(now: { now }, radio: radio)
        model.open(at: path, language: "en", sources: [])
        await model.settled()
        model.tab = .log
        model.send(.phone(.findSensor), to: .log)
        func devices() -> Choice? { model.presenters[.log]?.screen.choices.first { $0.options.contains { $0.action == .chooseSensor("7") } } }
        func names() -> [String]? { devices()?.options.map(\.name) }
        func wait(_ done: () throws -> Bool) async throws {
            for _ in 0..<500 where try !done() {
                await model.settled()
                try await Task.sleep(for: .milliseconds(10))
            }
            XCTAssertTrue(try done())
        }
        try await wait { names() == ["a neighbour's · found", "invented device · found", "invented meter · found"] }
        XCTAssertEqual(radio.followed, [])
        model.send(.chooseSensor("7"), to: .log)
        try await wait { try readings(companion).contains { $0.what == .sensorReading(mgDl: 120) } }
        try await wait { names() == ["a neighbour's · found", "invented device · connected · 10:21", "invented meter · found"] }
        XCTAssertEqual(radio.followed, ["7"])
        // A meter takes no sensor's place, and another sensor takes none of the meter's.
        model.send(.chooseSensor("9"), to: .log)
        try await wait { devices()?.options.filter(\.isChosen).map(\.action) == [.chooseSensor("7"), .chooseSensor("9")] }
        model.send(.chooseSensor("3"), to: .log)
        try await wait { devices()?.options.filter(\.isChosen).map(\.action) == [.chooseSensor("3"), .chooseSensor("9")] }
        model.send(.chooseSensor("7"), to: .log)
        try await wait { radio.followed == ["7", "9", "3", "7"] }
        let again = Scripted([.connected, .lost])
        let next = ShellModel(now: { now }, radio: again)
        next.open(at: path, language: "en", sources: [])
        for _ in 0..<500 where again.followed.count < 2 { try await Task.sleep(for: .milliseconds(10)) }
        XCTAssertEqual(again.followed.sorted(), ["7", "9"])
        // What ended, as it does without leave to use Bluetooth, is followed again once the app is looked at.
        next.isShown = false
        next.isShown = true
        for _ in 0..<500 where again.followed.count < 4 { try await Task.sleep(for: .milliseconds(10)) }
        XCTAssertEqual(again.followed.sorted(), ["7", "7", "9", "9"])
        // What was chosen can be left again.
        next.send(.leaveSource("7"), to: .log)
        await next.settled()
        XCTAssertEqual(next.presenters[.log]?.screen.choices.first?.options.map { [$0.name, "\($0.isChosen)"] }, [["invented meter · out of reach", "true"], ["invented device · found", "false"]])
        XCTAssertEqual(next.presenters[.log]?.screen.buttons.contains { $0.action == .leaveSource("7") }, false)
        XCTAssertEqual(PhoneState(log: path).values.chosen.map(\.id), ["9"])
    }
}
