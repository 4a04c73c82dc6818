//! A log into a table.

use std::io::{self, Write};
use std::path::Path;

use serde_json::Value;

use super::{COLUMNS, at, guarded, text_field};
use crate::error::{Error, Quantity, Result, Why};
use crate::log::{Entry, EntryKind};
use crate::store::{Log, of_file};
use crate::time::{DAY_MS, Moment};
use crate::units::MG_DL_PER_MMOL_L;

/// Which entries.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Which {
    /// Those that hold.
    Holding,
    /// Those that were corrected or taken back too, with the corrections and retractions; but nothing that only imports brought which
    /// were taken back, since a table says nothing of imports and it would hold again where the table is read.
    All,
}

/// What was written.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Written {
    /// Rows with a sensor reading.
    pub readings: u64,
    /// Rows with anything else.
    pub others: u64,
    /// Entries left out because only imports brought them that were taken back.
    pub taken_back: u64,
    /// The time of the first row.
    pub first: Option<Moment>,
    /// The time of the last row.
    pub last: Option<Moment>,
}

/// Writes the log's entries of a stretch, both ends included, as a table; all of them where no end is given.
///
/// Memory does not grow with the log. `path` is for messages. `said` words an entry for the column that people read; it is not
/// read back.
///
/// # Errors
/// [`Error::File`] and [`Error::DiskFull`] where it cannot be written, and those of reading the log.
pub fn write(
    log: &Log,
    out: impl Write,
    path: &Path,
    said: &dyn Fn(&EntryKind) -> String,
    which: Which,
    (from, until): (Option<Moment>, Option<Moment>),
) -> Result<Written> {
    let refused = |error: csv::Error| match error.into_kind() {
        csv::ErrorKind::Io(source) => of_file(path, source),
        other => Error::File { path: path.to_owned(), source: io::Error::other(format!("{other:?}")) },
    };
    let mut table = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(out);
    table.write_record(COLUMNS).map_err(refused)?;
    let mut written = Written::default();
    let span = log.span()?;
    let (Some(first), Some(last)) = (from.or(span.map(|span| span.0)), until.or(span.map(|span| span.1))) else {
        table.flush().map_err(|source| of_file(path, source))?;
        return Ok(written);
    };
    // Nothing lies outside the log's own span, however far away the ends asked for are.
    let (first, last) = span.map_or((first, last), |(begins, ends)| (first.max(begins), last.min(ends)));
    let mut from = first;
    while !from.is_after(last) {
        let until = from.plus_ms(7 * DAY_MS - 1).min(last);
        let mut entries = match which {
            Which::Holding => log.current(from, until)?,
            Which::All => {
                let carried = log.carried(from, until)?;
                written.taken_back += carried.taken_back;
                carried.entries
            }
        };
        entries.sort_unstable_by_key(Entry::order);
        for entry in entries.iter().filter(|entry| !matches!(entry.what, EntryKind::Import { .. })) {
            table.write_record(cells(entry, said)?).map_err(refused)?;
            match entry.what {
                EntryKind::SensorReading { .. } | EntryKind::SensorBeyond { .. } => written.readings += 1,
                _ => written.others += 1,
            }
            written.first = written.first.or(Some(entry.at));
            written.last = Some(entry.at);
        }
        from = until.plus_ms(1);
    }
    table.flush().map_err(|source| of_file(path, source))?;
    Ok(written)
}

fn cells(entry: &Entry, said: &dyn Fn(&EntryKind) -> String) -> Result<Vec<String>> {
    let unfit =
        |error: serde_json::Error| Error::Invalid { what: Quantity::Entry, why: Why::Detail(error.to_string()) };
    let mut cells = vec![String::new(); COLUMNS.len()];
    let local = entry.at.local();
    cells[at::LOCAL] = local.format("%Y-%m-%d %H:%M:%S").to_string();
    cells[at::OFFSET] = offset(entry.at);
    cells[at::UTC] = utc(entry.at)?;
    cells[at::SAID] = guarded(&said(&entry.what).replace('\n', " / "));
    cells[at::SOURCE] = guarded(entry.source.as_str());
    cells[at::RECORDED] = entry.recorded.to_rfc3339();
    cells[at::ID] = entry.id.to_string();
    cells[at::REPLACES] = entry.replaces.map(|id| id.to_string()).unwrap_or_default();

    let Value::Object(mut fields) = serde_json::to_value(&entry.what).map_err(unfit)? else { return Ok(cells) };
    let mut take = |name: &str| {
        fields.remove(name).map(|value| match value {
            Value::String(text) => text,
            // 45 rather than 45.0.
            Value::Number(number) => number.as_f64().map_or_else(|| number.to_string(), |number| number.to_string()),
            other => other.to_string(),
        })
    };
    let kind = take("kind").unwrap_or_default();
    match &entry.what {
        EntryKind::SensorReading { mg_dl }
        | EntryKind::SensorBeyond { mg_dl, .. }
        | EntryKind::MeterCheck { mg_dl }
        | EntryKind::MeterBeyond { mg_dl, .. } => {
            let columns = if entry.what.meter().is_some() { at::METER } else { at::SENSOR };
            take("mg_dl");
            let sign = match take("beyond").as_deref() {
                Some("below") => "<",
                Some(_) => ">",
                None => "",
            };
            cells[columns[0]] = format!("{sign}{}", mg_dl.mg_dl());
            cells[columns[1]] = format!("{sign}{:.2}", mg_dl.mg_dl() / MG_DL_PER_MMOL_L);
        }
        EntryKind::Insulin { .. } => {
            let column = if take("insulin").as_deref() == Some("rapid") { at::RAPID } else { at::LONG_ACTING };
            cells[column] = take("units").unwrap_or_default();
        }
        EntryKind::Carbohydrate { .. } => {
            let column = if take("purpose").as_deref() == Some("meal") { at::MEAL } else { at::RESCUE };
            cells[column] = take("grams").unwrap_or_default();
        }
        EntryKind::Activity { .. } => cells[at::MINUTES] = take("minutes").unwrap_or_default(),
        EntryKind::Sleep { until } | EntryKind::CompressionLow { until } => {
            take("until");
            cells[at::UNTIL] = until.to_rfc3339();
        }
        _ => {}
    }
    if let Some(name) = text_field(&kind) {
        cells[at::TEXT] = guarded(&take(name).unwrap_or_default());
    }
    cells[at::KIND] = kind;
    if !fields.is_empty() {
        cells[at::DETAILS] = Value::Object(fields).to_string();
    }
    Ok(cells)
}

/// RFC 3339 in UTC.
fn utc(moment: Moment) -> Result<String> {
    Ok(Moment::new(moment.unix_ms(), 0)?.to_rfc3339().replace("+00:00", "Z"))
}

/// `+01:00`.
fn offset(moment: Moment) -> String {
    let minutes = moment.offset_minutes();
    let sign = if minutes < 0 { '-' } else { '+' };
    format!("{sign}{:02}:{:02}", minutes.abs() / 60, minutes.abs() % 60)
}
