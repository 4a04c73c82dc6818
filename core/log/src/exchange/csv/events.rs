//! Tables of events: readings with meter checks, insulin and carbohydrate in one row each, as open data sets are kept here.
//!
//! The header names the columns, in any order: `timestamp` and `glucose_mgdl`, and of `meter_mgdl`, `bolus_u`,
//! `basal_u_per_h`, `carb_g` and `rescue_g` those there are. An empty cell is nothing. Rows are read one at a time, so that a
//! program that writes them gets its answer before it writes the next. A row is a line: a quotation mark that its line does not close is
//! passed over and reported.

use std::borrow::Cow;
use std::io::{BufRead, BufReader, Read};

use super::times::{self, Format, Time};
use super::values;
use super::{Finding, FindingCode, LONGEST_ROW, Zone, decoded, layout, shortened};
use crate::error::{Error, Quantity, Result, Why};
use crate::log::{Carbohydrate, Dose, Instrument, InsulinKind, MeterCheck, Purpose, Reading, Written, typed_beyond};
use crate::time::Moment;
use crate::units::{Glucose, GlucoseUnit};

/// The columns, in the order they are read.
const COLUMNS: [&str; 7] =
    ["timestamp", "glucose_mgdl", "meter_mgdl", "bolus_u", "basal_u_per_h", "carb_g", "rescue_g"];

/// One row.
#[derive(Clone, Debug, PartialEq)]
pub struct EventRow {
    /// Its line in the file, from 1.
    pub line: u64,
    /// Its time, where it can be read.
    pub at: Option<Moment>,
    /// The reading.
    pub reading: Option<Reading>,
    /// The meter check.
    pub meter: Option<MeterCheck>,
    /// Rapid insulin.
    pub dose: Option<Dose>,
    /// Carbohydrate of a meal and against a low.
    pub carbohydrate: Vec<Carbohydrate>,
    /// Why the row's time or reading is none, and the cell.
    pub refused: Option<Finding>,
    /// Other cells that could not be used. The rest of the row counts.
    pub unusable: Vec<Unusable>,
}

/// A cell of a table of events that could not be used.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unusable {
    /// Its column in the file, from 1.
    pub column: usize,
    /// Its column's name.
    pub name: &'static str,
    /// What it says, shortened.
    pub given: String,
}

/// Whether a header line is that of a table of events.
#[must_use]
pub fn is_header(line: &str) -> bool {
    let names: Vec<&str> = line.trim().trim_start_matches('\u{feff}').split(',').map(str::trim).collect();
    names.contains(&COLUMNS[0]) && names.contains(&COLUMNS[1]) && names.iter().all(|name| COLUMNS.contains(name))
}

/// Whether the header of a table of events has more than time and readings.
#[must_use]
pub fn holds_more(header: &str) -> bool {
    header.trim().split(',').map(str::trim).any(|name| COLUMNS[2..].contains(&name))
}

/// A table of events, read row by row.
#[derive(Debug)]
pub struct Events<R: Read> {
    lines: BufReader<R>,
    /// The line read last, from 1.
    line: u64,
    columns: [Option<usize>; COLUMNS.len()],
    /// Columns there are names for.
    width: usize,
    record: csv::ByteRecord,
    offset_minutes: i32,
}

impl<R: Read> Events<R> {
    /// Opens a table behind its header. Local times have one offset from UTC.
    ///
    /// # Errors
    /// [`Error::Invalid`] where the zone is not one offset, or the header lacks time or readings.
    pub fn behind(header: &str, rest: R, zone: &Zone<'_>) -> Result<Self> {
        let Zone::Fixed(offset_minutes) = zone else {
            return Err(Error::Invalid { what: Quantity::Zone, why: Why::OneOffset });
        };
        if !is_header(header) {
            return Err(Error::Invalid {
                what: Quantity::Header,
                why: Why::NeedsColumns { names: COLUMNS[..2].join(", ") },
            });
        }
        let names: Vec<&str> = header.trim().trim_start_matches('\u{feff}').split(',').map(str::trim).collect();
        let columns = COLUMNS.map(|column| names.iter().position(|name| *name == column));
        let (lines, record) = (BufReader::new(rest), csv::ByteRecord::new());
        Ok(Self { lines, line: 1, columns, width: names.len(), record, offset_minutes: *offset_minutes })
    }

