//! What was found, in sentences: one file for each part of the record.

pub mod alerts;
pub mod answers;
pub mod bluetooth;
pub mod fhir;
pub mod merge;
pub mod review;
#[cfg(feature = "sealed")]
pub mod sealed;
pub mod sensor;
pub mod supplies;
pub mod table;

use crate::wearer::Language;
use crate::words::Words;

/// Picks by language.
pub(crate) fn pick<T>(words: Words, english: T, german: T) -> T {
    match words.language() {
        Language::English => english,
        Language::German => german,
    }
}

/// What to know about a file that is not sealed.
#[must_use]
pub fn readable_by_anybody(words: Words) -> &'static str {
    pick(
        words,
        "Anybody who has this file can read it. Give it only to those you would tell.",
        "Wer diese Datei hat, kann sie lesen. Gib sie nur denen, denen du es auch sagen würdest.",
    )
}
