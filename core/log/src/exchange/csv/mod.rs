//! Sensor readings from a table of text (CSV, RFC 4180), of any length, in bounded memory.
//!
//! The columns, the unit, the separator and the way times are written are found from the file or given in [`Options`].
//! What cannot be found for sure is asked for: the file is refused before anything is taken. After that every row is
//! either taken or reported as a [`Finding`] with its line, its column and what to do.
//!
//! # Rules
//! - **Separator**: comma, semicolon or tab. A first row without names is accepted if it holds one time and one number.
//! - **Text**: UTF-8, with or without a byte order mark; bytes that are no UTF-8 are read as Latin-1. UTF-16 is refused.
//! - **Numbers**: a point or a comma before the decimals; a unit behind the number is ignored.
//! - **Unit**: from the options, else the header or a column of units, else the values. Values that fit only the other unit stop the
//!   import before anything is taken; a single such value later is left out and reported. A file that names another unit, as
//!   grams per litre, is refused; one that names none is asked for it where its values may be grams per litre.
//! - **Range**: 20 to 600 mg/dL. What is outside is left out and reported.
//! - **Too low or too high to measure**: words such as `low` or `high` in place of a number, and limits such as `<40` or `> 400`,
//!   are taken as such readings and reported. Where no limit is given it is 40 or 400 mg/dL.
//! - **Times**: year first (ISO 8601, with `T` or a space, with or without an offset), day first, month first, or Unix
//!   seconds or milliseconds. Where day and month could be either, the order in which the readings stay closest
//!   together is taken; where that does not settle it, the format is asked for.
//! - **Offsets**: behind the time, else from a column of offsets, else from a second time that is named as UTC. A time that is
//!   named as UTC is.
//! - **Times without an offset** are local, by [`Zone`]. In the night the clocks go back, an hour is written twice: the
//!   readings are kept in file order, so that the first pass gets the offset before the change and the second pass, which
//!   begins where the times step back, the one after it. If only one pass is there, it counts as the first. With
//!   [`Zone::Fixed`] a step back of 40 to 60 minutes before 4 o'clock on a Sunday, in a file that otherwise goes forward
//!   and goes on from there, counts as such a night: from there on the offset is one hour less. A local time that never
//!   was (the clocks went forward over it) gets the offset before the change. Both are reported.
//! - **The future**: more than ten minutes ahead of [`Options::now`] is left out and reported.
//! - **Order**: any. Newest first is as good as oldest first.
//! - **One time twice**: the same amount counts once. Different amounts are both taken, since neither can be shown to be
//!   wrong, and reported; the log then goes by the lowest.
//! - **Several sensors**: one after the other are one trace. Sensors that read at the same time are two; the file is refused.
//! - **A quotation mark that its line does not close**, with rows below it, is closed there and reported: the rows are read.

pub mod events;
mod layout;
mod offsets;
pub mod table;
mod times;
mod values;

use std::collections::{BTreeMap, HashMap, VecDeque};
use std::io::{Chain, Cursor, Read};
use std::path::{Path, PathBuf};

use csv::{ByteRecord, Reader};

use crate::error::{Error, Refusal, Result};
use crate::log::{Beyond, Entry, Reading, Shown, Written};
use crate::time::Moment;
use crate::units::GlucoseUnit;
use layout::Layout;
pub use offsets::{OffsetChange, offset_at, offsets_at};
use times::Clock;
pub use times::{Offsets, Zone};

/// Findings kept in the report; every one is also reported as it is found.
const KEPT_FINDINGS: usize = 100;
/// The longest row taken, in bytes: an opening quote that never closes would swallow the file otherwise.
const LONGEST_ROW: u64 = 1 << 20;
/// Bytes between two reports of progress.
const PROGRESS_EVERY: u64 = 1 << 20;
/// Instants remembered, at least, to notice that one comes twice: half a year of readings every 5 minutes.
const REMEMBERED: usize = 52_560;

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

    fn stop(&self, line: u64, column: Option<usize>, fault: &RowFault) -> Error {
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
    /// The readings are in a unit that is none of ours.
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
    /// [`Error::Import`] where the file cannot be understood, [`Error::File`] where it cannot be read.
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

/// One row of the file.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// The line it begins on, from 1.
    pub line: u64,
    /// Its time, where it could be read.
    pub at: Option<Moment>,
    /// Its amount in mg/dL as written, whether or not it can be a reading; always finite.
    pub given_mg_dl: Option<f64>,
    /// What becomes of it.
    pub outcome: Outcome,
    /// What was found about it.
    pub findings: Vec<Finding>,
}

