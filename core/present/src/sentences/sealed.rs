//! A sealed log in words.

use crate::exchange::sealed::Sealed;
use crate::say;
use crate::sentences::merge::readings_and_others;
use crate::words::Words;

/// What was sealed, on one line.
#[must_use]
pub fn sealed_line(sealed: &Sealed, words: Words) -> String {
    let day = |at: Option<crate::time::Moment>| at.map_or_else(String::new, |at| words.date(at.local_date()));
    let (first, last) = (day(sealed.first), day(sealed.last));
    let Sealed { readings, others, bytes, .. } = sealed;
    let both = readings_and_others(*readings, *others, words);
    let size = words.decimal(*bytes as f64 / 1e6, 1);
    say!(words, "sealed-sealed-and-read-back-to", both, first, last, size)
}
