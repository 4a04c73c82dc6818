//! A table back into entries.

use std::io::{self, Read};
use std::path::{Path, PathBuf};

use csv::StringRecord;
use serde_json::{Map, Value};
use uuid::Uuid;

use super::{COLUMNS, at, text_field, unguarded};
use crate::error::{Error, Refusal, Result};
use crate::log::{Entry, EntryId, EntryKind, Instrument, Shown, Source, Written, beyond_limit};
use crate::time::Moment;
use crate::units::{Glucose, GlucoseUnit};

/// Bytes in which the names of the columns stand.
const HEAD: u64 = 4096;
/// The byte order mark that some programs put in front of UTF-8.
const MARK: &[u8] = b"\xef\xbb\xbf";

/// Whether a file that begins so is a table that [`super::write()`] wrote. A spreadsheet may have put other separators or a
/// byte order mark in; it is still one.
#[must_use]
pub fn is_table(head: &[u8]) -> bool {
    separator(head).is_some()
}

fn separator(head: &[u8]) -> Option<u8> {
    let head = head.strip_prefix(MARK).unwrap_or(head);
    [b',', b';', b'\t'].into_iter().find(|separator| {
        let mut reader = csv::ReaderBuilder::new().delimiter(*separator).has_headers(false).from_reader(head);
        let mut first = StringRecord::new();
        reader.read_record(&mut first).unwrap_or(false) && first.iter().map(str::trim).eq(COLUMNS)
    })
}

/// A row that is left out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Finding {
    /// The line it begins on, from 1.
    pub line: u64,
    /// Why it is left out.
    pub trouble: Trouble,
}

/// Why a row is left out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Trouble {
    /// It has no time with an offset, or one that cannot be read.
    Time,
    /// The kind is none, or a cell of it cannot be what it should.
    Said,
    /// It says something else than the entry of its identity, or corrects or takes back an entry that is in the log.
    Changed,
    /// It cannot be an entry: out of range, or ahead of the clock.
    CannotBe,
    /// It is no row of text.
    Unreadable,
}

/// The entries of a table, row by row. Memory does not grow with it.
pub struct Rows<R> {
    reader: csv::Reader<WithoutReturns<R>>,
    line: u64,
    path: PathBuf,
    now: Moment,
    sensor: Source,
}

impl<R: Read> Rows<io::Chain<io::Cursor<Vec<u8>>, R>> {
    /// Begins to read a table. `sensor` is the source of readings whose row names none.
    ///
    /// # Errors
    /// [`Error::Import`] where it is no such table; [`Error::File`] where it cannot be read.
    pub fn open(mut input: R, path: &Path, now: Moment, sensor: Source) -> Result<Self> {
        let mut head = Vec::new();
        let read = input.by_ref().take(HEAD).read_to_end(&mut head);
        read.map_err(|source| Error::File { path: path.to_owned(), source })?;
        let Some(separator) = separator(&head) else {
            return Err(Error::Import { file: path.to_owned(), line: 1, column: None, why: Refusal::NotATable });
        };
        if head.starts_with(MARK) {
            head.drain(..MARK.len());
        }
        let reader = csv::ReaderBuilder::new()
            .delimiter(separator)
            .flexible(true)
            .from_reader(WithoutReturns(io::Cursor::new(head).chain(input)));
        Ok(Self { reader, line: 1, path: path.to_owned(), now, sensor })
    }
}

impl<R: Read> Rows<R> {
    /// The line on which the row read last begins, from 1.
    #[must_use]
    pub const fn line(&self) -> u64 {
        self.line
    }

    /// The next entry, or a row that is left out; nothing at the end.
    ///
    /// # Errors
    /// [`Error::File`] where the file cannot be read.
    pub fn next_row(&mut self) -> Result<Option<std::result::Result<Entry, Finding>>> {
        let mut record = StringRecord::new();
        self.line = self.reader.position().line();
        match self.reader.read_record(&mut record) {
            Ok(false) => Ok(None),
            Ok(true) => {
                self.line = record.position().map_or(self.line, csv::Position::line);
                Ok(Some(self.entry(&record).map_err(|trouble| Finding { line: self.line, trouble })))
            }
            Err(error) => match error.into_kind() {
                csv::ErrorKind::Io(source) => Err(Error::File { path: self.path.clone(), source }),
                _ => Ok(Some(Err(Finding { line: self.line, trouble: Trouble::Unreadable }))),
            },
        }
    }

    fn entry(&self, record: &StringRecord) -> std::result::Result<Entry, Trouble> {
        let cell = |at: usize| record.get(at).unwrap_or_default().trim();
        let when = moment(cell(at::UTC), cell(at::LOCAL), cell(at::OFFSET)).ok_or(Trouble::Time)?;
        let recorded = match cell(at::RECORDED) {
            "" => self.now,
            text => Moment::parse(text).map_err(|_| Trouble::Time)?,
        };
        let what = what(&cell)?;
        let source = match unguarded(cell(at::SOURCE)) {
            "" => what.source_unnamed(&self.sensor),
            name => Source::new(name).map_err(|_| Trouble::Said)?,
        };
        let parsed = |at: usize| match cell(at) {
            "" => Ok(None),
            text => Uuid::parse_str(text).map(|id| Some(EntryId(id))).map_err(|_| Trouble::Said),
        };
        let (id, replaces) = (parsed(at::ID)?, parsed(at::REPLACES)?);
        let Some(id) = id else {
            let entry = Entry::received(when, recorded, source, what).map_err(|_| Trouble::CannotBe)?;
            return Ok(Entry { replaces, ..entry });
        };
        let entry = Entry { id, at: when, recorded, source, replaces, import: None, what };
        if let (EntryKind::SensorReading { mg_dl }, None) = (&entry.what, replaces)
            && id != EntryId::of_reading(&entry.source, when, *mg_dl)
        {
            return Err(Trouble::Changed);
        }
        entry.check().map_err(|_| Trouble::CannotBe)?;
        Ok(entry)
    }
}

