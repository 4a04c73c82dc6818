import Ebbstead
import Foundation
import XCTest

/// The parity fixtures through the Swift binding: equal field by field. EntryKind a fixture holds is in tests/parity/README.md.
final class ParityTests: LogCase {
    private static let fixtures = URL(fileURLWithPath: #filePath)
        .deletingLastPathComponent().appendingPathComponent("../../../../tests/parity").standardized

    func testEveryFixtureIsAnsweredAlike() throws {
        let files = try FileManager.default.contentsOfDirectory(at: Self.fixtures, includingPropertiesForKeys: nil)
            .filter { $0.pathExtension == "json" }
            .sorted { $0.path < $1.path }
        XCTAssertGreaterThanOrEqual(files.count, 12)
        for file in files {
            let fixture = try JSONDecoder().decode(Fixture.self, from: Data(contentsOf: file))
            let name = file.deletingPathExtension().lastPathComponent
            let path = folder.appendingPathComponent(name + ".ebb").path
            let got = Plain(reflecting: try fixture.answer(at: path))
            let differences = got.differences(from: fixture.expected, at: name)
            XCTAssertEqual(differences.prefix(5), [], "\(differences.count) differences")
            XCTAssertEqual(got["prompt"]?["verdict"], .text(fixture.verdict), name)
        }
    }

    /// The comparison must see what differs, or equal means nothing.
    func testTheComparisonSeesEveryKindOfDifference() throws {
        let reason = Plain(reflecting: Reason.meter(mgDl: 92, ageMinutes: 4))
        XCTAssertEqual(reason, .fields(["meter": .fields(["mgdl": .number(92), "ageminutes": .number(4)])]))
        XCTAssertEqual(Plain(reflecting: Reason.feelsLow), .text("feelslow"))
        XCTAssertEqual(Plain(reflecting: Reason.unsettled(chance: 0.5)), .fields(["unsettled": .fields(["chance": .number(0.5)])]))
        XCTAssertEqual(Plain(reflecting: Optional<Double>.none), .nothing)
        let others: [Plain] = [
            .fields(["meter": .fields(["mgdl": .number(92), "ageminutes": .number(4.0000000001)])]),
            .fields(["meter": .fields(["mgdl": .number(92)])]),
            .fields(["meter": .fields(["mgdl": .number(92), "ageminutes": .number(4), "more": .nothing])]),
            .fields(["meters": .fields(["mgdl": .number(92), "ageminutes": .number(4)])]), .text("meter"), .nothing, .list([reason]),
        ]
        for other in others { XCTAssertNotEqual(reason.differences(from: other, at: ""), [], "\(other)") }
        XCTAssertNotEqual(Plain.list([.number(1)]).differences(from: .list([.number(1), .number(2)]), at: ""), [])
    }
}

private struct Fixture: Decodable {
    struct Note: Decodable {
        let minutes: Int
        let kind: String
        let amount: Double
    }
    struct Ask: Decodable {
        let after_minutes: Int
        let occasion: String
        let feels: String?
        let meter_mg_dl: Double?
    }
    struct Unknown: Error { let name: String }

    let begin_unix_ms: Int64
    let offset_minutes: Int32
    let every_minutes: Int
    let mg_dl: [Double]
    let unit: String
    let language: String
    let insulin_factor_mg_dl_per_unit: Double?
    let carbohydrate_factor_mg_dl_per_g: Double?
    let notes: [Note]
    let ask: Ask
    let answer: String?
    let verdict: String
    let expected: Plain

    private func at(_ minutes: Int) -> Moment {
        Moment(unixMs: begin_unix_ms + Int64(minutes) * 60_000, offsetMinutes: offset_minutes)
    }

    private func one<T>(_ name: String, of all: [String: T]) throws -> T {
        guard let value = all[name] else { throw Unknown(name: name) }
        return value
    }

    private func what(_ note: Note) throws -> EntryKind {
        try one(
            note.kind,
            of: [
                "meter": .meterCheck(mgDl: note.amount), "rapid": .insulin(insulin: .rapid, units: note.amount),
                "meal": .carbohydrate(grams: note.amount, purpose: .meal), "rescue": .carbohydrate(grams: note.amount, purpose: .rescue),
                "sensor_inserted": .sensor(event: .inserted(site: nil)),
            ])
    }

