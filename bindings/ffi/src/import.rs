//! Files of readings.

use std::sync::Arc;

use ebbstead_core::Error;
use ebbstead_core::exchange::csv::{self, Zone};
use ebbstead_core::import::{self, Options, Report};
use ebbstead_core::sentences::import::finding_line;

use crate::companion::Shared;
use crate::error::ApiResult;
use crate::exchange::ExchangePart;
use crate::log::Recorded;
use crate::records::Moment;
use crate::settings::GlucoseUnit;

/// From an instant on, the offset of the wearer's clock.
#[derive(Clone, Copy, Debug, PartialEq, Eq, uniffi::Record, serde::Serialize)]
pub struct OffsetChange {
    /// From when, Unix time in milliseconds.
    pub from_unix_ms: i64,
    /// Minutes east of UTC.
    pub offset_minutes: i32,
}

impl From<OffsetChange> for csv::OffsetChange {
    fn from(OffsetChange { from_unix_ms, offset_minutes }: OffsetChange) -> Self {
        Self { from_unix_ms, offset_minutes }
    }
}

/// How to read a file. What is not given is found from the file.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record, serde::Serialize)]
pub struct ImportOptions {
    /// The offsets of the wearer's zone, by time, the first reaching back for ever; at least one. What the file's local times
    /// mean.
    pub offsets: Vec<OffsetChange>,
    /// The unit of the values.
    pub unit: Option<GlucoseUnit>,
    /// The name of the column with the time, or its number from 1.
    pub time_column: Option<String>,
    /// The name of the column with the readings, or its number from 1.
    pub glucose_column: Option<String>,
    /// How times are written, in the notation of `strftime`.
    pub time_format: Option<String>,
    /// Only say what would be taken.
    pub only_look: bool,
}

/// Something about one row.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record, serde::Serialize)]
pub struct Finding {
    /// The line, from 1.
    pub line: u64,
    /// What was found and what became of the row, in words.
    pub text: String,
    /// Whether the row was taken all the same.
    pub taken: bool,
}

/// What an import came to.
#[derive(Clone, Debug, PartialEq, uniffi::Record, serde::Serialize)]
pub struct ImportReport {
    /// The import's entry, to take it back by; nothing where it was only looked at.
    pub id: Option<String>,
    /// What became of the readings; nothing where the file was only looked at.
    pub recorded: Option<Recorded>,
    /// Readings in the file.
    pub taken: u64,
    /// Rows that said the same as an earlier one.
    pub repeated: u64,
    /// Rows with an empty cell in place of a reading.
    pub without_reading: u64,
    /// Of the readings taken, those too low or too high to measure.
    pub beyond: u64,
    /// Rows left out.
    pub left_out: u64,
    /// The first hundred findings.
    pub findings: Vec<Finding>,
    /// The earliest reading.
    pub first: Option<Moment>,
    /// The latest reading.
    pub last: Option<Moment>,
    /// The commonest distance between neighbouring readings, in minutes.
    pub spacing_minutes: Option<u32>,
    /// The unit of the values.
    pub unit: GlucoseUnit,
    /// The column used for the time.
    pub time_column: String,
    /// The column used for the readings.
    pub glucose_column: String,
}

/// How an import ended.
#[derive(Clone, Debug, PartialEq, uniffi::Enum, serde::Serialize)]
pub enum ImportAnswer {
    /// The file was read.
    Read {
        /// What it came to.
        report: ImportReport,
    },
    /// The file cannot be understood; nothing was taken.
    Refused {
        /// The line, from 1.
        line: u64,
        /// The column, from 1, where one is to blame.
        column: Option<u64>,
        /// Why, and what to do, in words.
        why: String,
    },
}

/// Why a file is refused: the line, the column where one is to blame, and why, in words.
pub(crate) type Refusal = (u64, Option<usize>, String);

/// Reads a file of any format that comes in; nothing where it is refused, with the line, the column and why.
pub(crate) fn any(
    part: &ExchangePart,
    name: &str,
    bytes: &[u8],
    options: ImportOptions,
    now: Moment,
) -> ApiResult<Result<Report, Refusal>> {
    let words = part.shared.words();
    let ImportOptions { offsets, unit, time_column, glucose_column, time_format, only_look } = options;
    let offsets: Vec<csv::OffsetChange> = offsets.into_iter().map(Into::into).collect();
    let read = part.beside(now, |log, now| {
        let options = Options {
            zone: Zone::Changes(&offsets),
            unit: unit.map(Into::into),
            time_column,
            glucose_column,
            time_format,
            only_look,
            ..Options::found(now, words.unit())
        };
        match import::import(log, bytes, name, &options) {
            Ok(report) => Ok(Ok(report)),
            Err(Error::Import { file: _, line, column, why }) => Ok(Err((line, column, words.refusal(&why)))),
            Err(error) => Err(error),
        }
    })?;
    // Taken is taken, whatever became of this companion meanwhile: closed, there is nobody left to tell.
    let _ = part.shared.change(|_| Ok(()));
    Ok(read)
}

pub(crate) fn import(
    shared: &Arc<Shared>,
    name: &str,
    bytes: &[u8],
    options: ImportOptions,
    now: Moment,
) -> ApiResult<ImportAnswer> {
    let words = shared.words();
    let part = ExchangePart { shared: Arc::clone(shared) };
    let report = match any(&part, name, bytes, options, now)? {
        Ok(report) => report,
        Err((line, column, why)) => {
            return Ok(ImportAnswer::Refused { line, column: column.map(|column| column as u64), why });
        }
    };
    let findings = report
        .findings
        .iter()
        .map(|one| Finding { line: one.place(), text: finding_line(one, words), taken: one.is_taken() })
        .collect();
    let columns = report.columns.as_ref();
    Ok(ImportAnswer::Read {
        report: ImportReport {
            id: report.imported.as_ref().map(|done| done.id.to_string()),
            recorded: report.imported.as_ref().map(|done| done.recorded.into()),
            taken: report.taken,
            repeated: report.repeated,
            without_reading: report.without_reading,
            beyond: report.beyond,
            left_out: report.left_out,
            findings,
            first: report.first.map(Into::into),
            last: report.last.map(Into::into),
            spacing_minutes: columns.and_then(|columns| columns.spacing_minutes),
            unit: columns.map_or_else(|| words.unit(), |columns| columns.unit).into(),
            time_column: columns.map(|columns| columns.time.clone()).unwrap_or_default(),
            glucose_column: columns.map(|columns| columns.glucose.clone()).unwrap_or_default(),
        },
    })
}