/// What becomes of a row.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Outcome {
    /// It is a reading.
    Reading(Reading),
    /// It says the same as an earlier row.
    Repeated,
    /// It has no reading in it.
    NoReading,
    /// It is left out; the findings say why.
    LeftOut,
}

/// A file's rows, one by one.
pub struct Rows<'a, R> {
    options: &'a Options<'a>,
    layout: Layout,
    reader: Reader<Metered<Chain<Cursor<Vec<u8>>, R>>>,
    /// The row read ahead: the night the clocks go back is distinguished from unsorted rows by what follows.
    ahead: Option<Fetched>,
    /// Rows found below a quotation mark that was not closed.
    uncovered: VecDeque<Fetched>,
    /// An emptied row, to be filled again.
    spare: ByteRecord,
    clock: Clock<'a>,
    seen: Seen,
    sensors: Sensors,
}

/// A row of the table as it was read.
struct Fetched {
    /// The line it begins on, from 1.
    line: u64,
    record: ByteRecord,
    /// The column with a quotation mark that is not closed on its line, if there is one.
    open_quote: Option<usize>,
}

impl<'a, R: Read> Rows<'a, R> {
    /// Finds the file's layout from its beginning.
    ///
    /// # Errors
    /// As [`Import::open`].
    pub fn open(mut input: R, options: &'a Options<'a>) -> Result<Self> {
        let (head, layout) = layout::open(&mut input, options)?;
        let reader = layout::builder(layout.separator)
            .from_reader(Metered::new(Cursor::new(head).chain(input), layout.line_ends));
        let mut rows = Self {
            options,
            clock: Clock::new(options.zone),
            seen: Seen::default(),
            layout,
            reader,
            ahead: None,
            uncovered: VecDeque::new(),
            spare: ByteRecord::new(),
            sensors: Sensors::default(),
        };
        for _ in 0..rows.layout.rows_above {
            rows.fetch()?;
        }
        rows.ahead = rows.next_fetched()?;
        Ok(rows)
    }

    /// The unit of the values.
    #[must_use]
    pub const fn unit(&self) -> GlucoseUnit {
        self.layout.unit
    }

    /// Bytes read so far.
    #[must_use]
    fn bytes_read(&self) -> u64 {
        self.reader.get_ref().total
    }

    /// The next row. A quotation mark that its line does not close would take the rows below into one cell: it is closed there.
    fn next_fetched(&mut self) -> Result<Option<Fetched>> {
        let next = match self.uncovered.pop_front() {
            Some(row) => Some(row),
            None => self.fetch()?.map(|(line, record)| Fetched { line, record, open_quote: None }),
        };
        Ok(next.map(|row| self.uncover(row)))
    }

    /// Where a cell goes on over lines that are rows of this table, gives the row up to there and keeps those below for later.
    fn uncover(&mut self, row: Fetched) -> Fetched {
        let Some((column, cell)) = row.record.iter().enumerate().find(|(_, cell)| cell.contains(&b'\n')) else {
            return row;
        };
        let mut lines = cell.split(|&byte| byte == b'\n');
        let own = lines.next().unwrap_or_default();
        let read = |line: &[u8]| {
            let mut record = ByteRecord::new();
            let mut reader = layout::builder(self.layout.separator).from_reader(line);
            // Reading from a slice into bytes has no way to fail.
            reader.read_byte_record(&mut record).unwrap_or(false).then_some(record)
        };
        let mut below: Vec<(u64, ByteRecord)> =
            (row.line + 1..).zip(lines).filter_map(|(line, text)| Some((line, read(text)?))).collect();
        if let Some((_, last)) = below.last_mut() {
            row.record.iter().skip(column + 1).for_each(|cell| last.push_field(cell));
        }
        let is_row = |record: &ByteRecord| record.len() > self.layout.glucose && self.layout.time(record).is_some();
        if !below.iter().any(|(_, record)| is_row(record)) {
            return row;
        }
        let mut record: ByteRecord = row.record.iter().take(column).collect();
        record.push_field(own);
        for (line, record) in below.into_iter().rev() {
            self.uncovered.push_front(Fetched { line, record, open_quote: None });
        }
        Fetched { line: row.line, record, open_quote: Some(column) }
    }

