//! A file's rows, one by one: fetched, closed where a quotation mark is not, understood.

use std::collections::VecDeque;
use std::io::{Chain, Cursor, Read};

use csv::{ByteRecord, Reader};

use super::finding::{Finding, FindingCode};
use super::layout::{self, Layout};
use super::metered::Metered;
use super::options::{Options, RowFault};
use super::seen::{Before, Seen, Sensors};
use super::times::Clock;
use super::{decoded, file_error, shortened, values};
use crate::error::Result;
use crate::log::{Beyond, Entry, Reading, Shown, Written};
use crate::time::Moment;
use crate::units::GlucoseUnit;

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
    pub(super) layout: Layout,
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
    /// As [`super::Import::open`].
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
    pub(super) fn bytes_read(&self) -> u64 {
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
    /// As [`super::Import::open`].
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

    /// What a row says: its cells, its time, its amount, and whether it came before.
    fn understand(&mut self, line: u64, record: &ByteRecord) -> Row {
        let mut row = Row { line, at: None, given_mg_dl: None, outcome: Outcome::LeftOut, findings: Vec::new() };
        if let Some(finding) = self.miscounted(line, record) {
            row.findings.push(finding);
            return row;
        }
        let glucose_text = decoded(record.get(self.layout.glucose).unwrap_or_default());
        let glucose_text = glucose_text.trim();
        let amount = Written::read(glucose_text);
        row.given_mg_dl = match amount {
            Written::Number(number) => Some(values::in_mg_dl(number, self.layout.unit)).filter(|n| n.is_finite()),
            _ => None,
        };
        let (moment, note) = self.moment(record);
        // An empty cell is no reading, whatever its time: exports mix rows of other kinds in.
        if amount == Written::Empty || !self.layout.is_of_readings(record) {
            row.at = moment.ok();
            row.outcome = Outcome::NoReading;
            return row;
        }
        row.at = moment.ok();
        let (time_column, time_text) = (self.layout.time[0], self.layout.time_text(record));
        let ahead = row.at.filter(|at| self.is_ahead(*at)).map(|_| FindingCode::InFuture);
        row.findings.extend(moment.err().or(ahead).map(|code| found(line, time_column, &time_text, code)));
        if let Some((column, given)) = self.layout.contradicts_time(record) {
            row.findings.push(found(line, column, &given, FindingCode::OffsetContradicts));
        }
        if let Some((column, given)) = self.layout.names_other_unit(record) {
            row.findings.push(found(line, column, &given, FindingCode::NamesOtherUnit));
        }
        let shown = values::judge(amount, self.layout.unit);
        row.findings.extend(shown.err().map(|code| found(line, self.layout.glucose, glucose_text, code)));
        if let (Some(at), Ok(shown), true) = (row.at, shown, row.findings.is_empty()) {
            row.findings.extend(note.map(|code| found(line, time_column, &time_text, code)));
            let (outcome, codes) = self.outcome(at, shown);
            row.outcome = outcome;
            row.findings.extend(codes.map(|code| found(line, self.layout.glucose, glucose_text, code)));
        }
        row
    }

    /// Too few cells, or too many: a decimal comma in a comma-separated file would otherwise read as a smaller, plausible amount.
    fn miscounted(&self, line: u64, record: &ByteRecord) -> Option<Finding> {
        if record.get(self.layout.glucose).is_none() {
            return Some(found(line, record.len(), "", FindingCode::TooFewCells));
        }
        let mut beyond = record.iter().enumerate().skip(self.layout.width);
        let (column, extra) = beyond.find(|(_, cell)| !cell.trim_ascii().is_empty())?;
        Some(found(line, column, &decoded(extra), FindingCode::TooManyCells))
    }

    /// The moment of a row, or why it has none, and what is to be remarked of its clock.
    fn moment(&mut self, record: &ByteRecord) -> (std::result::Result<Moment, FindingCode>, Option<FindingCode>) {
        let Some(time) = self.layout.time(record) else {
            let is_empty = self.layout.time_text(record).is_empty();
            return (Err(if is_empty { FindingCode::NoTime } else { FindingCode::TimeUnreadable }), None);
        };
        let (layout, next) = (&self.layout, self.ahead.as_ref());
        let (moment, note) = self.clock.moment(time, || next.and_then(|next| layout.time(&next.record)));
        (moment.ok_or(FindingCode::TimeOutsideYears), note)
    }

    /// Whether a moment lies further ahead of the caller's clock than clocks differ.
    fn is_ahead(&self, at: Moment) -> bool {
        self.options.now.is_some_and(|now| at.is_after(now.plus_ms(Entry::AHEAD_OF_CLOCK_MS)))
    }

    /// What becomes of a reading, by what was said of its time before, and what is to be remarked of it.
    fn outcome(&mut self, at: Moment, shown: Shown) -> (Outcome, impl Iterator<Item = FindingCode> + use<R>) {
        let beyond = shown.beyond.map(|beyond| match beyond {
            Beyond::Below => FindingCode::SaysLow,
            Beyond::Above => FindingCode::SaysHigh,
        });
        let reading = Outcome::Reading(Reading::of(at, shown));
        let (outcome, beyond, contradicts) = match self.seen.see(at, shown) {
            Before::Never => (reading, beyond, None),
            Before::Same => (Outcome::Repeated, None, None),
            Before::Otherwise => (reading, beyond, Some(FindingCode::Contradicts)),
        };
        (outcome, beyond.into_iter().chain(contradicts))
    }
}

/// Something found in a cell of a row; the column is from 0.
fn found(line: u64, column: usize, given: &str, code: FindingCode) -> Finding {
    Finding { line, column: Some(column + 1), given: shortened(given), code }
}
