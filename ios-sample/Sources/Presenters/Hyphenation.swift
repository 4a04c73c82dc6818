/// A text that may break within its long words, with a hyphen: at the largest type sizes a long German word is wider than a phone,
/// and would be broken wherever the line ends. The places are soft hyphens (U+00AD), which show only where a line breaks at one.
///
/// They are found by syllables as they sound, for no dictionary is at hand on every system: before the last consonant between
/// two vowels, with letters that make one sound kept together, and three letters on either side.
public func breakable(_ text: String) -> String {
    var made = "", word: [Character] = []
    for letter in text {
        if letter.isLetter {
            word.append(letter)
        } else {
            made += broken(word)
            word = []
            made.append(letter)
        }
    }
    return made + broken(word)
}

/// Shorter words fit on any line.
private let shortest = 9
/// What is not divided, the longest first; st only after n or r, where it mostly begins the stem of a word.
private let together = ["schl", "schr", "sch", "str", "spr", "nst", "rst", "ch", "ck", "ph", "th", "qu", "sh", "tr", "dr", "br", "kr", "gr", "fr", "pr", "fl", "pl"]

private func broken(_ word: [Character]) -> String {
    guard word.count >= shortest else { return String(word) }
    func isVowel(_ place: Int) -> Bool { "aeiouyäöü".contains(word[place].lowercased()) }
    var breaks: Set<Int> = []
    for place in 1..<word.count where isVowel(place) && !isVowel(place - 1) {
        // The sound before the vowel goes with it.
        let before = String(word[..<place]).lowercased()
        let sound = together.first { before.hasSuffix($0) } ?? "-"
        let at = place - (sound.hasSuffix("st") ? 2 : sound.count)
        if at >= 3, word.count - at >= 3, word[..<at].indices.contains(where: isVowel) { breaks.insert(at) }
    }
    return word.indices.map { (breaks.contains($0) ? "\u{AD}" : "") + String(word[$0]) }.joined()
}
