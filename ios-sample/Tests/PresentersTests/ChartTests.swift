import Ebbstead
import Foundation
import Presenters
import XCTest

/// How a chart is laid out is core's, and tested there; here, that it comes through.
final class ChartTests: ScreenCase {
    private func chart() throws -> Chart {
        let evening = try Invented.evening(at: path)
        return try evening.companion.check().ask(question: Question(now: evening.now, occasion: .look, feels: nil, meterMgDl: nil)).chart
    }

    func testItIsLaidOutForTheViewsWidthAndType() throws {
        let chart = try Charted.path(chart())
        let (small, wide) = (chart.drawing(width: 320), chart.drawing(width: 800, typeSize: 20))
        XCTAssertEqual([small.width, wide.width], [320, 800])
        XCTAssertGreaterThan(wide.height, small.height)
        for drawing in [small, wide] {
            XCTAssertGreaterThan(drawing.marks.count, 40)
            XCTAssertTrue(drawing.legend.allSatisfy { !$0.sample.isEmpty })
            XCTAssertEqual(drawing.text, chart.text)
        }
    }

    func testAViewWithoutWidthGetsTheWordsAlone() throws {
        let chart = try Charted.path(chart())
        for width in [0.0, -1, .nan, .infinity] {
            let drawing = chart.drawing(width: width)
            XCTAssertTrue(drawing.marks.isEmpty)
            XCTAssertEqual(drawing.text, chart.text)
        }
    }

    func testEveryVerdictHasItsOwnSignAndBlocksHaveAnEdge() {
        let signs = [Verdict.treat, .help, .check, .hold, .clear].map { $0.sign(side: 44) }
        for (place, sign) in signs.enumerated() {
            XCTAssertFalse(sign.isEmpty)
            XCTAssertEqual(signs.firstIndex(of: sign), place)
        }
        XCTAssertEqual([Verdict.treat, .help, .check, .hold, .clear].map(\.weight), [.solid, .solid, .outline, .tint, .plain])
        XCTAssertGreaterThan(PromptHeadline.edge(width: 358, height: 200).count, 10)
    }

    func testAPictureOfNothingIsStillAPicture() throws {
        let now = Moment(unixMs: 1_773_517_800_000, offsetMinutes: 0)
        let companion = try EbbsteadCompanion.open(path: path, language: "en", now: now)
        let drawing = try XCTUnwrap(PromptPresenter(companion, at: now).after(.look, at: now).screen.drawing)
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

    /// Urgency is shown by how light or dark a block is: in grey, in print, and to whoever sees no colours.
    func testWhatIsSolidIsFarFromWhatIsTinted() {
        for (name, theme) in [("light", Theme.light), ("dark", .dark), ("night", .night)] {
            let grounds = Dictionary(uniqueKeysWithValues: [Weight.solid, .outline, .tint, .plain].map { ($0, theme.look(of: $0)) })
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
            for ink in [theme.text, theme.quiet, theme.accent, theme.line] {
                XCTAssertGreaterThanOrEqual(contrast(ink, theme.paper), 4.5, name)
            }
            // Cut into a surface: it lies on nothing else.
            XCTAssertGreaterThanOrEqual(contrast(theme.ink(.hourMedian), theme.ink(.hour)), 3, name)
            let roles: [MarkRole] = [.scale, .now, .low, .floor, .high, .band, .path, .treated, .reading, .meter, .noted, .hour]
            for role in roles {
                XCTAssertGreaterThanOrEqual(contrast(theme.ink(role), theme.paper), 3, "\(name) \(role)")
                if role != .band && role != .hour {
                    XCTAssertGreaterThanOrEqual(contrast(theme.ink(role), theme.ink(.past)), 3, "\(name) \(role) on the surface")
                }
            }
        }
    }
}
