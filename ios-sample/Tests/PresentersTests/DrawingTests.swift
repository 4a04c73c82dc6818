import Ebbstead
import Foundation
import Invented
import Presenters
import XCTest

final class DrawingTests: ScreenCase {
    private func chart() throws -> Chart {
        let evening = try Invented.evening(at: path)
        return try evening.companion.check().ask(question: Question(now: evening.now, occasion: .look, feels: nil, meterMgDl: nil)).chart
    }

    private func places(_ shape: Shape) -> [Place] {
        switch shape {
        case .line(let places, _, _), .area(let places): places
        case .dot(let at, _), .diamond(let at, _), .text(_, let at, _, _): [at]
        }
    }

    func testEverythingLiesOnTheSheetAtEverySize() throws {
        let chart = try chart()
        for width in [320.0, 358, 800] {
            for size in [12.0, 20, 37.2, 60] {
                let drawing = Drawing(chart, width: width, typeSize: size)
                for mark in drawing.marks {
                    for place in places(mark.shape) {
                        XCTAssertTrue((-0.01...drawing.width + 0.01).contains(place.x) && (-0.01...drawing.height + 0.01).contains(place.y), "\(mark)")
                    }
                }
            }
        }
    }

    func testEveryReadingIsDrawnInProportion() throws {
        let chart = try chart()
        let drawing = Drawing(chart, width: 358, typeSize: 12)
        let dots = drawing.marks.compactMap { mark -> Place? in if case .dot(let at, _) = mark.shape { at } else { nil } }
        XCTAssertEqual(dots.count, chart.readings.count)
        // Straight proportion: equal steps of time are equal steps across, and a higher reading lies higher.
        for (index, pair) in zip(dots, dots.dropFirst()).enumerated() {
            XCTAssertEqual(pair.1.x - pair.0.x, dots[1].x - dots[0].x, accuracy: 1e-9)
            let rise = chart.readings[index + 1].mgDl - chart.readings[index].mgDl
            let scale = drawing.height - 12 - 12 * 2.4  // what the scales leave of the height
            XCTAssertEqual(pair.0.y - pair.1.y, rise / (chart.highestMgDl - chart.lowestMgDl) * scale, accuracy: 1e-9)
        }
    }

    /// Two roles that look the same but for their ink would show something by colour alone.
    func testRolesDifferByMoreThanInk() throws {
        let drawing = Drawing(try chart(), width: 358, typeSize: 12)
        var forms: [String: Role] = [:]
        for mark in drawing.marks {
            let form: String? =
                switch mark.shape {
                case .line(_, let dashes, let width): mark.role == .scale ? nil : "line \(dashes) \(width)"
                case .dot(_, let radius): "dot \(radius)"
                case .diamond(_, let radius): "diamond \(radius)"
                case .area: "area"
                case .text: nil
                }
            guard let form else { continue }
            XCTAssertEqual(forms[form, default: mark.role], mark.role, form)
            forms[form] = mark.role
        }
        XCTAssertGreaterThan(forms.count, 5)
    }

    /// A legend alone would leave the eye to match dashes.
    func testBothFuturesBearTheirNamesOnTheDrawing() throws {
        let german = try Invented.evening(at: path + ".de", language: "de")
        let longer = try german.companion.check().ask(question: Question(now: german.now, occasion: .look, feels: nil, meterMgDl: nil)).chart
        for chart in [try chart(), longer] { try assertBothFuturesAreNamed(Drawing(chart, width: 358, typeSize: 12)) }
    }

    private func assertBothFuturesAreNamed(_ drawing: Drawing) throws {
        let curves = drawing.marks.compactMap { mark -> (Role, [Place])? in
            guard case .line(let places, _, _) = mark.shape, mark.role == .path || mark.role == .treated else { return nil }
            return (mark.role, places)
        }
        XCTAssertEqual(curves.map(\.0), [.path, .treated])
        for (role, curve) in curves {
            let names = drawing.marks.compactMap { mark -> Place? in if mark.role == role, case .text(_, let at, _, _) = mark.shape { at } else { nil } }
            XCTAssertEqual(names.count, 1, "\(role)")
            XCTAssertTrue(names.allSatisfy { name in curve.contains { $0.x == name.x && abs($0.y - name.y) < 24 } }, "it stands at its own curve")
        }
    }

