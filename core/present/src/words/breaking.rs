//! Where a long word may break.

use std::collections::BTreeSet;

/// Shorter words fit on any line.
const SHORTEST: usize = 9;
/// What is not divided, the longest first; st only after n or r, where it mostly begins the stem of a word.
const TOGETHER: [&str; 22] = [
    "schl", "schr", "sch", "str", "spr", "nst", "rst", "ch", "ck", "ph", "th", "qu", "sh", "tr", "dr", "br", "kr",
    "gr", "fr", "pr", "fl", "pl",
];

/// A text that may break within its long words, with a hyphen: at the largest type sizes a long German word is wider than a phone, and
/// would be broken wherever the line ends. The places are soft hyphens (U+00AD), which show only where a line breaks at one.
///
/// They are found by syllables as they sound, for no dictionary is at hand on every system: before the last consonant between two
/// vowels, with letters that make one sound kept together, and three letters on either side.
#[must_use]
pub fn breakable(text: &str) -> String {
    let mut made = String::with_capacity(text.len());
    for piece in text.split_inclusive(|sign: char| !sign.is_alphabetic()) {
        let word = piece.trim_end_matches(|sign: char| !sign.is_alphabetic());
        divide(word, &mut made);
        made.push_str(piece.strip_prefix(word).unwrap_or_default());
    }
    made
}

fn divide(word: &str, made: &mut String) {
    let letters: Vec<char> = word.chars().flat_map(char::to_lowercase).collect();
    let count = letters.len();
    // A letter that is two in small ones is none of the languages offered.
    if count < SHORTEST || count != word.chars().count() {
        return made.push_str(word);
    }
    let is_vowel = |letter: &char| "aeiouyäöü".contains(*letter);
    let mut breaks = BTreeSet::new();
    for (place, pair) in letters.windows(2).enumerate() {
        if is_vowel(&pair[0]) || !is_vowel(&pair[1]) {
            continue;
        }
        // The sound before the vowel goes with it.
        let before: String = letters[..=place].iter().collect();
        let sound = TOGETHER.into_iter().find(|sound| before.ends_with(sound)).unwrap_or("-");
        let at = (place + 1).saturating_sub(if sound.ends_with("st") { 2 } else { sound.len() });
        if at >= 3 && count - at >= 3 && letters[..at].iter().any(is_vowel) {
            breaks.insert(at);
        }
    }
    for (place, letter) in word.chars().enumerate() {
        if breaks.contains(&place) {
            made.push('\u{AD}');
        }
        made.push(letter);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Divided as the dictionary divides them: Duden, from memory; two letters at an end are left with the syllable beside them.
    #[test]
    fn long_german_words_break_between_syllables() {
        for divided in [
            "Unter-zu-cke-rung",
            "Ein-stel-lun-gen",
            "Mess-ge-rät",
            "Test-strei-fen",
            "Koh-len-hy-drate",
            "nach-se-hen",
            "Behand-lungs-team",
        ] {
            assert_eq!(breakable(&divided.replace('-', "")).replace('\u{AD}', "-"), divided);
        }
    }

    #[test]
    fn short_words_numbers_and_signs_stay_whole_and_nothing_is_lost() {
        for text in ["Sensor 7", "104 mg/dL", "", "3,9–10,0 mmol/L", "ebbstead-2026-03-14.csv"] {
            assert_eq!(breakable(text), text);
        }
        let text = "Schnelle Kohlenhydrate, g: Ältere Menschen; strength, Rhythmus, sprichst…";
        let made = breakable(text);
        assert_eq!(made.replace('\u{AD}', ""), text);
        for word in made.split(|sign: char| !sign.is_alphabetic() && sign != '\u{AD}') {
            let pieces: Vec<usize> = word.split('\u{AD}').map(|piece| piece.chars().count()).collect();
            assert!(pieces.len() == 1 || pieces.iter().all(|count| *count >= 2), "{word}");
            assert!(pieces.len() == 1 || pieces[0] >= 3 && pieces[pieces.len() - 1] >= 3, "{word}");
        }
    }
}
