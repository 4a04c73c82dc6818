//! One way in for every file: what format it is in, what its local times mean and which sensor its readings are from is found here,
//! by one rule, for the program and the phones alike. The same bytes make the same entries wherever they come in.
//!
//! | question | rule | where |
//! |---|---|---|
//! | which format | the bytes alone, never the name | [`detect`] |
//! | what a local time means | the wearer's zone, as the shell knows it: [`Options::zone`] | [`csv::Zone`](crate::exchange::csv::Zone) |
//! | which sensor a reading is from | the file; else the name the wearer gives; else [`Source::unnamed_sensor`](crate::log::Source::unnamed_sensor) | [`EntryKind::source_unnamed`](crate::log::EntryKind::source_unnamed) |
//! | what anything else is from | the file; else noted by hand | the same |
//!
//! A file is read before the log is written to, so that nothing waits for it, and comes in as a whole or not at all. Taking the import
//! back takes all of it back.

mod fhir;
mod lines;
mod options;
mod readings;
mod report;
mod table;

use std::io::Read;
use std::path::{Path, PathBuf};

pub use options::Options;
pub use report::{About, Columns, Event, Report};

use crate::error::{Error, Refusal, Result};
use crate::exchange::detect::{self, Format};
use crate::log::Text;
use crate::store::Log;

/// Brings a file into a log. `name` is for messages and for the list of imports; it decides nothing.
///
/// # Errors
/// - [`Error::Import`] where the file cannot be understood: it says where and why, and what to say in the [`Options`]. A log or a sealed
///   log is refused so, too, with what to do with it;
/// - [`Error::File`] where it cannot be read; those of [`Log::import`].
///
/// Nothing is written in any of these cases.
///
/// # Example
/// ```
/// use ebbstead_core::import::{Options, import};
/// use ebbstead_core::store::Log;
/// use ebbstead_core::time::Moment;
/// use ebbstead_core::units::GlucoseUnit;
///
/// let now = Moment::parse("2026-03-01T12:00:00+01:00")?;
/// let mut log = Log::in_memory(now)?;
/// let table = "time,glucose mg/dL\n2026-03-01 03:05,104\n2026-03-01 03:10,low\n";
/// let report = import(&mut log, table.as_bytes(), "night.csv", &Options::found(now, GlucoseUnit::MgDl))?;
/// assert_eq!((report.taken, report.beyond), (2, 1));
/// log.retract(report.imported.unwrap().id, now)?;
/// # Ok::<(), ebbstead_core::Error>(())
/// ```
pub fn import(log: &mut Log, input: impl Read, name: impl Into<PathBuf>, options: &Options<'_>) -> Result<Report> {
    File::open(input, name)?.into_log(log, options, &mut |_| {})
}

/// A file of which the format is known.
pub struct File<R> {
    name: PathBuf,
    format: Format,
    input: detect::Text<R>,
}

impl<R: Read> File<R> {
    /// Looks at how a file begins.
    ///
    /// # Errors
    /// [`Error::Import`] for a log or a sealed log, which other commands open; [`Error::File`] where it cannot be read.
    pub fn open(input: R, name: impl Into<PathBuf>) -> Result<Self> {
        let name = name.into();
        let (format, input) = detect::detect(input).map_err(|source| Error::File { path: name.clone(), source })?;
        let why = match format {
            Format::Readings | Format::Table | Format::Fhir => return Ok(Self { name, format, input }),
            Format::Log => Refusal::IsALog,
            Format::SealedLog => Refusal::IsSealed,
        };
        Err(Error::Import { file: name, line: 1, column: None, why })
    }

    /// Which format it is in.
    #[must_use]
    pub const fn format(&self) -> Format {
        self.format
    }

    /// Brings it into a log, or says with [`Options::dry_run`] what that would come to. `on_event` receives its events while it runs.
    ///
    /// # Errors
    /// As [`import()`].
    pub fn into_log(self, log: &mut Log, options: &Options<'_>, on_event: &mut dyn FnMut(Event<'_>)) -> Result<Report> {
        match self.format {
            Format::Table => table::import(log, self.input, &self.name, options, on_event),
            Format::Fhir => fhir::import(log, self.input, &self.name, options, on_event),
            Format::Readings | Format::Log | Format::SealedLog => {
                readings::import(log, self.input, &self.name, options, on_event)
            }
        }
    }
}

/// The name by which an import is listed.
fn listed_as(name: &Path) -> Result<Text> {
    let last = name.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
    let short: String = last.chars().filter(|c| !c.is_control()).take(200).collect();
    Ok(Text::new(short).or_else(|_| Text::new("file"))?)
}
