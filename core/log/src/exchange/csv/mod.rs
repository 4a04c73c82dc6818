//! Sensor readings from a table of text (CSV, RFC 4180), of any length, in bounded memory.
//!
//! The columns, the unit, the separator and the way times are written are found from the file or given in [`Options`].
//! What cannot be found for sure is asked for: the file is refused before anything is taken. After that every row is
//! either taken or reported as a [`Finding`] with its line, its column and what to do.
//!
//! # Rules
//! - **Separator**: comma, semicolon or tab. A first row without names is accepted if it holds one time and one number.
//! - **Text**: UTF-8, with or without a byte order mark; bytes that are no UTF-8 are read as Latin-1. UTF-16 is refused.
//! - **Numbers**: a point or a comma before the decimals; a unit behind the number is ignored.
//! - **Unit**: from the options, else the header or a column of units, else the values. Values that fit only the other unit stop the
//!   import before anything is taken; a single such value later is left out and reported. A file that names another unit, as
//!   grams per litre, is refused; one that names none is asked for it where its values may be grams per litre.
//! - **Range**: 20 to 600 mg/dL. What is outside is left out and reported.
//! - **Too low or too high to measure**: words such as `low` or `high` in place of a number, and limits such as `<40` or `> 400`,
//!   are taken as such readings and reported. Where no limit is given it is 40 or 400 mg/dL.
//! - **Times**: year first (ISO 8601, with `T` or a space, with or without an offset), day first, month first, or Unix
//!   seconds or milliseconds. Where day and month could be either, the order in which the readings stay closest
//!   together is taken; where that does not settle it, the format is asked for.
//! - **Offsets**: behind the time, else from a second time that is named as UTC, else from a column of offsets. A time that is
//!   named as UTC is. A row in which two of them differ is left out and reported; beside a time in UTC the column is the wearer's own.
//! - **Times without an offset** are local, by [`Zone`]. In the night the clocks go back, an hour is written twice: the
//!   readings are kept in file order, so that the first pass gets the offset before the change and the second pass, which
//!   begins where the times step back, the one after it. Of readings an hour apart one time is there twice, the second of which is the
//!   second pass. If only one pass is there, it counts as the first. With
//!   [`Zone::Fixed`] a step back of 40 to 60 minutes before 4 o'clock on a Sunday, in a file that otherwise goes forward
//!   and goes on from there, counts as such a night: from there on the offset is one hour less. A local time that never
//!   was (the clocks went forward over it) gets the offset before the change. Both are reported.
//! - **The future**: more than ten minutes ahead of [`Options::now`] is left out and reported.
//! - **Order**: any. Newest first is as good as oldest first.
//! - **One time twice**: the same amount counts once. Different amounts are both taken, since neither can be shown to be
//!   wrong, and reported; the log then goes by the lowest.
//! - **Several sensors**: one after the other are one trace. Sensors that read at the same time are two; the file is refused.
//! - **A quotation mark that its line does not close**, with rows below it, is closed there and reported: the rows are read.

pub mod events;
mod finding;
mod import;
mod layout;
mod metered;
mod offsets;
mod options;
mod rows;
mod seen;
pub mod table;
mod times;
mod values;

use crate::error::Error;
pub use finding::{Event, Finding, FindingCode, Report};
pub use import::Import;
use metered::{LONGEST_ROW, LineEnds};
pub use offsets::{OffsetChange, offset_at, offsets_at};
pub use options::{Options, RowFault};
pub use rows::{Outcome, Row, Rows};
pub use times::{Offsets, Zone};

fn file_error(options: &Options<'_>, source: std::io::Error) -> Error {
    Error::File { path: options.file.clone(), source }
}

/// Text of a cell: UTF-8, or Latin-1 where it is none.
fn decoded(cell: &[u8]) -> std::borrow::Cow<'_, str> {
    match std::str::from_utf8(cell) {
        Ok(text) => text.into(),
        Err(_) => cell.iter().map(|&byte| char::from(byte)).collect::<String>().into(),
    }
}

/// A cell's text as a message shows it.
fn shortened(text: &str) -> String {
    const LONGEST: usize = 40;
    let mut short: String = text.trim().chars().take(LONGEST).map(|c| if c.is_control() { ' ' } else { c }).collect();
    if text.trim().chars().nth(LONGEST).is_some() {
        short.push_str("...");
    }
    short
}
