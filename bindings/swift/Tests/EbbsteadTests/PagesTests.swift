import Ebbstead
import Foundation
import XCTest

/// The record's pages, from Swift.
final class PagesTests: LogCase {
    private let options = ReviewOptions(days: 14, aims: .adult, withoutCompressionLows: false)

    /// Sixteen days at one reading in five minutes, by turns 120 to 160 mg/dL.
    private func opened() throws -> EbbsteadCompanion {
        let companion = try open()
        let readings = (0..<16 * 288).map { ReadingAt(at: at(-5 * $0), mgDl: 120 + 10 * Double($0 % 5)) }
        _ = try companion.log().recordReadings(source: "sensor 7", readings: readings, now: at(0))
        return companion
    }

    func testEveryPageHoldsSomething() throws {
        let companion = try opened()
        let record = try companion.recordPages(folder: FileManager.default.temporaryDirectory.path)
        func shown(_ chapter: Chapter, _ act: RecordAct = .show) throws -> Page {
            _ = try record.turnTo(chapter: chapter, filledIn: [:], now: at(0))
            let parts = try record.act(act: act, filledIn: [:], now: at(0)).parts
            return try XCTUnwrap(parts.lazy.compactMap { if case .shown(let page) = $0 { page } else { nil } }.first)
        }
        let pages = [try companion.review().page(options: options, now: at(0)), try shown(.sensors), try shown(.alerts), try shown(.learnt, .learn)]
        for page in pages { XCTAssertFalse(page.heading.isEmpty || page.sections.isEmpty || page.sections.contains { $0.holds.isEmpty }) }
        let rows = pages[0].sections.flatMap(\.holds).flatMap { if case .table(let rows) = $0 { rows } else { [PageRow]() } }
        XCTAssertTrue(rows.count > 30 && rows.allSatisfy { !$0.name.isEmpty && !$0.values.isEmpty })
        XCTAssertTrue(try companion.review().html(options: options, now: at(0)).hasPrefix("<!doctype html>"))
    }

    /// Percentiles of 120, 130, 140, 150 and 160 in equal parts: their middle is 140, whatever the definition.
    func testTheDayIsDrawnAsItWas() throws {
        let companion = try opened()
        let day = try XCTUnwrap(try companion.review().day(options: options, now: at(0)))
        XCTAssertEqual(day.posts.map(\.hours), (0..<24).map { Double($0) + 0.5 })
        for post in day.posts {
            XCTAssertEqual(post.p50MgDl, 140)
            XCTAssertTrue(post.p10MgDl <= post.p25MgDl && post.p25MgDl <= 140 && 140 <= post.p75MgDl && post.p75MgDl <= post.p90MgDl)
            XCTAssertTrue(day.lowestMgDl <= post.p10MgDl && post.p90MgDl <= day.highestMgDl)
        }
        XCTAssertEqual(day.lines.map(\.kind), [.floor, .low, .high])
        XCTAssertFalse(day.text.isEmpty || day.legend.isEmpty)
        XCTAssertNil(try open().review().day(options: options, now: at(-40 * 1440)), "no hour has readings before the first")
    }

    func testTheFloorHoldsAndDaysHaveTheirBounds() throws {
        let companion = try opened()
        let own = try companion.alerts().ownPlan()
        XCTAssertEqual([own.day.lowMgDl, own.night.lowMgDl], [70, 70])
        let lines = AlertLines(
            lowMgDl: 50, highMgDl: 180, highDelayMinutes: 0, repeatMinutes: nil, fallingMgDlMin: nil, risingMgDlMin: nil,
            lostAfterMinutes: nil)
        let refused: [() throws -> Void] = [
            { try companion.alerts().keepPlan(plan: AlertPlan(day: own.day, night: lines), now: self.at(0)) },
            { _ = try companion.review().page(options: ReviewOptions(days: 0, aims: .adult, withoutCompressionLows: false), now: self.at(0)) },
        ]
        for (index, call) in refused.enumerated() {
            XCTAssertThrowsError(try call(), "\(index)") { error in
                guard case ApiError.InvalidInput(_, let advice) = error else { return XCTFail("\(index): \(error)") }
                XCTAssertFalse(advice.isEmpty)
            }
        }
    }
}

/// Octets laid out by hand after the Bluetooth SIG's Continuous Glucose Monitoring Service 1.0.2.
final class DeviceTests: LogCase {
    func testASensorsOctetsBecomeReadingsOnce() throws {
        let now = Moment(unixMs: 1_714_641_660_000, offsetMinutes: 60)  // 2024-05-02T10:21:00+01:00
        let companion = try open(at: now)
        let zone = [OffsetChange(fromUnixMs: 946_684_800_000, offsetMinutes: 60)]
        let device = try companion.exchange().device(source: "sensor 7", offsets: zone)
        // 120 mg/dL, 5 minutes into the session; it waits until the session's start is known: 10:15, zone +1 h.
        let reading = Data([0x06, 0x00, 0x78, 0x00, 0x05, 0x00])
        XCTAssertEqual(try device.receive(characteristic: 0x2AA7, value: reading, now: now).waiting, 1)
        let start = try device.receive(characteristic: 0x2AAA, value: Data([0xE8, 0x07, 5, 2, 10, 15, 0, 4, 0]), now: now)
        XCTAssertEqual([start.recorded.new, UInt64(start.waiting)], [1, 0])
        XCTAssertEqual(start.sessionBegan?.unixMs, now.unixMs - 360_000)
        XCTAssertEqual(try device.receive(characteristic: 0x2AA7, value: reading, now: now).recorded.known, 1)
        let listed = try companion.log().list(from: Moment(unixMs: now.unixMs - 60_000, offsetMinutes: 60), until: now, replaced: false, readings: true)
        XCTAssertEqual(listed.map(\.entry.what), [.sensorReading(mgDl: 120)])
        let broken = try device.receive(characteristic: 0x2AA7, value: Data([0x06]), now: now)
        XCTAssertEqual([broken.remarks.count, Int(broken.recorded.new)], [1, 0])
    }
}