    func testManyNotesAtOnceGetALetterEach() throws {
        let evening = try Invented.evening(at: path)
        for number in 0..<20 {
            _ = try evening.companion.log().record(what: .note(text: "note \(number)"), at: evening.now.minutes(-30), now: evening.now)
        }
        let drawing = try XCTUnwrap(PromptPresenter(evening.companion, sheet: Sheet(width: 358, typeSize: 37.2)).after(.look, at: evening.now).screen.drawing)
        XCTAssertEqual(Set(drawing.noted.map { $0.first }).count, drawing.noted.count)
    }

    func testAPictureOfNothingIsStillAPicture() throws {
        let now = Moment(unixMs: 1_773_517_800_000, offsetMinutes: 0)
        let companion = try EbbsteadCompanion.open(path: path, language: "en", now: now)
        let drawing = try XCTUnwrap(PromptPresenter(companion).after(.look, at: now).screen.drawing)
        XCTAssertFalse(drawing.text.isEmpty)
        XCTAssertEqual(drawing.legend.map(\.role), [.low], "the low line is all there is")
    }
}

final class HoursDrawingTests: XCTestCase {
    private let lines = [
        DrawnLine(mgDl: 54, kind: .floor, text: "very low 54 mg/dL"), DrawnLine(mgDl: 70, kind: .low, text: "low line 70 mg/dL"),
        DrawnLine(mgDl: 180, kind: .high, text: "high line 180 mg/dL"),
    ]

    private func post(_ hour: Int, _ mgDl: [Double]) -> HourPercentiles {
        HourPercentiles(hours: Double(hour) + 0.5, p10MgDl: mgDl[0], p25MgDl: mgDl[1], p50MgDl: mgDl[2], p75MgDl: mgDl[3], p90MgDl: mgDl[4])
    }

    private func chart(_ posts: [HourPercentiles]) -> DayChart {
        DayChart(
            lowestMgDl: 40, highestMgDl: 260, posts: posts, lines: lines,
            amounts: [50, 100, 150, 200, 250].map { Tick(value: $0, text: "\(Int($0))") },
            times: [0, 6, 12, 18, 24].map { Tick(value: $0, text: "\(Int($0)):00") }, legend: "a post", text: "in words")
    }

    private func places(_ drawing: Drawing, of role: Role) -> [[Place]] {
        drawing.marks.filter { $0.role == role }.compactMap {
            switch $0.shape {
            case .line(let places, _, _), .area(let places): places
            default: nil
            }
        }
    }

    func testEveryHourStandsInProportion() {
        let posts = (0..<24).map { hour in post(hour, [80, 100, 120, 150, 190].map { $0 + Double(hour) }) }
        let drawing = Drawing(chart(posts), width: 358, typeSize: 12)
        // By turns the thin post and its thick part.
        let (hours, notches) = (places(drawing, of: .hour), places(drawing, of: .hourMiddle))
        XCTAssertEqual([hours.count, notches.count], [48, 24])
        let scale = (hours[0][1].y - hours[0][0].y) / 110  // from 190 down to 80 mg/dL
        for hour in 0..<24 {
            let (thin, thick) = (hours[2 * hour], hours[2 * hour + 1])
            XCTAssertEqual(thick[0].y - thin[0].y, 40 * scale, accuracy: 1e-9)  // 190 to 150
            XCTAssertEqual(thick[2].y - thin[0].y, 90 * scale, accuracy: 1e-9)  // 190 to 100
            XCTAssertEqual(notches[hour][0].y - thin[0].y, 70 * scale, accuracy: 1e-9)  // 190 to 120
            XCTAssertEqual(hours[0][0].y - thin[0].y, Double(hour) * scale, accuracy: 1e-9)
            XCTAssertEqual(thin[0].x - hours[0][0].x, Double(hour) * (hours[2][0].x - hours[0][0].x), accuracy: 1e-9)
        }
    }

