//! A sealed log in words.

use crate::exchange::sealed::Sealed;
use crate::sentences::merge::readings_and_others;
use crate::sentences::pick;
use crate::words::Words;

/// What was sealed, on one line.
#[must_use]
pub fn sealed_line(sealed: &Sealed, words: Words) -> String {
    let day = |at: Option<crate::time::Moment>| at.map_or_else(String::new, |at| at.local_date().to_string());
    let (first, last) = (day(sealed.first), day(sealed.last));
    let Sealed { readings, others, bytes, .. } = sealed;
    let both = readings_and_others(*readings, *others, words);
    let size = words.decimal(*bytes as f64 / 1e6, 1);
    pick(
        words,
        format!(
            "Sealed and read back: {both}, {first} to {last}; {size} MB. Only the passphrase opens it, \
             and nobody can recover a forgotten one."
        ),
        format!(
            "Versiegelt und zurückgelesen: {both}, {first} bis {last}; {size} MB. Nur die Passphrase öffnet \
             es, und eine vergessene kann niemand wiederherstellen."
        ),
    )
}
