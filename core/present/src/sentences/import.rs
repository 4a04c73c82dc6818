//! What was found in a file that is brought in, whatever it was.

use crate::exchange::Finding;
use crate::sentences::{fhir, table};
use crate::words::Words;

/// A finding with its place, on one line.
#[must_use]
pub fn finding_line(finding: &Finding, words: Words) -> String {
    match finding {
        Finding::Row(finding) => words.finding(finding),
        Finding::Entry(finding) => table::finding_line(finding, words),
        Finding::Resource(finding) => fhir::finding_text(finding, words),
    }
}