    /// The next row; nothing at the end. Empty lines are passed over.
    ///
    /// # Errors
    /// [`Error::Invalid`] where the file cannot be read, or for a line over 1 MB.
    pub fn next_row(&mut self) -> Result<Option<EventRow>> {
        let refused = |why| Error::Invalid { what: Quantity::TableOfEvents, why };
        let mut line = Vec::new();
        while line.trim_ascii().is_empty() {
            line.clear();
            let mut most = (&mut self.lines).take(LONGEST_ROW);
            let read = most.read_until(b'\n', &mut line).map_err(|error| refused(Why::Detail(error.to_string())))?;
            if read as u64 >= LONGEST_ROW {
                return Err(refused(Why::TooLong { most_bytes: 1 << 20 }));
            }
            if read == 0 {
                return Ok(None);
            }
            self.line += 1;
        }
        let is_open = line.iter().filter(|&&byte| byte == b'"').count() % 2 == 1;
        let mut builder = layout::builder(b',');
        let mut reader = builder.quoting(!is_open).buffer_capacity(line.len()).from_reader(line.as_slice());
        // Reading from a slice into bytes has no way to fail.
        reader.read_byte_record(&mut self.record).unwrap_or(false);
        if !is_open {
            return Ok(Some(self.row()));
        }
        let given = shortened(&decoded(&line));
        self.record = self.record.iter().map(|cell| unquoted(cell.trim_ascii())).collect();
        let (line, column) = (self.line, None);
        // A comma between quotation marks would move the cells behind it.
        if self.record.len() > self.width {
            self.record.clear();
            let refused = Some(Finding { line, column, given, code: FindingCode::TooManyCells });
            return Ok(Some(EventRow { at: None, refused, unusable: Vec::new(), ..self.row() }));
        }
        let row = self.row();
        let refused = row.refused.clone().or(Some(Finding { line, column, given, code: FindingCode::OpenQuote }));
        Ok(Some(EventRow { refused, ..row }))
    }

    fn cell(&self, column: usize) -> Cow<'_, str> {
        decoded(self.columns[column].and_then(|place| self.record.get(place)).unwrap_or_default().trim_ascii())
    }

    /// What a cell says, short enough for a message.
    fn given(&self, column: usize) -> String {
        const MOST: usize = 40;
        self.cell(column).chars().take(MOST).collect()
    }

    fn found(&self, line: u64, column: usize, code: FindingCode) -> Finding {
        Finding { line, column: self.columns[column].map(|place| place + 1), given: self.given(column), code }
    }

    fn row(&self) -> EventRow {
        let line = self.line;
        let mut row = EventRow {
            line,
            at: None,
            reading: None,
            meter: None,
            dose: None,
            carbohydrate: Vec::new(),
            refused: None,
            unusable: Vec::new(),
        };
        let time = times::read(&self.cell(0), &Format::YearFirst);
        let placed = time.and_then(|time| match time {
            Time::Placed(local, offset) => Moment::from_local(local, offset).ok(),
            Time::Local(local) => Moment::from_local(local, self.offset_minutes).ok(),
        });
        let Some(at) = placed else {
            row.refused = Some(self.found(line, 0, FindingCode::TimeUnreadable));
            return row;
        };
        row.at = Some(at);
        match Written::read(&self.cell(1)) {
            Written::Empty => {}
            written => match values::judge(written, GlucoseUnit::MgDl) {
                Ok(shown) => row.reading = Some(Reading::of(at, shown)),
                Err(why) => row.refused = Some(self.found(line, 1, why)),
            },
        }
        let mut unusable = |column: usize| {
            row.unusable.push(Unusable {
                column: self.columns[column].map_or(0, |place| place + 1),
                name: COLUMNS[column],
                given: self.given(column),
            });
        };
        match Written::read(&self.cell(2)) {
            Written::Empty => {}
            Written::Number(mg_dl) if Glucose::from_mg_dl(mg_dl).is_ok() => {
                row.meter = Glucose::from_mg_dl(mg_dl).ok().map(|glucose| MeterCheck::new(at, glucose));
            }
            written => match typed_beyond(&self.cell(2), GlucoseUnit::MgDl, Instrument::Meter) {
                Ok(Some(shown)) if written != Written::NotANumber => row.meter = Some(MeterCheck::of(at, shown)),
                _ => unusable(2),
            },
        }
        let mut amount = |column: usize| match Written::read(&self.cell(column)) {
            Written::Empty => None,
            Written::Number(number) if number >= 0.0 => (number > 0.0).then_some(number),
            _ => {
                unusable(column);
                None
            }
        };
        let dose = amount(3).map(|units| Dose { at, kind: InsulinKind::Rapid, units });
        let eaten = |grams, purpose| Carbohydrate { at, grams, purpose };
        let meal = amount(5).map(|grams| eaten(grams, Purpose::Meal));
        let rescue = amount(6).map(|grams| eaten(grams, Purpose::Rescue));
        row.dose = dose;
        row.carbohydrate = meal.into_iter().chain(rescue).collect();
        row
    }
}

