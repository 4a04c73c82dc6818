import Ebbstead
import Foundation
import Invented
import Presenters
import XCTest

/// Says what it was given, and keeps what it was asked to write.
private final class Scripted: DeviceSource, @unchecked Sendable {
    let name = "invented device"
    private let lock = NSLock()
    private let script: [DeviceValue]
    private var written: [Data] = []

    init(_ script: [(UInt16, [UInt8])]) { self.script = script.map { DeviceValue(characteristic: $0.0, bytes: Data($0.1)) } }

    var asked: [Data] { lock.withLock { written } }

    func values(asking: Data) -> AsyncThrowingStream<DeviceValue, any Error> {
        lock.withLock { written.append(asking) }
        return AsyncThrowingStream { stream in
            for value in script { stream.yield(value) }
            stream.finish()
        }
    }
}

private actor Ear {
    private(set) var all: [Nearby.Heard] = []
    func hear(_ one: Nearby.Heard) { all.append(one) }
}

/// Octets laid out by hand after the Bluetooth SIG's Continuous Glucose Monitoring Service 1.0.2 and Glucose Service 1.0.1.
final class NearbyTests: ScreenCase {
    /// 2024-05-02 10:21 +01:00
    private let now = Moment(unixMs: 1_714_641_660_000, offsetMinutes: 60)
    /// Session start time: 2024-05-02 10:15:00, zone +1 h (4 quarters), no daylight saving.
    private let start: (UInt16, [UInt8]) = (0x2AAA, [0xE8, 0x07, 5, 2, 10, 15, 0, 4, 0])
    /// Measurement: size 6, no flags, 120 mg/dL, 5 minutes into the session.
    private let reading: (UInt16, [UInt8]) = (0x2AA7, [0x06, 0x00, 0x78, 0x00, 0x05, 0x00])

    private func nearby() throws -> (Nearby, EbbsteadCompanion) {
        let companion = try EbbsteadCompanion.open(path: path, language: "en", now: now)
        let zone = [OffsetChange(fromUnixMs: 946_684_800_000, offsetMinutes: 60)]
        return (Nearby(companion, offsets: zone, now: { [now] in now }), companion)
    }

    private func readings(_ companion: EbbsteadCompanion) throws -> [Entry] {
        try companion.log().list(from: now.minutes(-600), until: now, replaced: false, readings: true).map(\.entry)
    }

    func testASensorsBytesBecomeReadingsEvenBeforeItsSessionIsKnown() async throws {
        let (nearby, companion) = try nearby()
        let (ear, sensor) = (Ear(), Scripted([reading, start, reading]))
        await nearby.follow(sensor) { await ear.hear($0) }
        let entries = try readings(companion)
        XCTAssertEqual(entries.map(\.what), [.sensorReading(mgDl: 120)])
        XCTAssertEqual(entries.first?.at, now.minutes(-1))
        XCTAssertEqual(entries.first?.source, "invented device")
        let all = await ear.all
        XCTAssertEqual(all.map(\.kept).reduce(0, +), 1)
        XCTAssertEqual(all.compactMap(\.sessionBegan), [now.minutes(-6)])
        // Glucose Service 1.0.1: report stored records (1), all of them (1).
        XCTAssertEqual(sensor.asked, [Data([1, 1])])
    }

    func testWhatCannotBeUnderstoodIsToldAndTheNextIsTaken() async throws {
        let (nearby, companion) = try nearby()
        let ear = Ear()
        await nearby.follow(Scripted([start, (0x2AA7, [0x06, 0x00]), reading, (0xFFFF, [1])])) { await ear.hear($0) }
        XCTAssertEqual(try readings(companion).count, 1)
        let told = await ear.all.flatMap(\.told)
        XCTAssertEqual(told.count, 1)
    }

    func testAClosedLogIsTold() async throws {
        let (nearby, companion) = try nearby()
        try companion.closeLog()
        let ear = Ear()
        await nearby.follow(Scripted([start])) { await ear.hear($0) }
        let told = await ear.all.flatMap(\.told)
        XCTAssertEqual(told.count, 1)
    }

    func testThePageShowsWhatWasSaidAndNotesTheInsertionWhenItWas() async throws {
        let (_, companion) = try nearby()
        let record = RecordPresenter(companion).after(.chapter(.sensors), at: now)
        let heard = record.hearing(Nearby.Heard(told: ["the battery is low"], sessionBegan: now.minutes(-6)), at: now)
        XCTAssertEqual(heard.screen.notices, ["the battery is low"])
        let noted = heard.typing("calf", into: .site).after(.sensorInserted, at: now)
        let entry = try XCTUnwrap(try readings(companion).last)
        XCTAssertEqual(entry.what, .sensor(event: .inserted(site: "calf")))
        XCTAssertEqual(entry.at, now.minutes(-6))
        // The next one is put in when it is said.
        _ = noted.after(.sensorInserted, at: now)
        XCTAssertEqual(try readings(companion).map(\.at), [now.minutes(-6), now])
    }

    @MainActor
    func testFindingASensorBringsItsReadingsIn() async throws {
        let (_, companion) = try nearby()
        let (now, radio) = (now, Scripted([start, reading]))
        let model = ShellModel(now: { now }, radio: radio)
        model.open(at: path, language: "en", sources: [])
        model.send(.findSensor, to: .record)
        for _ in 0..<500 {
            await model.settled()
            if try readings(companion).contains(where: { $0.what == .sensorReading(mgDl: 120) }) { return }
            try await Task.sleep(for: .milliseconds(20))
        }
        XCTFail("the reading never came")
    }
}
