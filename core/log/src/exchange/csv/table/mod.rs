//! A log as a table for people and spreadsheets (CSV, RFC 4180), and such a table back into a log.
//!
//! One row an entry, in the order of time, with the same columns whatever the entry is; a cell that does not concern it
//! is empty. Glucose stands in both units, times in local time and in UTC.
//!
//! | column | what it holds |
//! |---|---|
//! | local time | `2026-03-01 03:05:00`, as the wearer's clock showed |
//! | UTC offset | that clock against UTC: `+01:00` |
//! | UTC time | RFC 3339, to the millisecond where there are some |
//! | kind | what it is, as in the log: `sensor_reading`, `meter_check`, `insulin`, ... |
//! | said | the same in words, in the wearer's language; not read back |
//! | sensor glucose mg/dL, sensor glucose mmol/L | a sensor reading; `<40` or `>400` where it was too low or too high to measure |
//! | meter glucose mg/dL, meter glucose mmol/L | a meter check; the same |
//! | rapid insulin U, long-acting insulin U | insulin taken |
//! | meal carbohydrate g, rescue carbohydrate g | carbohydrate taken |
//! | minutes | how long, of an activity |
//! | until | when it ended, RFC 3339 with its offset |
//! | text | a note, an activity's name |
//! | details | everything else it says, as JSON |
//! | source | the sensor, the meter, or `by hand` |
//! | recorded | when it came into the log, RFC 3339 with its offset |
//! | id, replaces | its identity, and that of the entry it corrects |
//!
//! Reading it back, mg/dL goes before mmol/L and UTC time before local time; a new row needs a time with its offset, a
//! kind and what that kind says, and no id; without a source it is noted by hand, or a reading of the sensor worn. A row whose id is known but which says something else was changed by hand and
//! is left out: entries are put right in the log, where the old one stays readable. Imports and which entries came with
//! them stay behind, since bringing a table in is an import of its own, and so does what only imports brought that were taken back: it
//! would hold again. A sealed log carries everything.
//!
//! A text that a spreadsheet would take for a formula gets an apostrophe in front (OWASP, "CSV Injection"), which is
//! taken off again when it is read.

mod read;
mod write;

pub use read::{Finding, Rows, Trouble, is_table};
pub use write::{Which, Written, write};

/// The columns, in their order.
pub(super) const COLUMNS: [&str; 21] = [
    "local time",
    "UTC offset",
    "UTC time",
    "kind",
    "said",
    "sensor glucose mg/dL",
    "sensor glucose mmol/L",
    "meter glucose mg/dL",
    "meter glucose mmol/L",
    "rapid insulin U",
    "long-acting insulin U",
    "meal carbohydrate g",
    "rescue carbohydrate g",
    "minutes",
    "until",
    "text",
    "details",
    "source",
    "recorded",
    "id",
    "replaces",
];

/// Where each column stands.
mod at {
    pub(super) const LOCAL: usize = 0;
    pub(super) const OFFSET: usize = 1;
    pub(super) const UTC: usize = 2;
    pub(super) const KIND: usize = 3;
    pub(super) const SAID: usize = 4;
    pub(super) const SENSOR: [usize; 2] = [5, 6];
    pub(super) const METER: [usize; 2] = [7, 8];
    pub(super) const RAPID: usize = 9;
    pub(super) const LONG_ACTING: usize = 10;
    pub(super) const MEAL: usize = 11;
    pub(super) const RESCUE: usize = 12;
    pub(super) const MINUTES: usize = 13;
    pub(super) const UNTIL: usize = 14;
    pub(super) const TEXT: usize = 15;
    pub(super) const DETAILS: usize = 16;
    pub(super) const SOURCE: usize = 17;
    pub(super) const RECORDED: usize = 18;
    pub(super) const ID: usize = 19;
    pub(super) const REPLACES: usize = 20;
}

/// The name under which a kind's own text stands in the log, where it has one in the column `text`.
fn text_field(kind: &str) -> Option<&'static str> {
    match kind {
        "note" => Some("text"),
        "activity" => Some("activity"),
        _ => None,
    }
}

/// Signs at which a spreadsheet begins to calculate, and the apostrophe itself.
const ACTIVE: [char; 7] = ['=', '+', '-', '@', '\t', '\r', '\''];

/// Text as a spreadsheet shows it without calculating.
#[must_use]
pub fn guarded(text: &str) -> String {
    if text.starts_with(ACTIVE) { format!("'{text}") } else { text.to_owned() }
}

fn unguarded(text: &str) -> &str {
    text.strip_prefix('\'').unwrap_or(text)
}
