//! The lines inside a sealed log.
//!
//! An object is one of [`Line`]; an array is a sensor reading of the source and import named last:
//! `[unix ms, offset in minutes, hundredths of mg/dL, ms from the reading to its record, offset of the record or null]`.

use std::io::{self, BufRead, Read};

use serde::{Deserialize, Serialize};
use uuid::Uuid;

use crate::error::Result;
use crate::log::{Entry, EntryId, EntryKind, Source, from_hundredths, hundredths};
use crate::store::StoredSetting;
use crate::time::Moment;

/// The version written, and the newest read.
pub(super) const VERSION: u32 = 1;
/// The longest line taken, in bytes: above the largest document that is kept, in JSON.
const LONGEST: u64 = 1 << 20;

/// A line that is no reading.
#[derive(Debug, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub(super) enum Line {
    /// The first.
    Head(Head),
    /// A setting or something learnt.
    StoredSetting(StoredSetting),
    /// An entry.
    Entry(Entry),
    /// Whose the readings after it are.
    Readings {
        /// Their source.
        source: Source,
        /// The import that brought them.
        import: Option<EntryId>,
    },
    /// The last.
    End(Counted),
}

/// What stands at the beginning.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub(super) struct Head {
    /// The version of these lines.
    pub(super) version: u32,
    /// The log's identity.
    pub(super) log: Uuid,
    /// When it was sealed.
    #[serde(rename = "sealed")]
    pub(super) at: Option<Moment>,
}

/// How much was written.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub(super) struct Counted {
    pub(super) readings: u64,
    pub(super) entries: u64,
    pub(super) kept: u64,
}

/// A reading's own line.
#[derive(Serialize, Deserialize)]
pub(super) struct ReadingLine(i64, i32, u32, i64, Option<i32>);

impl ReadingLine {
    /// The line of a sensor reading that came as one; nothing for any other entry.
    pub(super) fn of(entry: &Entry) -> Option<Self> {
        let EntryKind::SensorReading { mg_dl } = entry.what else { return None };
        if entry.replaces.is_some() {
            return None;
        }
        let (at, recorded) = (entry.at, entry.recorded);
        let offset = (recorded.offset_minutes() != at.offset_minutes()).then_some(recorded.offset_minutes());
        let after = recorded.unix_ms().saturating_sub(at.unix_ms());
        Some(Self(at.unix_ms(), at.offset_minutes(), hundredths(mg_dl), after, offset))
    }

    /// The entry it stands for.
    pub(super) fn entry(&self, source: &Source, import: Option<EntryId>) -> Result<Entry> {
        let Self(ms, offset, amount, after, recorded_offset) = *self;
        let at = Moment::new(ms, offset)?;
        let recorded = Moment::new(ms.saturating_add(after), recorded_offset.unwrap_or(offset))?;
        let what = EntryKind::SensorReading { mg_dl: from_hundredths(amount)? };
        Ok(Entry { import, ..Entry::new(at, recorded, source.clone(), what)? })
    }
}

/// Reads the next line into `line`, without its end; false where there is none. A line without an end or of unreasonable
/// length is an error.
pub(super) fn next_line(input: &mut impl BufRead, line: &mut Vec<u8>) -> io::Result<bool> {
    line.clear();
    let read = input.by_ref().take(LONGEST).read_until(b'\n', line)?;
    if read == 0 {
        return Ok(false);
    }
    if line.pop() != Some(b'\n') {
        return Err(io::Error::new(io::ErrorKind::InvalidData, "a line has no end"));
    }
    Ok(true)
}
