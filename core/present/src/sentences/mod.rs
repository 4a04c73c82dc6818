//! What was found, in sentences: one file for each part of the record.

pub mod alerts;
pub mod before;
pub mod bluetooth;
pub mod fhir;
pub mod health;
pub mod import;
pub mod merge;
pub mod outcomes;
pub mod review;
#[cfg(feature = "sealed")]
pub mod sealed;
pub mod sensor;
pub mod supplies;
pub mod table;

use crate::text;
use crate::words::Words;

/// What to know about a file that is not sealed.
#[must_use]
pub fn readable_by_anybody(words: Words) -> &'static str {
    text!(words, "log-anybody-who-has-file-can")
}
