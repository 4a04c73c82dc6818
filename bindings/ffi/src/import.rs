//! Files of readings.

use std::path::PathBuf;

use ebbstead_core::exchange::csv::{Import, Offsets, Options, Report, Zone};
use ebbstead_core::exchange::utf16::Utf8;
use ebbstead_core::log::{Entry, Source, What};
use ebbstead_core::time::{MINUTE_MS, Moment as CoreMoment};
use ebbstead_core::{Error, log};

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

pub(crate) fn import(
    shared: &Shared,
    name: &str,
    bytes: &[u8],
    options: &ImportOptions,
    now: Moment,
) -> ApiResult<ImportAnswer> {
    let words = shared.words();
    let ImportOptions { offsets, unit, time_column, glucose_column, time_format, only_look } = options;
    let local = |at: chrono::NaiveDateTime| offsets_at(offsets, at.and_utc().timestamp_millis());
    let now: CoreMoment = now.try_into().map_err(|error| shared.refused(&error))?;
    let options = Options {
        file: PathBuf::from(name),
        usual_unit: words.unit(),
        now: Some(now),
        zone: Zone::Changing(&local),
        unit: unit.map(Into::into),
        time_column: time_column.clone(),
        glucose_column: glucose_column.clone(),
        time_format: time_format.clone(),
        separator: None,
    };
    // Read to its end before the log is touched: a file that fails half way leaves nothing behind.
    let read = || -> Result<_, Error> {
        let source = Source::new("file")?;
        let refused = |source| Error::File { path: PathBuf::from(name), source };
        let mut import = Import::open(Utf8::of(bytes).map_err(refused)?, &options)?;
        let mut entries = Vec::new();
        while let Some(reading) = import.next_reading(|_| {})? {
            entries.push(Entry::received(reading.at, now, source.clone(), What::read_by_sensor(reading.shown()))?);
        }
        Ok((entries, import.report()))
    };
    let (entries, report) = match read() {
        Ok(read) => read,
        Err(Error::Import { file: _, line, column, why }) => {
            return Ok(ImportAnswer::Refused {
                line,
                column: column.map(|column| column as u64),
                why: words.refusal(&why),
            });
        }
        Err(error) => return Err(shared.refused(&error)),
    };
    let imported = if *only_look || entries.is_empty() {
        None
    } else {
        Some(shared.change(|log| log.import(log::Text::new(name)?, entries.into_iter().map(Ok), now))?)
    };
    let beyond = report.beyond();
    let Report {
        taken,
        repeated,
        without_reading,
        left_out,
        counts: _,
        findings,
        first,
        last,
        spacing_minutes,
        unit,
        time_column,
        glucose_column,
    } = report;
    let findings = findings
        .iter()
        .map(|one| Finding { line: one.line, text: words.finding(one), taken: one.code.is_taken() })
        .collect();
    Ok(ImportAnswer::Read {
        report: ImportReport {
            id: imported.as_ref().map(|done| done.id.to_string()),
            recorded: imported.map(|done| done.recorded.into()),
            taken,
            repeated,
            without_reading,
            beyond,
            left_out,
            findings,
            first: first.map(Into::into),
            last: last.map(Into::into),
            spacing_minutes,
            unit: unit.into(),
            time_column,
            glucose_column,
        },
    })
}

/// The offsets a local time may have: one as a rule, two where the clocks went back over it, none where they went forward.
pub(crate) fn offsets_at(changes: &[OffsetChange], local_ms: i64) -> Offsets {
    let instant = |offset: i32| local_ms.saturating_sub(i64::from(offset) * MINUTE_MS);
    let until = |place: usize| changes.get(place + 1).map_or(i64::MAX, |next| next.from_unix_ms);
    let from = |place: usize| if place == 0 { i64::MIN } else { changes[place].from_unix_ms };
    let mut fitting = (0..changes.len())
        .filter(|&place| (from(place)..until(place)).contains(&instant(changes[place].offset_minutes)))
        .map(|place| changes[place].offset_minutes);
    match (fitting.next(), fitting.next()) {
        (Some(before), Some(after)) => Offsets::Two { before, after },
        (Some(offset), None) => Offsets::One(offset),
        (None, _) => {
            let began = changes.iter().take_while(|one| one.from_unix_ms <= instant(one.offset_minutes)).count();
            let before = changes.get(began.saturating_sub(1)).or(changes.first()).map_or(0, |one| one.offset_minutes);
            Offsets::Never { before }
        }
    }
}

/// The offset from UTC at an instant, in minutes.
pub(crate) fn offset_at(changes: &[OffsetChange], unix_ms: i64) -> i32 {
    let began = changes.iter().rfind(|one| one.from_unix_ms <= unix_ms);
    began.or(changes.first()).map_or(0, |one| one.offset_minutes)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn local_times_find_their_offset_in_the_nights_the_clocks_change() {
        // Central European time: +60, from 2026-03-29T01:00Z +120, from 2026-10-25T01:00Z +60.
        let at = |text: &str| CoreMoment::parse(text).unwrap().unix_ms();
        let changes = [
            OffsetChange { from_unix_ms: at("2000-01-01T00:00:00Z"), offset_minutes: 60 },
            OffsetChange { from_unix_ms: at("2026-03-29T01:00:00Z"), offset_minutes: 120 },
            OffsetChange { from_unix_ms: at("2026-10-25T01:00:00Z"), offset_minutes: 60 },
        ];
        let local = |text: &str| offsets_at(&changes, at(&format!("{text}:00Z")));
        assert_eq!(local("2026-01-01T12:00"), Offsets::One(60));
        assert_eq!(local("2026-07-01T12:00"), Offsets::One(120));
        assert_eq!(local("2026-03-29T02:30"), Offsets::Never { before: 60 });
        assert_eq!(local("2026-10-25T02:30"), Offsets::Two { before: 120, after: 60 });
        assert_eq!(local("2026-12-01T02:30"), Offsets::One(60));
        assert_eq!(offsets_at(&[], 0), Offsets::Never { before: 0 });
        let instant = |text: &str| offset_at(&changes, at(text));
        assert_eq!([instant("2026-03-29T00:59:00Z"), instant("2026-03-29T01:00:00Z")], [60, 120]);
        assert_eq!([offset_at(&changes, 0), offset_at(&[], 0)], [60, 0]);
    }
}
