import Ebbstead
import Foundation
import Invented
import Presenters
import XCTest

final class DrawingTests: ScreenCase {
    private func picture() throws -> Picture {
        let evening = try Invented.evening(at: path)
        return try evening.companion.check().ask(question: Question(now: evening.now, occasion: .look, feels: nil, meterMgDl: nil)).picture
    }

    private func places(_ shape: Shape) -> [Place] {
        switch shape {
        case .line(let places, _, _), .area(let places): places
        case .dot(let at, _), .diamond(let at, _), .text(_, let at, _, _): [at]
        }
    }

    func testEverythingLiesOnTheSheetAtEverySize() throws {
        let picture = try picture()
        for width in [320.0, 358, 800] {
            for size in [12.0, 20, 37.2, 60] {
                let drawing = Drawing(picture, width: width, typeSize: size)
                for mark in drawing.marks {
                    for place in places(mark.shape) {
                        XCTAssertTrue((-0.01...drawing.width + 0.01).contains(place.x) && (-0.01...drawing.height + 0.01).contains(place.y), "\(mark)")
                    }
                }
            }
        }
    }

    func testEveryReadingIsDrawnInProportion() throws {
        let picture = try picture()
        let drawing = Drawing(picture, width: 358, typeSize: 12)
        let dots = drawing.marks.compactMap { mark -> Place? in if case .dot(let at, _) = mark.shape { at } else { nil } }
        XCTAssertEqual(dots.count, picture.readings.count)
        // Straight proportion: equal steps of time are equal steps across, and a higher reading lies higher.
        for (index, pair) in zip(dots, dots.dropFirst()).enumerated() {
            XCTAssertEqual(pair.1.x - pair.0.x, dots[1].x - dots[0].x, accuracy: 1e-9)
            let rise = picture.readings[index + 1].mgDl - picture.readings[index].mgDl
            let scale = drawing.height - 12 - 12 * 2.4  // what the scales leave of the height
            XCTAssertEqual(pair.0.y - pair.1.y, rise / (picture.highestMgDl - picture.lowestMgDl) * scale, accuracy: 1e-9)
        }
    }

    /// Two roles that look the same but for their ink would tell something by colour alone.
    func testRolesDifferByMoreThanInk() throws {
        let drawing = Drawing(try picture(), width: 358, typeSize: 12)
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

    func testManyNotesAtOnceGetALetterEach() throws {
        let evening = try Invented.evening(at: path)
        for number in 0..<20 {
            _ = try evening.companion.log().record(what: .note(text: "note \(number)"), at: evening.now.minutes(-30), now: evening.now)
        }
        let drawing = try XCTUnwrap(NowPresenter(evening.companion, sheet: Sheet(width: 358, typeSize: 37.2), at: evening.now).screen.drawing)
        XCTAssertEqual(Set(drawing.noted.map { $0.first }).count, drawing.noted.count)
    }

    func testAPictureOfNothingIsStillAPicture() throws {
        let now = Moment(unixMs: 1_773_517_800_000, offsetMinutes: 0)
        let companion = try EbbsteadCompanion.open(path: path, language: .english, now: now)
        let drawing = try XCTUnwrap(NowPresenter(companion, at: now).screen.drawing)
        XCTAssertFalse(drawing.text.isEmpty)
        XCTAssertEqual(drawing.legend.map(\.role), [.low], "the low line is all there is")
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

    func testTextAndMarksKeepTheirContrast() {
        for (name, theme) in [("light", Theme.light), ("dark", .dark), ("night", .night)] {
            for ink in [theme.text, theme.quiet, theme.accent, theme.low, theme.high] {
                XCTAssertGreaterThanOrEqual(contrast(ink, theme.paper), 4.5, name)
            }
            for role in Role.allCases {
                XCTAssertGreaterThanOrEqual(contrast(theme.ink(role), theme.paper), 3, "\(name) \(role)")
                if role != .band {
                    XCTAssertGreaterThanOrEqual(contrast(theme.ink(role), theme.bandFill), 3, "\(name) \(role) on the band")
                }
            }
        }
    }
}
