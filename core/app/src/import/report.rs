//! What an import came to, whatever the file was.

use crate::exchange::Finding;
use crate::exchange::detect::Format;
use crate::store::{Imported, Staged};
use crate::time::Moment;
use crate::units::GlucoseUnit;

/// Findings kept in the report; every one is also reported as it is found.
const KEPT_FINDINGS: usize = 100;

/// What an import reports while it runs.
#[derive(Debug)]
pub enum Event<'a> {
    /// Something about a row or a resource.
    Found(&'a Finding),
    /// Bytes read so far, of a table of readings.
    Progress(u64),
}

/// What an import came to.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Report {
    /// What the file was.
    pub format: Format,
    /// What the log made of it, with what to take it back by; nothing where nothing was to be taken, or it was only looked at.
    pub imported: Option<Imported>,
    /// Entries in the file that the log takes.
    pub taken: u64,
    /// Of those, readings too low or too high to measure, in a table of readings.
    pub beyond: u64,
    /// Rows that said the same as an earlier one.
    pub repeated: u64,
    /// Readings in the log that say what another of the same sensor says moments apart, over the time for which the log had entries
    /// before the file came: the same series, come twice. Figures count each pair once.
    pub moments_apart: u64,
    /// Rows without a reading in them (an empty cell).
    pub without_reading: u64,
    /// Rows or resources left out; the findings say why.
    pub left_out: u64,
    /// FHIR resources of other kinds, or about another person.
    pub others: u64,
    /// The first hundred findings.
    pub findings: Vec<Finding>,
    /// All findings.
    pub found: u64,
    /// The earliest entry taken.
    pub first: Option<Moment>,
    /// The latest entry taken.
    pub last: Option<Moment>,
    /// What was made of the columns of a table of readings.
    pub columns: Option<Columns>,
    /// Whom FHIR is about.
    pub about: Option<About>,
}

/// What was made of the columns of a table of readings.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Columns {
    /// The unit of the values.
    pub unit: GlucoseUnit,
    /// The name of the column used for the time (two names where date and time stand apart).
    pub time: String,
    /// The name of the column used for the readings.
    pub glucose: String,
    /// The columns that were passed over.
    pub unused: Vec<String>,
    /// The commonest distance between neighbouring readings, in whole minutes; nothing under three readings.
    pub spacing_minutes: Option<u32>,
}

/// Whom FHIR is about.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum About {
    /// It names no person.
    Nobody,
    /// It was written by this log.
    ThisLog,
    /// A person, as it refers to them. Ask the wearer whether that is they.
    Somebody(String),
}

impl Report {
    pub(super) const fn of(format: Format) -> Self {
        Self {
            format,
            imported: None,
            taken: 0,
            beyond: 0,
            repeated: 0,
            moments_apart: 0,
            without_reading: 0,
            left_out: 0,
            others: 0,
            findings: Vec::new(),
            found: 0,
            first: None,
            last: None,
            columns: None,
            about: None,
        }
    }

    pub(super) fn add(&mut self, finding: Finding, on_event: &mut dyn FnMut(Event<'_>)) {
        on_event(Event::Found(&finding));
        self.found += 1;
        if self.findings.len() < KEPT_FINDINGS {
            self.findings.push(finding);
        }
    }

    /// Completes it with what the log made of the entries.
    pub(super) fn recorded(
        mut self,
        staged: Staged,
        find: impl Fn(crate::store::Conflict) -> Option<Finding>,
        on_event: &mut dyn FnMut(Event<'_>),
    ) -> Self {
        self.imported = staged.imported;
        for conflict in staged.late {
            self.taken = self.taken.saturating_sub(1);
            self.left_out += 1;
            if let Some(finding) = find(conflict) {
                self.add(finding, on_event);
            }
        }
        self
    }
}