/// A cell without the quotation marks around it.
fn unquoted(cell: &[u8]) -> &[u8] {
    let cell = cell.strip_prefix(b"\"").unwrap_or(cell);
    cell.strip_suffix(b"\"").unwrap_or(cell)
}

#[cfg(test)]
mod tests {
    use super::*;

    const TABLE: &str = "2026-01-01T00:00:00,120,,,,\n2026-01-01T00:05:00,,118,,,\n2026-01-01T00:10:00,119,,4.5,0.8,60\n\
                         nonsense,1,,,,\n2026-01-01T00:15:00,5000,LO,-3,,x\n2026-01-01T00:20:00,LOW,,,,\n";

    #[test]
    fn rows_say_what_they_hold() {
        let header = "timestamp,glucose_mgdl,meter_mgdl,bolus_u,basal_u_per_h,carb_g\n";
        assert!(is_header(header) && !is_header("time,glucose mg/dL"));
        let mut events = Events::behind(header, TABLE.as_bytes(), &Zone::Fixed(0)).unwrap();
        let mut rows = Vec::new();
        while let Some(row) = events.next_row().unwrap() {
            rows.push(row);
        }
        assert_eq!(rows.len(), 6);
        assert!(rows[0].reading.is_some() && rows[0].meter.is_none());
        assert!(rows[1].reading.is_none() && rows[1].refused.is_none());
        assert!((rows[1].meter.unwrap().glucose.mg_dl() - 118.0).abs() < 1e-9);
        assert!((rows[2].dose.unwrap().units - 4.5).abs() < 1e-9);
        assert!((rows[2].carbohydrate[0].grams - 60.0).abs() < 1e-9);
        let refused = |line, column, given: &str, code| Some(Finding { line, column, given: given.to_owned(), code });
        assert_eq!(rows[3].refused, refused(5, Some(1), "nonsense", FindingCode::TimeUnreadable));
        assert_eq!(rows[4].refused, refused(6, Some(2), "5000", FindingCode::OutOfRange));
        assert_eq!(rows[4].meter.and_then(|check| check.beyond), Some(crate::log::Beyond::Below));
        assert_eq!(rows[5].reading.and_then(|reading| reading.beyond), Some(crate::log::Beyond::Below));
        let unusable = |column, name, given: &str| Unusable { column, name, given: given.to_owned() };
        assert_eq!(rows[4].unusable, [unusable(4, "bolus_u", "-3"), unusable(6, "carb_g", "x")]);
    }

    #[test]
    fn a_row_is_a_line_whatever_stands_in_it() {
        let header = "timestamp,glucose_mgdl,meter_mgdl\n";
        let table = b"2026-01-01T00:00:00,120,\"\n\n2026-01-01T00:05:00,\"118\",\n2026-01-01T00:10:00,117,\xff\n\"2026-01-01T00:15:00,116\n2026-01-01T00:20:00,\"115,5\",\"116";
        let mut events = Events::behind(header, table.as_slice(), &Zone::Fixed(0)).unwrap();
        let mut rows = Vec::new();
        while let Some(row) = events.next_row().unwrap() {
            rows.push((
                row.line,
                row.reading.map(|reading| reading.glucose.mg_dl()),
                row.refused.map(|found| found.code),
            ));
        }
        let open = Some(FindingCode::OpenQuote);
        let all = [
            (2, Some(120.0), open),
            (4, Some(118.0), None),
            (5, Some(117.0), None),
            (6, Some(116.0), open),
            (7, None, Some(FindingCode::TooManyCells)),
        ];
        assert_eq!(rows, all);
    }
}
