//! A file's readings, with a report of what became of the rows.

use std::collections::BTreeMap;
use std::io::Read;

use super::finding::{Event, Report};
use super::options::Options;
use super::rows::{Outcome, Rows};
use super::seen::Spacing;
use crate::error::Result;
use crate::log::Reading;

/// Findings kept in the report; every one is also reported as it is found.
const KEPT_FINDINGS: usize = 100;
/// Bytes between two reports of progress.
const PROGRESS_EVERY: u64 = 1 << 20;

/// A file's readings, one by one, in file order. Memory does not grow with the file.
///
/// # Example
/// ```
/// use std::path::Path;
/// use ebbstead_log::exchange::csv::{Import, Options};
/// use ebbstead_engine::units::GlucoseUnit;
///
/// let options = Options::found(Path::new("readings.csv"), GlucoseUnit::MgDl);
/// let text = "time;glucose mmol/L\n2026-03-01 03:05;5,6\n2026-03-01 03:10;low\n2026-03-01 03:15;none yet\n";
/// let mut import = Import::open(text.as_bytes(), &options)?;
/// let mut readings = Vec::new();
/// while let Some(reading) = import.next_reading(|_| {})? {
///     readings.push(reading);
/// }
/// assert_eq!(readings.len(), 2);
/// assert_eq!(import.report().left_out, 1);
/// # Ok::<(), ebbstead_log::Error>(())
/// ```
pub struct Import<'a, R> {
    rows: Rows<'a, R>,
    report: Report,
    spacing: Spacing,
    reported_bytes: u64,
}

impl<'a, R: Read> Import<'a, R> {
    /// Finds out how the file is written, from its beginning.
    ///
    /// # Errors
    /// [`crate::Error::Import`] where the file cannot be understood, [`crate::Error::File`] where it cannot be read.
    pub fn open(input: R, options: &'a Options<'a>) -> Result<Self> {
        let rows = Rows::open(input, options)?;
        let report = Report {
            taken: 0,
            repeated: 0,
            without_reading: 0,
            left_out: 0,
            counts: BTreeMap::new(),
            findings: Vec::new(),
            first: None,
            last: None,
            spacing_minutes: None,
            unit: rows.layout.unit,
            time_column: rows.layout.time_name.clone(),
            glucose_column: rows.layout.glucose_name.clone(),
        };
        Ok(Self { rows, report, spacing: Spacing::default(), reported_bytes: 0 })
    }

    /// The next reading; nothing at the end of the file. Reports what it finds on the way.
    ///
    /// # Errors
    /// As [`Import::open`].
    pub fn next_reading(&mut self, mut on_event: impl FnMut(Event<'_>)) -> Result<Option<Reading>> {
        while let Some(row) = self.rows.next_row()? {
            if self.rows.bytes_read() - self.reported_bytes >= PROGRESS_EVERY {
                self.reported_bytes = self.rows.bytes_read();
                on_event(Event::Progress(self.reported_bytes));
            }
            for finding in row.findings {
                on_event(Event::Found(&finding));
                *self.report.counts.entry(finding.code).or_insert(0) += 1;
                if self.report.findings.len() < KEPT_FINDINGS {
                    self.report.findings.push(finding);
                }
            }
            match row.outcome {
                Outcome::Reading(reading) => {
                    self.report.taken += 1;
                    self.report.first = Some(self.report.first.map_or(reading.at, |first| first.min(reading.at)));
                    self.report.last = Some(self.report.last.map_or(reading.at, |last| last.max(reading.at)));
                    self.spacing.see(reading.at);
                    return Ok(Some(reading));
                }
                Outcome::Repeated => self.report.repeated += 1,
                Outcome::NoReading => self.report.without_reading += 1,
                Outcome::LeftOut => self.report.left_out += 1,
            }
        }
        Ok(None)
    }

    /// The columns that are passed over: what they hold is not taken.
    #[must_use]
    pub fn unused_columns(&self) -> &[String] {
        &self.rows.layout.unused
    }

    /// What it came to so far.
    #[must_use]
    pub fn report(&self) -> Report {
        Report { spacing_minutes: self.spacing.commonest(), ..self.report.clone() }
    }
}