    /// The next row of the file and the line it begins on.
    fn fetch(&mut self) -> Result<Option<(u64, ByteRecord)>> {
        let mut record = std::mem::take(&mut self.spare);
        let line = self.reader.position().line() + u64::from(self.last_byte() == Some(b'\r'));
        match self.reader.read_byte_record(&mut record) {
            Ok(more) => {
                self.reader.get_mut().since_row = 0;
                // The record's own position lies before any empty lines that were passed over; count back from its end.
                let within = record.as_slice().iter().filter(|&&byte| byte == b'\n').count() as u64;
                // A break before the end of the file may lie within a quotation mark that was never closed.
                let is_within = record.as_slice().ends_with(b"\n") && !self.closes_a_quote();
                let ended = u64::from(self.last_byte() == Some(b'\n') && !is_within);
                let line = self.reader.position().line().saturating_sub(within + ended);
                Ok(more.then_some((line, record)))
            }
            Err(_) if self.reader.get_ref().over() => Err(self.options.stop(line, None, &RowFault::RowTooLong)),
            Err(error) => match error.into_kind() {
                csv::ErrorKind::Io(source) => Err(file_error(self.options, source)),
                other => Err(file_error(self.options, std::io::Error::other(format!("{other:?}")))),
            },
        }
    }

    /// Whether the line break that went into a row last stands behind a quotation mark, with or without a carriage return.
    fn closes_a_quote(&self) -> bool {
        let position = self.reader.position().byte();
        let before = |back: u64| self.reader.get_ref().byte_before(position.checked_sub(back)?);
        before(1) == Some(b'"') || (before(1) == Some(b'\r') && before(2) == Some(b'"'))
    }

    /// The last byte that went into a row.
    fn last_byte(&self) -> Option<u8> {
        self.reader.get_ref().byte_before(self.reader.position().byte())
    }

    /// The next row; nothing at the end. Rows without any text are passed over.
    ///
    /// # Errors
    /// As [`Import::open`].
    pub fn next_row(&mut self) -> Result<Option<Row>> {
        loop {
            let Some(Fetched { line, record, open_quote }) = self.ahead.take() else { return Ok(None) };
            self.ahead = self.next_fetched()?;
            if record.iter().all(|cell| cell.trim_ascii().is_empty()) {
                self.spare = record;
                continue;
            }
            let mut row = self.understand(line, &record);
            if let Some(column) = open_quote {
                let given = shortened(&decoded(record.get(column).unwrap_or_default()));
                let code = FindingCode::OpenQuote;
                row.findings.insert(0, Finding { line, column: Some(column + 1), given, code });
            }
            if let (Some(at), Outcome::Reading(_) | Outcome::Repeated) = (row.at, row.outcome)
                && let Some(&column) = self.layout.sensor.first()
                && let Some(seen) = self.sensors.see(&self.layout.sensor_of(&record), at)
            {
                let column_name = self.layout.sensor_name.clone();
                let fault = RowFault::SeveralSensors { column: column_name, seen };
                return Err(self.options.stop(line, Some(column + 1), &fault));
            }
            self.spare = record;
            return Ok(Some(row));
        }
    }