/// Takes carriage returns out. The reader of tables looks at the line feed after one only with the next row and would
/// count lines one short; no text of a log holds one.
struct WithoutReturns<R>(R);

impl<R: Read> Read for WithoutReturns<R> {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        loop {
            let count = self.0.read(buffer)?;
            let mut kept = 0;
            for at in 0..count {
                if buffer[at] != b'\r' {
                    buffer[kept] = buffer[at];
                    kept += 1;
                }
            }
            // None left of some is not the end.
            if kept > 0 || count == 0 {
                return Ok(kept);
            }
        }
    }
}

/// The instant from UTC, with the offset beside it; without UTC, from the local time and the offset.
fn moment(utc: &str, local: &str, offset: &str) -> Option<Moment> {
    if utc.is_empty() {
        return Moment::parse(&format!("{}{offset}", local.replacen(' ', "T", 1))).ok();
    }
    let instant = Moment::parse(utc).ok()?;
    if offset.is_empty() {
        return Some(instant);
    }
    let beside = Moment::parse(&format!("2000-01-01T00:00:00{offset}")).ok();
    // The first hours of the year 2000 lie before it in the east.
    let beside = beside.or_else(|| Moment::parse(&format!("2001-01-01T00:00:00{offset}")).ok())?;
    Moment::new(instant.unix_ms(), beside.offset_minutes()).ok()
}

fn what<'r>(cell: &impl Fn(usize) -> &'r str) -> std::result::Result<EntryKind, Trouble> {
    let kind = cell(at::KIND);
    let mut fields: Map<String, Value> = match cell(at::DETAILS) {
        "" => Map::new(),
        text => serde_json::from_str(text).map_err(|_| Trouble::Said)?,
    };
    let mut put = |name: &str, value: Value| drop(fields.insert(name.to_owned(), value));
    let number = |text: &str| -> Option<Value> {
        let number: f64 = text.replacen(',', ".", 1).parse().ok()?;
        serde_json::Number::from_f64(number).map(Value::Number)
    };
    let filled = |at: usize| Some(cell(at)).filter(|text| !text.is_empty());
    put("kind", kind.into());
    match kind {
        "sensor_reading" | "sensor_beyond" | "meter_check" | "meter_beyond" => {
            let (columns, instrument) = match kind {
                "meter_check" | "meter_beyond" => (at::METER, Instrument::Meter),
                _ => (at::SENSOR, Instrument::Sensor),
            };
            let (text, unit) = match (filled(columns[0]), filled(columns[1])) {
                (Some(text), _) => (text, GlucoseUnit::MgDl),
                (None, Some(text)) => (text, GlucoseUnit::MmolL),
                (None, None) => return Err(Trouble::Said),
            };
            let shown = match Written::read(text) {
                Written::Number(number) => Glucose::new(number, unit).map(Shown::from),
                Written::Beyond(beyond, limit) => beyond_limit(beyond, limit, unit, instrument),
                Written::Empty | Written::NotANumber => return Err(Trouble::Said),
            };
            let shown = shown.map_err(|_| Trouble::Said)?;
            // A row by hand may say `LO` of either kind; an amount is no reading that had none.
            if shown.beyond.is_none() && kind.ends_with("_beyond") {
                return Err(Trouble::Said);
            }
            let what = match instrument {
                Instrument::Meter => EntryKind::checked_by_meter(shown),
                Instrument::Sensor => EntryKind::read_by_sensor(shown),
            };
            return Ok(what.into_precision());
        }
        "insulin" | "carbohydrate" => {
            let ((first, first_name), (second, second_name), field, name) = match kind {
                "insulin" => ((at::RAPID, "rapid"), (at::LONG_ACTING, "long_acting"), "units", "insulin"),
                _ => ((at::MEAL, "meal"), (at::RESCUE, "rescue"), "grams", "purpose"),
            };
            // Both at once would be two entries.
            let (text, which) = match (filled(first), filled(second)) {
                (Some(text), None) => (text, first_name),
                (None, Some(text)) => (text, second_name),
                _ => return Err(Trouble::Said),
            };
            put(field, number(text).ok_or(Trouble::Said)?);
            put(name, which.into());
        }
        _ => {
            if let Some(text) = filled(at::MINUTES) {
                put("minutes", number(text).ok_or(Trouble::Said)?);
            }
            if let Some(text) = filled(at::UNTIL) {
                let until = Moment::parse(text).map_err(|_| Trouble::Said)?;
                put("until", serde_json::to_value(until).map_err(|_| Trouble::Said)?);
            }
        }
    }
    if let Some(name) = text_field(kind) {
        put(name, unguarded(cell(at::TEXT)).into());
    }
    // As text, as the store reads what it keeps: one reader of entries in the program and not two.
    let what: EntryKind = serde_json::from_str(&Value::Object(fields).to_string()).map_err(|_| Trouble::Said)?;
    match what {
        EntryKind::Import { .. } => Err(Trouble::Said),
        what => Ok(what.into_precision()),
    }
}
