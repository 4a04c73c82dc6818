//! How to read a file, and why it is refused.

use std::path::{Path, PathBuf};

use super::Zone;
use crate::error::{Error, Refusal};
use crate::time::Moment;
use crate::units::GlucoseUnit;

/// How to read a file. Every `None` is found from the file.
#[derive(Clone, Debug)]
pub struct Options<'a> {
    /// The file's name, for messages.
    pub file: PathBuf,
    /// The unit the wearer reads: what a file is taken to be in that has no amount to infer it from.
    pub usual_unit: GlucoseUnit,
    /// The caller's clock; nothing where times are not to be compared with it.
    pub now: Option<Moment>,
    /// What local times mean.
    pub zone: Zone<'a>,
    /// The unit of the values.
    pub unit: Option<GlucoseUnit>,
    /// The name of the column with the time, or its number from 1.
    pub time_column: Option<String>,
    /// The name of the column with the readings, or its number from 1.
    pub glucose_column: Option<String>,
    /// How times are written, in the notation of `strftime` (`%d/%m/%Y %H:%M`).
    pub time_format: Option<String>,
    /// The separator between cells.
    pub separator: Option<u8>,
}

impl Options<'_> {
    /// Everything found from the file; local times in UTC.
    #[must_use]
    pub fn found(file: &Path, usual_unit: GlucoseUnit) -> Self {
        Self {
            file: file.to_owned(),
            usual_unit,
            now: None,
            zone: Zone::Fixed(0),
            unit: None,
            time_column: None,
            glucose_column: None,
            time_format: None,
            separator: None,
        }
    }

    pub(super) fn stop(&self, line: u64, column: Option<usize>, fault: &RowFault) -> Error {
        Error::Import { file: self.file.clone(), line, column, why: Refusal::Table(fault.clone()) }
    }
}

/// Why a file is refused.
#[derive(Clone, Debug, PartialEq)]
pub enum RowFault {
    /// There is nothing in it.
    Empty,
    /// There are names of columns and no row below.
    NoRows,
    /// It is no text, or UTF-16.
    NotText,
    /// No column looks like a time.
    NoTimeColumn {
        /// The columns' names.
        seen: Vec<String>,
    },
    /// No column looks like glucose.
    NoGlucoseColumn {
        /// The columns' names.
        seen: Vec<String>,
    },
    /// Several columns could be meant.
    SeveralGlucoseColumns {
        /// Their names.
        seen: Vec<String>,
    },
    /// The column asked for is not there.
    NoSuchColumn {
        /// The name asked for.
        asked: String,
        /// The columns' names.
        seen: Vec<String>,
    },
    /// Times are written in no known way.
    TimesUnknown {
        /// One of them.
        given: String,
    },
    /// Day and month could be either.
    DayOrMonth {
        /// One of them.
        given: String,
    },
    /// The time format given is none.
    BadTimeFormat {
        /// What was given.
        given: String,
    },
    /// The values fit both units or neither.
    UnitUnknown {
        /// One of them.
        given: String,
    },
    /// The values fit only the other unit.
    OtherUnit {
        /// The unit said by the option or the header.
        said: GlucoseUnit,
        /// The unit they fit.
        fits: GlucoseUnit,
        /// One of the values.
        given: String,
    },
    /// The readings are in a unit that is not read here.
    AnotherUnit {
        /// The column that says so.
        column: String,
        /// What it says.
        given: String,
    },
    /// No unit is named, and the values would be low throughout in mmol/L: they may be grams per litre.
    UnitNotNamed {
        /// One of the values.
        given: String,
    },
    /// Names and cells say different units.
    SeveralUnits {
        /// The column of units.
        column: String,
    },
    /// The column of offsets from UTC cannot be read.
    OffsetUnknown {
        /// Its name.
        column: String,
        /// One of its cells.
        given: String,
    },
    /// Several sensors read at the same time.
    SeveralSensors {
        /// The column that names them.
        column: String,
        /// Two of them.
        seen: Vec<String>,
    },
    /// The only glucose is a meter's.
    OnlyMeter {
        /// The columns' names.
        seen: Vec<String>,
    },
    /// Rows are of several kinds, and which of them is glucose does not show.
    SeveralKinds {
        /// The column that names the kinds.
        column: String,
        /// The kinds.
        seen: Vec<String>,
    },
    /// A row is longer than is read.
    RowTooLong,
}