    func testItLiesOnItsSheetAtEverySizeAndWithFewHours() {
        for (width, size) in [(320.0, 12.0), (358, 37.2), (800, 60)] {
            for posts in [[], [post(23, [22, 40, 52, 300, 420])], [post(0, [100, 100, 100, 100, 100])]] {
                let drawing = Drawing(chart(posts), width: width, typeSize: size)
                for role in Role.allCases {
                    for place in places(drawing, of: role).joined() {
                        XCTAssertTrue((-0.01...width + 0.01).contains(place.x) && (-0.01...drawing.height + 0.01).contains(place.y), "\(role)")
                    }
                }
            }
        }
    }

    func testEveryMarkHasItsNameAndASampleOfItsOwn() {
        let drawing = Drawing(chart([post(7, [80, 100, 120, 150, 190])]), width: 358, typeSize: 12)
        XCTAssertEqual(Set(drawing.legend.map(\.role)), Set(drawing.marks.map(\.role)).subtracting([.scale, .hourMiddle]))
        XCTAssertEqual(Set(drawing.legend.map { "\($0.sample(width: 28, height: 16).map(\.shape))" }).count, drawing.legend.count)
    }
}

final class ThemeTests: XCTestCase {
    /// Contrast of two inks. Source: WCAG 2.2, definitions of relative luminance and contrast ratio.
    private func contrast(_ one: Ink, _ other: Ink) -> Double {
        func luminance(_ ink: Ink) -> Double {
            let part = { (value: Double) in value <= 0.04045 ? value / 12.92 : pow((value + 0.055) / 1.055, 2.4) }
            return 0.2126 * part(ink.red) + 0.7152 * part(ink.green) + 0.0722 * part(ink.blue)
        }
        let both = [luminance(one), luminance(other)].sorted()
        return (both[1] + 0.05) / (both[0] + 0.05)
    }

    func testTheFormulaGivesTheKnownEnds() {
        XCTAssertEqual(contrast(Ink(0xFFFFFF), Ink(0x000000)), 21, accuracy: 1e-9)  // WCAG 2.2: ratios run from 1 to 21
    }

    /// Urgency is shown by how light or dark a block is: in grey, in print, and to whoever sees no colours.
    func testWhatIsSolidIsFarFromWhatIsTinted() {
        for (name, theme) in [("light", Theme.light), ("dark", .dark), ("night", .night)] {
            let grounds = Dictionary(uniqueKeysWithValues: Weight.allCases.map { ($0, theme.look(of: $0)) })
            guard let solid = grounds[.solid], let tint = grounds[.tint], let plain = grounds[.plain], let outline = grounds[.outline] else { return XCTFail(name) }
            XCTAssertGreaterThanOrEqual(contrast(solid.ground, tint.ground), 3, name)
            XCTAssertGreaterThanOrEqual(contrast(solid.ground, plain.ground), 3, name)
            XCTAssertNotEqual(tint.ground, plain.ground)
            XCTAssertEqual([outline.outline, plain.outline].map { $0 >= 4 }, [true, false], "a check is shown by its outline")
            for look in grounds.values { XCTAssertGreaterThanOrEqual(contrast(look.ground, look.ink), 4.5, name) }
        }
    }

    func testTextAndMarksKeepTheirContrast() {
        for (name, theme) in [("light", Theme.light), ("dark", .dark), ("night", .night)] {
            for ink in [theme.text, theme.quiet, theme.accent, theme.low, theme.high] {
                XCTAssertGreaterThanOrEqual(contrast(ink, theme.paper), 4.5, name)
            }
            // Cut into a surface: it lies on nothing else.
            XCTAssertGreaterThanOrEqual(contrast(theme.ink(.hourMiddle), theme.fill(.hour)), 3, name)
            for role in Role.allCases where role != .hourMiddle {
                XCTAssertGreaterThanOrEqual(contrast(theme.ink(role), theme.paper), 3, "\(name) \(role)")
                if role != .band && role != .hour {
                    XCTAssertGreaterThanOrEqual(contrast(theme.ink(role), theme.bandFill), 3, "\(name) \(role) on the band")
                }
            }
        }
    }
}
