import Ebbstead

/// An invented wearer's log up to a moment. No person is behind it.
public struct Invented: Sendable {
    public let companion: EbbsteadCompanion
    public let now: Moment

    /// Saturday evening, two hours after dinner and its insulin: the readings fall.
    public static func evening(at path: String, unit: GlucoseUnit = .mgDl, language: Language = .english) throws -> Invented {
        let now = Moment(unixMs: 1_773_517_800_000, offsetMinutes: 60)  // 2026-03-14 20:50 +01:00
        let made = try start(path, now: now, unit: unit, language: language)
        let log = try made.companion.log()
        try made.read([(-235, 138), (-180, 142), (-120, 136), (-100, 150), (-70, 188), (-55, 192), (-40, 176), (-20, 140), (0, 104)])
        try log.note(.sensor(event: .inserted(site: language == .german ? "linker Oberarm" : "left upper arm")), at: now.minutes(-3 * 24 * 60))
        try log.note(.insulin(insulin: .rapid, units: 6), at: now.minutes(-118))
        try log.note(.carbohydrate(grams: 60, purpose: .meal), at: now.minutes(-115))
        try log.note(.meterCheck(mgDl: 141), at: now.minutes(-119))
        let walk = language == .german ? "Spaziergang mit dem Hund" : "walk with the dog"
        try log.note(.activity(activity: walk, minutes: 20, effort: .light), at: now.minutes(-45))
        return made
    }

    /// Night: an alert has woken the wearer, who lies on the arm with the sensor.
    public static func night(at path: String, unit: GlucoseUnit = .mgDl, language: Language = .english) throws -> Invented {
        let now = Moment(unixMs: 1_773_540_300_000, offsetMinutes: 60)  // 2026-03-15 03:05 +01:00
        let made = try start(path, now: now, unit: unit, language: language)
        try made.read([(-360, 132), (-240, 121), (-120, 118), (-20, 117), (-15, 112), (-10, 90), (-5, 68), (0, 57)])
        let log = try made.companion.log()
        try log.note(.sensor(event: .inserted(site: nil)), at: now.minutes(-4 * 24 * 60))
        return made
    }

    private static func start(_ path: String, now: Moment, unit: GlucoseUnit, language: Language) throws -> Invented {
        let companion = try EbbsteadCompanion.open(path: path, language: language, now: now)
        let wearer = Wearer(
            unit: unit, language: language, lowLineMgDl: 70, highLineMgDl: 180, nightFromMinute: 23 * 60,
            nightUntilMinute: 7 * 60, weighing: .balanced, insulinFactorMgDlPerUnit: 40, carbohydrateFactorMgDlPerG: 4)
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

extension Moment {
    /// This moment moved by minutes.
    public func minutes(_ minutes: Double) -> Moment {
        Moment(unixMs: unixMs + Int64(minutes * 60_000), offsetMinutes: offsetMinutes)
    }
}

extension LogPart {
    fileprivate func note(_ what: What, at: Moment) throws {
        _ = try record(what: what, at: at, now: at)
    }
}
