import Presenters
import XCTest

final class HyphenationTests: XCTestCase {
    /// Divided as the dictionary divides them: Duden, from memory; two letters at an end are left with the syllable beside them.
    func testLongGermanWordsBreakBetweenSyllables() {
        let words = [
            "Unterzuckerung": "Unter-zu-cke-rung", "Einstellungen": "Ein-stel-lun-gen", "Messgerät": "Mess-ge-rät",
            "Teststreifen": "Test-strei-fen", "Kohlenhydrate": "Koh-len-hy-drate", "nachsehen": "nach-se-hen", "Behandlungsteam": "Behand-lungs-team",
        ]
        for (word, divided) in words { XCTAssertEqual(breakable(word).replacingOccurrences(of: "\u{AD}", with: "-"), divided) }
    }

    func testShortWordsNumbersAndSignsStayWholeAndNothingIsLost() {
        for text in ["Sensor 7", "104 mg/dL", "", "3,9–10,0 mmol/L", "ebbstead-2026-03-14.csv"] { XCTAssertEqual(breakable(text), text) }
        let text = "Schnelle Kohlenhydrate, g: Ältere Menschen; strength, Rhythmus, sprichst…"
        XCTAssertEqual(breakable(text).replacingOccurrences(of: "\u{AD}", with: ""), text)
        for word in breakable(text).split(whereSeparator: { !$0.isLetter && $0 != "\u{AD}" }) {
            let pieces = word.split(separator: "\u{AD}")
            if pieces.count > 1 { XCTAssertTrue(pieces.first!.count >= 3 && pieces.last!.count >= 3, "\(word)") }
        }
    }
}
