//! What is found about a row, and what an import came to.

use std::collections::BTreeMap;

use crate::time::Moment;
use crate::units::GlucoseUnit;

/// Something about one row worth reporting.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// The line, from 1.
    pub line: u64,
    /// The column, from 1, where one is to blame.
    pub column: Option<usize>,
    /// What the cell says, shortened.
    pub given: String,
    /// What was found.
    pub code: FindingCode,
}

/// What was found about a row.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize)]
#[serde(rename_all = "snake_case")]
pub enum FindingCode {
    /// Left out: no time.
    NoTime,
    /// Left out: the time cannot be read.
    TimeUnreadable,
    /// Left out: what stands beside the time says another offset from UTC.
    OffsetContradicts,
    /// Left out: outside the years a log takes.
    TimeOutsideYears,
    /// Left out: ahead of the clock.
    InFuture,
    /// Left out: no number.
    NotANumber,
    /// Taken: too low for the sensor to measure.
    SaysLow,
    /// Taken: too high for the sensor to measure.
    SaysHigh,
    /// Left out: outside 20 to 600 mg/dL.
    OutOfRange,
    /// Left out: fits only the other unit.
    OtherUnit,
    /// Left out: the row names another unit than the others.
    NamesOtherUnit,
    /// Left out: the row ends before the reading.
    TooFewCells,
    /// Left out: the row has more cells than the header has names.
    TooManyCells,
    /// Taken: another amount at the same time.
    Contradicts,
    /// Taken: from here on the clocks had gone back.
    ClockWentBack,
    /// Taken: the clocks had gone forward over this time.
    HourThatNeverWas,
    /// Taken: a quotation mark is not closed on its line; the rows below are read for themselves.
    OpenQuote,
}

impl FindingCode {
    /// Whether the row was taken all the same.
    #[must_use]
    pub const fn is_taken(self) -> bool {
        match self {
            Self::SaysLow
            | Self::SaysHigh
            | Self::Contradicts
            | Self::ClockWentBack
            | Self::HourThatNeverWas
            | Self::OpenQuote => true,
            Self::NoTime
            | Self::TimeUnreadable
            | Self::OffsetContradicts
            | Self::TimeOutsideYears
            | Self::InFuture
            | Self::NotANumber
            | Self::OutOfRange
            | Self::OtherUnit
            | Self::NamesOtherUnit
            | Self::TooFewCells
            | Self::TooManyCells => false,
        }
    }
}

/// What an import reports while it runs.
#[derive(Debug)]
pub enum Event<'a> {
    /// Something about a row.
    Found(&'a Finding),
    /// Bytes read so far.
    Progress(u64),
}

/// What an import came to.
#[derive(Clone, Debug, PartialEq)]
pub struct Report {
    /// Readings taken.
    pub taken: u64,
    /// Rows that said the same as an earlier one.
    pub repeated: u64,
    /// Rows without a reading in them (an empty cell).
    pub without_reading: u64,
    /// Rows left out.
    pub left_out: u64,
    /// How often each thing was found.
    pub counts: BTreeMap<FindingCode, u64>,
    /// The first hundred findings.
    pub findings: Vec<Finding>,
    /// The earliest reading taken.
    pub first: Option<Moment>,
    /// The latest reading taken.
    pub last: Option<Moment>,
    /// The commonest distance between neighbouring readings, in whole minutes; nothing under three readings.
    pub spacing_minutes: Option<u32>,
    /// The unit of the values.
    pub unit: GlucoseUnit,
    /// The name of the column used for the time (two names where date and time stand apart).
    pub time_column: String,
    /// The name of the column used for the readings.
    pub glucose_column: String,
}

impl Report {
    /// How many of the readings taken were too low or too high to measure.
    #[must_use]
    pub fn beyond(&self) -> u64 {
        let counted = |code| self.counts.get(&code).copied().unwrap_or_default();
        counted(FindingCode::SaysLow) + counted(FindingCode::SaysHigh)
    }
}
