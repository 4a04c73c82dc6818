import Ebbstead
import Foundation
import Presenters

/// An invented wearer's log up to a moment. No person is behind it.
public struct Invented: Sendable {
    public let companion: EbbsteadCompanion
    public let now: Moment

    /// Saturday evening, two hours after dinner and its insulin: the readings fall.
    public static func evening(at path: String, unit: GlucoseUnit = .mgDl, language: String = "en") throws -> Invented {
        let now = Moment(unixMs: 1_773_517_800_000, offsetMinutes: 60)  // 2026-03-14 20:50 +01:00
        let made = try start(path, now: now, unit: unit, language: language)
        let log = try made.companion.log()
        try made.read([(-235, 138), (-180, 142), (-120, 136), (-100, 150), (-70, 188), (-55, 192), (-40, 176), (-20, 140), (0, 104)])
        try log.note(.sensor(event: .inserted(site: language == "de" ? "linker Oberarm" : "left upper arm")), at: now.minutes(-3 * 24 * 60))
        try log.note(.insulin(insulin: .rapid, units: 6), at: now.minutes(-118))
        try log.note(.carbohydrate(grams: 60, purpose: .meal), at: now.minutes(-115))
        try log.note(.meterCheck(mgDl: 141), at: now.minutes(-119))
        let walk = language == "de" ? "Spaziergang mit dem Hund" : "walk with the dog"
        try log.note(.activity(activity: walk, minutes: 20, effort: .light), at: now.minutes(-45))
        return made
    }

    /// Night: an alert has woken the wearer, who lies on the arm with the sensor.
    public static func night(at path: String, unit: GlucoseUnit = .mgDl, language: String = "en") throws -> Invented {
        let now = Moment(unixMs: 1_773_540_300_000, offsetMinutes: 60)  // 2026-03-15 03:05 +01:00
        let made = try start(path, now: now, unit: unit, language: language)
        try made.read([(-360, 132), (-240, 121), (-120, 118), (-20, 117), (-15, 112), (-10, 90), (-5, 68), (0, 57)])
        let log = try made.companion.log()
        try log.note(.sensor(event: .inserted(site: nil)), at: now.minutes(-4 * 24 * 60))
        return made
    }

    /// Four weeks of days at home, up to a Sunday morning: meals with their insulin, a walk now and then, some lows, two sensors and a
    /// third that came off early.
    public static func weeks(at path: String, unit: GlucoseUnit = .mgDl, language: String = "en") throws -> Invented {
        let now = Moment(unixMs: 1_773_561_600_000, offsetMinutes: 60)  // 2026-03-15 09:00 +01:00
        let made = try start(path, now: now, unit: unit, language: language)
        let log = try made.companion.log()
        let german = language == "de"
        var chance = Chance(state: 20)
        var readings: [ReadingAt] = []
        var (next, drift) = (120.0, 0.0)
        for day in 0..<28 {
            let midnight = now.minutes(Double(day - 28) * 1440 - 540 + 1440)
            let isWeekend = day % 7 >= 5
            // Meals: breakfast rises most; on some evenings too much insulin for what was eaten.
            let meals: [(hour: Double, grams: Double, rise: Double, after: Double)] = [
                ((isWeekend ? 9 : 7) + chance.next(), 45, 95 + 40 * chance.next(), 5),
                (12.5 + chance.next() * 0.7, 60, 60 + 40 * chance.next(), 0),
                (18.5 + chance.next(), 70, 70 + 50 * chance.next(), day % 5 == 1 ? -75 : -5),
            ]
            let walks = day % 3 == 0
            let base = next
            next = 104 + 46 * chance.next()
            let unrest = (0..<288).map { _ in chance.next() + chance.next() - 1 }
            for step in 0..<288 {
                let hour = Double(step) / 12
                drift = 0.97 * drift + unrest[step] * 3.5
                var mgDl = base + (next - base) * hour / 24 + drift + (hour < 6 ? (day % 6 == 3 ? -58 * hump(hour - 1.2, 2.6) : -8) : 0)
                for meal in meals {
                    mgDl += meal.rise * hump(hour - meal.hour, 2.2) + meal.after * hump(hour - meal.hour - 2.4, 3)
                }
                if walks { mgDl -= 48 * hump(hour - 16.2, 1.6) }
                let at = midnight.minutes(Double(step) * 5)
                guard at.unixMs <= now.unixMs else { break }
                // A gap of a changed sensor's warm-up.
                if (day == 10 || day == 20 || day == 23) && (10..<11).contains(hour) { continue }
                readings.append(ReadingAt(at: at, mgDl: (max(mgDl, 44) * 10).rounded() / 10))
            }
            func note(_ what: EntryKind, hour: Double) throws {
                let at = midnight.minutes((hour * 60).rounded())
                if at.unixMs <= now.unixMs { try log.note(what, at: at) }
            }
            for meal in meals {
                try note(.carbohydrate(grams: meal.grams, purpose: .meal), hour: meal.hour)
                try note(.insulin(insulin: .rapid, units: (meal.grams / 10).rounded()), hour: meal.hour - 0.15)
            }
            try note(.insulin(insulin: .longActing, units: 18), hour: 22)
            if walks { try note(.activity(activity: german ? "Spaziergang" : "walk", minutes: 50, effort: .moderate), hour: 15.5) }
            if day % 5 == 1 { try note(.carbohydrate(grams: 15, purpose: .rescue), hour: 22.2) }
            // Finger checks, a little above the sensor.
            for hour in [6.5, 14.75, 22.5] where day % 2 == 0 {
                let at = midnight.minutes(hour * 60)
                guard let near = readings.last(where: { $0.at.unixMs <= at.unixMs }), at.unixMs <= now.unixMs else { continue }
                try log.note(.meterCheck(mgDl: (near.mgDl * (1.04 + 0.08 * chance.next())).rounded()), at: at)
            }
        }
        _ = try log.recordReadings(source: "invented sensor", readings: readings, now: now)
        let sites = german ? ["linker Oberarm", "rechter Oberarm", "Bauch"] : ["left upper arm", "right upper arm", "belly"]
        for (site, day) in zip(sites + [sites[0]], [1.0, 10, 20, 23]) {
            try log.note(.sensor(event: .inserted(site: site)), at: now.minutes((day - 27) * 1440 + 55))
        }
        try log.note(.sensor(event: .fault(seen: german ? "löste sich beim Duschen" : "came off in the shower")), at: now.minutes((22.9 - 27) * 1440))
        try log.note(.sensor(event: .ended), at: now.minutes((22.95 - 27) * 1440))
        let pharmacy = german ? "Apotheke" : "pharmacy"
        let supplies: [(day: Double, Supply)] = [
            (-26, Supply(item: .sensor, stocked: .counted, amount: 4)), (-26, Supply(item: .rapidInsulin, stocked: .counted, amount: 1200)),
            (-26, Supply(item: .testStrip, stocked: .counted, amount: 60)), (-12, Supply(item: .longActingInsulin, stocked: .counted, amount: 500)),
            (
                -9,
                Supply(
                    item: .testStrip, stocked: .received, amount: 50, expires: "2027-05-31",
                    price: Price(amount: 19.5, currency: "EUR"), from: pharmacy)
            ),
        ]
        for (day, supply) in supplies { try log.note(.supply(supply: supply), at: now.minutes(day * 1440)) }
        return made
    }