    fn understand(&mut self, line: u64, record: &ByteRecord) -> Row {
        let mut row = Row { line, at: None, given_mg_dl: None, outcome: Outcome::LeftOut, findings: Vec::new() };
        let glucose_column = self.layout.glucose;
        let found = |column: usize, given: &str, code| Finding {
            line,
            column: Some(column + 1),
            given: shortened(given),
            code,
        };
        let Some(cell) = record.get(glucose_column) else {
            row.findings.push(found(record.len(), "", FindingCode::TooFewCells));
            return row;
        };
        // A decimal comma in a comma-separated file would otherwise read as a smaller, plausible amount.
        if let Some((column, extra)) =
            record.iter().enumerate().skip(self.layout.width).find(|(_, cell)| !cell.trim_ascii().is_empty())
        {
            row.findings.push(found(column, &decoded(extra), FindingCode::TooManyCells));
            return row;
        }
        let glucose_text = decoded(cell);
        let glucose_text = glucose_text.trim();
        let amount = Written::read(glucose_text);
        row.given_mg_dl = match amount {
            Written::Number(number) => Some(values::in_mg_dl(number, self.layout.unit)).filter(|n| n.is_finite()),
            _ => None,
        };

        let time_text = self.layout.time_text(record);
        let time = self.layout.time(record);
        let mut late_findings = Vec::new();
        let moment = match time {
            None => Err(if time_text.is_empty() { FindingCode::NoTime } else { FindingCode::TimeUnreadable }),
            Some(time) => {
                let (layout, next) = (&self.layout, self.ahead.as_ref());
                let next_local = || next.and_then(|next| layout.time(&next.record));
                let (moment, note) = self.clock.moment(time, next_local);
                late_findings.extend(note.map(|code| found(layout.time[0], &time_text, code)));
                moment.ok_or(FindingCode::TimeOutsideYears)
            }
        };
        // An empty cell is no reading, whatever its time: exports mix rows of other kinds in.
        if amount == Written::Empty || !self.layout.is_of_readings(record) {
            row.at = moment.ok();
            row.outcome = Outcome::NoReading;
            return row;
        }
        match moment {
            Err(code) => row.findings.push(found(self.layout.time[0], &time_text, code)),
            Ok(at) => {
                row.at = Some(at);
                let latest = self.options.now.map(|now| now.plus_ms(Entry::AHEAD_OF_CLOCK_MS));
                if latest.is_some_and(|latest| at.is_after(latest)) {
                    row.findings.push(found(self.layout.time[0], &time_text, FindingCode::InFuture));
                }
            }
        }
        if let Some((column, given)) = self.layout.names_other_unit(record) {
            row.findings.push(found(column, &given, FindingCode::NamesOtherUnit));
        }
        let shown = values::judge(amount, self.layout.unit);
        if let Err(code) = shown {
            row.findings.push(found(glucose_column, glucose_text, code));
        }
        if let (Some(at), Ok(shown), true) = (row.at, shown, row.findings.is_empty()) {
            row.findings.append(&mut late_findings);
            let before = self.seen.see(at, shown);
            if let (Some(beyond), false) = (shown.beyond, matches!(before, Before::Same)) {
                let code = match beyond {
                    Beyond::Below => FindingCode::SaysLow,
                    Beyond::Above => FindingCode::SaysHigh,
                };
                row.findings.push(found(glucose_column, glucose_text, code));
            }
            row.outcome = match before {
                Before::Never => Outcome::Reading(Reading::of(at, shown)),
                Before::Same => Outcome::Repeated,
                Before::Otherwise => {
                    row.findings.push(found(glucose_column, glucose_text, FindingCode::Contradicts));
                    Outcome::Reading(Reading::of(at, shown))
                }
            };
        }
        row
    }
}

fn file_error(options: &Options<'_>, source: std::io::Error) -> Error {
    Error::File { path: options.file.clone(), source }
}

/// Text of a cell: UTF-8, or Latin-1 where it is none.
fn decoded(cell: &[u8]) -> std::borrow::Cow<'_, str> {
    match std::str::from_utf8(cell) {
        Ok(text) => text.into(),
        Err(_) => cell.iter().map(|&byte| char::from(byte)).collect::<String>().into(),
    }
}

/// A cell's text as a message shows it.
fn shortened(text: &str) -> String {
    const LONGEST: usize = 40;
    let mut short: String = text.trim().chars().take(LONGEST).map(|c| if c.is_control() { ' ' } else { c }).collect();
    if text.trim().chars().nth(LONGEST).is_some() {
        short.push_str("...");
    }
    short
}

/// What an instant said before.
enum Before {
    Never,
    Same,
    Otherwise,
}

/// The instants seen lately, in bounded memory: a younger and an older half, the older one dropped when the younger is full.
#[derive(Default)]
struct Seen {
    younger: HashMap<i64, Shown>,
    older: HashMap<i64, Shown>,
}

