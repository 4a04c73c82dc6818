//! What was found about one place of a file, of whatever format.

use super::csv::{self, table};
use super::fhir;

/// Something about one row or resource worth reporting.
#[derive(Clone, Debug, PartialEq)]
pub enum Finding {
    /// Of a table of readings.
    Row(csv::Finding),
    /// Of a table that this project wrote.
    Entry(table::Finding),
    /// Of FHIR.
    Resource(fhir::Finding),
}

impl Finding {
    /// Where: the line, or of FHIR the resource, from 1; 0 where that is not known any more.
    #[must_use]
    pub const fn place(&self) -> u64 {
        match self {
            Self::Row(one) => one.line,
            Self::Entry(one) => one.line,
            Self::Resource(one) => one.entry as u64,
        }
    }

    /// Whether what stands there was taken all the same.
    #[must_use]
    pub const fn is_taken(&self) -> bool {
        match self {
            Self::Row(one) => one.code.is_taken(),
            Self::Entry(_) | Self::Resource(_) => false,
        }
    }
}
