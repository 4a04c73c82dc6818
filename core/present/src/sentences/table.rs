//! What was written into a table, and what was found in one.

use crate::exchange::csv::table::{Finding, Trouble, Written};
use crate::sentences::merge::readings_and_others;
use crate::sentences::pick;
use crate::time::Moment;
use crate::words::Words;

/// What was written, on one line.
#[must_use]
pub fn written_line(written: &Written, words: Words) -> String {
    let Written { readings, others, first, last } = written;
    let day = |at: &Option<Moment>| at.map_or_else(String::new, |at| at.local_date().to_string());
    let (first, last) = (day(first), day(last));
    let both = readings_and_others(*readings, *others, words);
    pick(words, format!("{both}, {first} to {last}."), format!("{both}, {first} bis {last}."))
}

/// What was found about a row, on one line.
#[must_use]
pub fn finding_line(finding: &Finding, words: Words) -> String {
    let why = match finding.trouble {
        Trouble::Time => {
            pick(words, "no time with its offset from UTC can be read", "es ist keine Zeit mit Abstand zu UTC zu lesen")
        }
        Trouble::Said => pick(
            words,
            "the kind is unknown, or something of that kind is missing",
            "die Art ist unbekannt, oder etwas zu dieser Art fehlt",
        ),
        Trouble::Changed => pick(
            words,
            "it would change an entry; put that right in the log instead",
            "sie würde einen Eintrag ändern; berichtige ihn stattdessen im Protokoll",
        ),
        Trouble::CannotBe => pick(words, "such an entry cannot be", "einen solchen Eintrag kann es nicht geben"),
        Trouble::Unreadable => pick(words, "it is not readable as text", "sie ist nicht als Text lesbar"),
    };
    let number = finding.line;
    pick(words, format!("line {number}: {why}; left out"), format!("Zeile {number}: {why}; ausgelassen"))
}