    /// Woken by a ring at this moment, and looking.
    public func woken() throws -> PromptPresenter {
        let phoneState = PhoneState(log: FileManager.default.temporaryDirectory.appendingPathComponent(UUID().uuidString).path)
        let step = try companion.alerts().step(state: nil, now: now)
        phoneState.change { $0.alerts = step.state }
        return PromptPresenter(companion, phoneState, at: now).after(.look, at: now)
    }

    /// The same wearer, who looked at the prompt at some of the last days' rises and falls.
    public func looking() throws -> Invented {
        for day in stride(from: -13.0, to: 0, by: 1) {
            for hour in [14.2, 22.6] {
                let at = now.minutes((day * 24 - 9 + hour) * 60)
                _ = try companion.check().show(question: Question(now: at, occasion: .look, feels: nil, meterMgDl: nil))
            }
        }
        return self
    }

    private static func start(_ path: String, now: Moment, unit: GlucoseUnit, language: String) throws -> Invented {
        let companion = try EbbsteadCompanion.open(path: path, language: language, now: now)
        let wearer = Wearer(
            unit: unit, language: language, lowLineMgDl: 70, highLineMgDl: 180, nightFromMinute: 23 * 60,
            nightUntilMinute: 7 * 60, weighing: .balanced, insulinFactorMgDlPerUnit: 40, carbohydrateFactorMgDlPerG: 4,
            sensorRatedDays: 10, reorderLeadDays: 5)
        try companion.settings().setWearer(wearer: wearer, now: now)
        return Invented(companion: companion, now: now)
    }

    /// Readings every 5 minutes along straight pieces between the knots, with a sensor's unrest of about 1 mg/dL.
    private func read(_ knots: [(minutes: Double, mgDl: Double)]) throws {
        let unrest: [Double] = [0.4, -0.8, 1.1, -0.3, 0, -1.2, 0.7, 0.2, -0.5, 0.9, -0.1]
        var readings: [ReadingAt] = []
        for (from, until) in zip(knots, knots.dropFirst()) {
            for minute in stride(from: from.minutes, to: until.minutes, by: 5) {
                let share = (minute - from.minutes) / (until.minutes - from.minutes)
                let mgDl = from.mgDl + share * (until.mgDl - from.mgDl) + unrest[readings.count % unrest.count]
                readings.append(ReadingAt(at: now.minutes(minute), mgDl: mgDl))
            }
        }
        if let last = knots.last { readings.append(ReadingAt(at: now.minutes(last.minutes), mgDl: last.mgDl)) }
        _ = try companion.log().recordReadings(source: "invented sensor", readings: readings, now: now)
    }
}

/// From 0 at its beginning up to 1 and back to 0 over a length.
private func hump(_ at: Double, _ length: Double) -> Double {
    (0..<length).contains(at) ? sin(.pi * at / length) : 0
}

/// The same numbers every time, from 0 up to 1: a linear congruential generator (Knuth, MMIX).
private struct Chance {
    var state: UInt64

    mutating func next() -> Double {
        state = state &* 6_364_136_223_846_793_005 &+ 1_442_695_040_888_963_407
        return Double(state >> 11) / Double(1 << 53)
    }
}

extension Moment {
    /// This moment moved by minutes.
    public func minutes(_ minutes: Double) -> Moment {
        Moment(unixMs: unixMs + Int64(minutes * 60_000), offsetMinutes: offsetMinutes)
    }
}

extension LogPart {
    fileprivate func note(_ what: EntryKind, at: Moment) throws {
        _ = try record(what: what, at: at, now: at)
    }
}