impl Seen {
    fn see(&mut self, at: Moment, shown: Shown) -> Before {
        let instant = at.unix_ms();
        let before = self.younger.get(&instant).or_else(|| self.older.get(&instant)).copied();
        if self.younger.len() >= REMEMBERED {
            self.older = std::mem::take(&mut self.younger);
        }
        self.younger.insert(instant, shown);
        match before {
            None => Before::Never,
            // The log keeps hundredths of mg/dL.
            Some(before)
                if before.beyond == shown.beyond && (before.glucose.mg_dl() - shown.glucose.mg_dl()).abs() < 0.005 =>
            {
                Before::Same
            }
            Some(_) => Before::Otherwise,
        }
    }
}

/// The stretches in which sensors read, by their names.
#[derive(Default)]
struct Sensors(HashMap<String, (Moment, Moment)>);

impl Sensors {
    /// More names than anybody wears sensors in a file: the column names something else.
    const MOST: usize = 256;

    /// Two sensors that read at the same time, if this reading shows it.
    fn see(&mut self, name: &str, at: Moment) -> Option<Vec<String>> {
        if name.is_empty() || self.0.len() > Self::MOST {
            return None;
        }
        let (first, last) = match self.0.get(name) {
            Some(&(first, last)) if first <= at && at <= last => return None,
            Some(&(first, last)) => (first.min(at), last.max(at)),
            None => (at, at),
        };
        self.0.insert(name.to_owned(), (first, last));
        let other = self.0.iter().find(|(other, span)| *other != name && first < span.1 && span.0 < last);
        other.map(|(other, _)| vec![shortened(other), shortened(name)])
    }
}

/// The commonest distance between neighbours, by a count of whole minutes up to two hours.
#[derive(Default)]
struct Spacing {
    previous: Option<Moment>,
    counts: BTreeMap<u32, u64>,
}

impl Spacing {
    // The casts fit: 0 to 120.
    fn see(&mut self, at: Moment) {
        if let Some(previous) = self.previous.replace(at) {
            let minutes = at.minutes_since(previous).abs().round();
            if (1.0..=120.0).contains(&minutes) {
                *self.counts.entry(minutes as u32).or_insert(0) += 1;
            }
        }
    }

    fn commonest(&self) -> Option<u32> {
        let total: u64 = self.counts.values().sum();
        self.counts.iter().max_by_key(|(_, count)| **count).filter(|_| total >= 2).map(|(minutes, _)| *minutes)
    }
}

/// How the lines of a file end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum LineEnds {
    /// With a line feed, perhaps after a carriage return.
    LineFeed,
    /// With a carriage return alone.
    CarriageReturn,
}

/// A reader that counts, and fails once a single row has taken too many bytes.
struct Metered<R> {
    inner: R,
    line_ends: LineEnds,
    total: u64,
    since_row: u64,
    /// The newest bytes handed over, with the one before them in front.
    newest: Vec<u8>,
}

impl<R> Metered<R> {
    const fn new(inner: R, line_ends: LineEnds) -> Self {
        Self { inner, line_ends, total: 0, since_row: 0, newest: Vec::new() }
    }

    const fn over(&self) -> bool {
        self.since_row > LONGEST_ROW
    }

    /// The byte in front of a position, if it is among the newest.
    fn byte_before(&self, position: u64) -> Option<u8> {
        let from_end = usize::try_from(self.total.checked_sub(position)?).ok()?;
        self.newest.iter().rev().nth(from_end).copied()
    }
}

impl<R: Read> Read for Metered<R> {
    fn read(&mut self, buffer: &mut [u8]) -> std::io::Result<usize> {
        if self.over() {
            return Err(std::io::Error::other("a row that does not end"));
        }
        let count = self.inner.read(buffer)?;
        let bytes = &mut buffer[..count];
        if self.line_ends == LineEnds::CarriageReturn {
            for byte in bytes.iter_mut().filter(|byte| **byte == b'\r') {
                *byte = b'\n';
            }
        }
        if count > 0 {
            self.newest.drain(..self.newest.len().saturating_sub(1));
            self.newest.extend_from_slice(bytes);
        }
        self.total += count as u64;
        self.since_row += count as u64;
        Ok(count)
    }
}