    func answer(at path: String) throws -> Answer {
        let now = at(ask.after_minutes)
        let companion = try EbbsteadCompanion.open(path: path, language: "en", now: now)
        defer { try? companion.closeLog() }
        let old = try companion.settings().wearer()
        let wearer = Wearer(
            unit: try one(unit, of: ["mg_dl": .mgDl, "mmol_l": .mmolL]),
            language: try one(language, of: ["english": "en", "german": "de"]), lowLineMgDl: old.lowLineMgDl,
            highLineMgDl: old.highLineMgDl, nightFromMinute: old.nightFromMinute, nightUntilMinute: old.nightUntilMinute,
            weighing: old.weighing, insulinFactorMgDlPerUnit: insulin_factor_mg_dl_per_unit,
            carbohydrateFactorMgDlPerG: carbohydrate_factor_mg_dl_per_g)
        try companion.settings().setWearer(wearer: wearer, now: now)
        let readings = mg_dl.enumerated().map { ReadingAt(at: at($0.offset * every_minutes), mgDl: $0.element) }
        _ = try companion.log().recordReadings(source: "sensor 7", readings: readings, now: now)
        for note in notes { _ = try companion.log().record(what: what(note), at: at(note.minutes), now: now) }
        if let answer {
            let tap: PromptTap = try one(answer, of: ["treated": .treated, "rolled_over": .rolledOver])
            _ = try companion.promptScreens().tapped(tap: tap, state: PromptState(noted: nil, meter: nil), now: now)
            return try companion.check().ask(question: Question(now: now, occasion: .wake, feels: nil, meterMgDl: nil))
        }
        let question = Question(
            now: now, occasion: try one(ask.occasion, of: ["look": .look, "wake": .wake]),
            feels: try ask.feels.map { feels in
                try one(feels, of: ["feels_low": .feelsLow, "feels_high": .feelsHigh, "neither": .neither, "severe": .severe])
            },
            meterMgDl: ask.meter_mg_dl)
        return try companion.check().ask(question: question)
    }
}

/// Any value as names, numbers, texts and lists of them.
indirect enum Plain: Equatable, Decodable {
    case nothing
    case truth(Bool)
    case number(Double)
    case text(String)
    case list([Plain])
    case fields([String: Plain])

    subscript(name: String) -> Plain? {
        if case .fields(let fields) = self { fields[name] } else { nil }
    }

    private static func name(_ name: String) -> String { name.filter { $0 != "_" && $0 != "`" }.lowercased() }

    init(from decoder: any Decoder) throws {
        let value = try decoder.singleValueContainer()
        if value.decodeNil() {
            self = .nothing
        } else if let truth = try? value.decode(Bool.self) {
            self = .truth(truth)
        } else if let number = try? value.decode(Double.self) {
            self = .number(number)
        } else if let text = try? value.decode(String.self) {
            self = .text(text)
        } else if let list = try? value.decode([Plain].self) {
            self = .list(list)
        } else {
            self = .fields(try value.decode([String: Plain].self))
        }
    }

    init(reflecting value: Any) {
        switch value {
        case let truth as Bool: self = .truth(truth)
        case let number as Double: self = .number(number)
        case let number as any BinaryInteger: self = .number(Double(number))
        // A text that could be a name is compared as one: in the fixtures nothing distinguishes the two.
        case let text as String: self = .text(text.allSatisfy { $0.isLetter || $0.isNumber } ? text.lowercased() : text)
        default: self = Self.reflected(value)
        }
    }

    private static func reflected(_ value: Any) -> Plain {
        let mirror = Mirror(reflecting: value)
        let children = Array(mirror.children)
        func named(_ children: [Mirror.Child]) -> [String: Plain] {
            Dictionary(uniqueKeysWithValues: children.map { (name($0.label ?? "unnamed"), Plain(reflecting: $0.value)) })
        }
        switch mirror.displayStyle {
        case .optional: return children.first.map { Plain(reflecting: $0.value) } ?? .nothing
        case .collection: return .list(children.map { Plain(reflecting: $0.value) })
        case .enum:
            guard let variant = children.first else { return .text(name(String(describing: value))) }
            return .fields([name(variant.label ?? "unnamed"): .fields(named(Array(Mirror(reflecting: variant.value).children)))])
        default: return .fields(named(children))
        }
    }

    /// Where this differs from what is expected, and how.
    func differences(from expected: Plain, at path: String) -> [String] {
        switch (self, expected) {
        case (.fields(let got), .fields(let wanted)):
            Set(got.keys).union(wanted.keys).sorted().flatMap { key -> [String] in
                guard let one = got[key] else { return ["\(path).\(key) is missing"] }
                guard let other = wanted[key] else { return ["\(path).\(key) is not expected"] }
                return one.differences(from: other, at: "\(path).\(key)")
            }
        case (.list(let got), .list(let wanted)) where got.count == wanted.count:
            zip(got, wanted).enumerated().flatMap { $1.0.differences(from: $1.1, at: "\(path)[\($0)]") }
        default: self == expected ? [] : ["\(path) is \(self), not \(expected)"]
        }
    }
}
