//! Files that come in, whatever they are in: core finds out.

use std::sync::Arc;

use ebbstead_core::exchange::csv::{self, Zone};
use ebbstead_core::import::{self, Options, Report};
use ebbstead_core::sentences::import::finding_line;
use ebbstead_core::store::Log;
use ebbstead_core::words::Words;
use ebbstead_core::{Error, Result};

use crate::companion::Shared;
use crate::error::ApiResult;
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
    pub dry_run: bool,
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
    /// All of it in words, a line each, the first few findings among them: show it.
    pub lines: Vec<String>,
    /// The import's entry, to take it back by; nothing where it was only looked at.
    pub id: Option<String>,
    /// What became of the entries; nothing where the file was only looked at.
    pub recorded: Option<Recorded>,
    /// Entries in the file that the log takes.
    pub taken: u64,
    /// Rows that said the same as an earlier one.
    pub repeated: u64,
    /// Rows with an empty cell in place of a reading.
    pub without_reading: u64,
    /// Of the readings taken, those too low or too high to measure.
    pub beyond: u64,
    /// Rows or resources left out.
    pub left_out: u64,
    /// The first hundred findings.
    pub findings: Vec<Finding>,
    /// The earliest entry.
    pub first: Option<Moment>,
    /// The latest entry.
    pub last: Option<Moment>,
    /// The commonest distance between neighbouring readings, in minutes.
    pub spacing_minutes: Option<u32>,
    /// The unit of the values, in a table of readings.
    pub unit: Option<GlucoseUnit>,
    /// The column used for the time, in a table of readings.
    pub time_column: Option<String>,
    /// The column used for the readings, in a table of readings.
    pub glucose_column: Option<String>,
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
        /// The same with the file's name and the place before it: show it.
        text: String,
    },
}

/// Findings among the lines to show.
const SHOWN: usize = 3;

pub(crate) fn import(
    shared: &Arc<Shared>,
    name: &str,
    bytes: &[u8],
    options: ImportOptions,
    now: Moment,
) -> ApiResult<ImportAnswer> {
    let words = shared.words();
    let ImportOptions { offsets, unit, time_column, glucose_column, time_format, dry_run } = options;
    let offsets: Vec<csv::OffsetChange> = offsets.into_iter().map(Into::into).collect();
    // By itself, so that a prompt asked for meanwhile does not wait.
    let path = shared.place()?;
    let take = || -> Result<_> {
        let now = now.try_into()?;
        let log = &mut Log::open(&path, now)?;
        let options = Options {
            zone: Zone::Changes(&offsets),
            unit: unit.map(Into::into),
            time_column,
            glucose_column,
            time_format,
            dry_run,
            ..Options::found(now, words.unit())
        };
        match import::import(log, bytes, name, &options) {
            Ok(report) => Ok(ImportAnswer::Read { report: ImportReport::of(report, name, words) }),
            Err(error) => match &error {
                Error::Import { file: _, line, column, why } => Ok(ImportAnswer::Refused {
                    line: *line,
                    column: column.map(|column| column as u64),
                    why: words.refusal(why),
                    text: words.error(&error),
                }),
                _ => Err(error),
            },
        }
    };
    let answer = shared.guarded(|| take().map_err(|error| shared.refused(&error)))?;
    // Taken is taken, whatever became of this companion meanwhile: closed, there is nobody left to notify.
    let _ = shared.change(|_| Ok(()));
    Ok(answer)
}

impl ImportReport {
    fn of(report: Report, name: &str, words: Words) -> Self {
        let lines = report
            .lines(words)
            .into_iter()
            .chain(report.finding_lines(SHOWN, words))
            .chain(report.more_findings(SHOWN, words))
            .chain(report.nothing_taken(name, words))
            .collect();
        let findings = report
            .findings
            .iter()
            .map(|one| Finding { line: one.place(), text: finding_line(one, words), taken: one.is_taken() })
            .collect();
        let columns = report.columns;
        Self {
            lines,
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
            spacing_minutes: columns.as_ref().and_then(|columns| columns.spacing_minutes),
            unit: columns.as_ref().map(|columns| columns.unit.into()),
            time_column: columns.as_ref().map(|columns| columns.time.clone()),
            glucose_column: columns.map(|columns| columns.glucose),
        }
    }
}
