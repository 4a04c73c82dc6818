//! What was written into a table, and what was found in one.

use crate::exchange::csv::table::{Finding, Trouble, Written};
use crate::sentences::merge::readings_and_others;
use crate::time::Moment;
use crate::words::{Counted, Words};
use crate::{say, text};

/// What was written, and what was left out of it.
#[must_use]
pub fn written_lines(written: &Written, words: Words) -> Vec<String> {
    let Written { readings, others, taken_back, first, last } = written;
    let day = |at: &Option<Moment>| at.map_or_else(String::new, |at| words.date(at.local_date()));
    let (first, last) = (day(first), day(last));
    let both = readings_and_others(*readings, *others, words);
    let mut lines = vec![say!(words, "table-to", both, first, last)];
    if *taken_back > 0 {
        let entries = words.counted(*taken_back, Counted::Entries);
        lines.push(say!(words, "table-left-out-import-taken-back", entries));
    }
    lines
}

/// What was found about a row, on one line.
#[must_use]
pub fn finding_line(finding: &Finding, words: Words) -> String {
    let why = match finding.trouble {
        Trouble::Time => text!(words, "table-no-time-with-its-offset"),
        Trouble::Said => text!(words, "table-kind-unknown-or-something-kind"),
        Trouble::Changed => text!(words, "table-would-change-entry-put-right"),
        Trouble::CannotBe => text!(words, "table-such-entry-cannot-be"),
        Trouble::Unreadable => text!(words, "table-not-readable-as-text"),
    };
    let number = finding.line;
    say!(words, "table-line-left-out", number, why)
}
