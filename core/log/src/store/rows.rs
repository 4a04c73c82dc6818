//! Rows as they stand in the file, their checksums, and the entries they stand for.

use std::cell::RefCell;
use std::collections::HashMap;
use std::rc::Rc;

use rusqlite::{Connection, OptionalExtension, Row};
use uuid::Uuid;

use crate::checksum::Crc32;
use crate::error::Damage;
use crate::log::current::Provenance;
use crate::log::{Entry, EntryId, EntryKind, Source, from_hundredths};
use crate::store::sqlite_error::StoreError;
use crate::time::Moment;
use crate::units::Glucose;

/// How an entry got into this file: what [`crate::store::Log::undo_last`] goes by.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Origin {
    /// From a sensor, a file or another phone.
    Brought,
    /// Said on this device.
    Said,
    /// Said on this device to undo the entry in this row.
    Undo(i64),
}

impl Origin {
    /// As the columns `said` and `undoes`.
    pub(super) const fn columns(self) -> (bool, Option<i64>) {
        match self {
            Self::Brought => (false, None),
            Self::Said => (true, None),
            Self::Undo(row) => (true, Some(row)),
        }
    }

    pub(super) const fn of_columns(said: bool, undoes: Option<i64>) -> Self {
        match (said, undoes) {
            (_, Some(row)) => Self::Undo(row),
            (true, None) => Self::Said,
            (false, None) => Self::Brought,
        }
    }
}

/// A CRC-32 over the columns of one row, in a fixed order.
#[derive(Default)]
pub(super) struct Checksum(Crc32);

impl Checksum {
    pub(super) fn number(mut self, number: i64) -> Self {
        self.0.update(&number.to_le_bytes());
        self
    }

    /// A number that may be missing; missing differs from every number.
    pub(super) fn optional(self, number: Option<i64>) -> Self {
        match number {
            Some(number) => self.number(1).number(number),
            None => self.number(0),
        }
    }

    /// Bytes, with their count so that two neighbours cannot trade some.
    pub(super) fn bytes(mut self, bytes: &[u8]) -> Self {
        self.0.update(&(bytes.len() as u64).to_le_bytes());
        self.0.update(bytes);
        self
    }

    /// As SQLite keeps it: in 4 bytes, signed.
    pub(super) fn close(self) -> i32 {
        self.0.finalize().cast_signed()
    }
}

/// One row of `reading`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct ReadingRow {
    pub(super) at: i64,
    pub(super) source: i64,
    pub(super) amount: u32,
    pub(super) at_offset: i32,
    pub(super) recorded_after: i64,
    pub(super) recorded_offset: Option<i32>,
    pub(super) import: Option<i64>,
    pub(super) again: Option<i64>,
}

impl ReadingRow {
    pub(super) const COLUMNS: &str =
        "at, source, amount, at_offset, recorded_after, recorded_offset, import, again, seal";

    pub(super) fn new(entry: &Entry, source: i64, amount: u32, import: Option<i64>) -> Self {
        let mut row = Self {
            at: entry.at.unix_ms(),
            source,
            amount,
            at_offset: 0,
            recorded_after: 0,
            recorded_offset: None,
            import,
            again: None,
        };
        row.set_times(entry.at, entry.recorded);
        row
    }

    /// Sets the offset and when it was recorded; the instant is part of the key and stays.
    pub(super) fn set_times(&mut self, at: Moment, recorded: Moment) {
        self.at_offset = at.offset_minutes();
        self.recorded_after = recorded.unix_ms() - self.at;
        self.recorded_offset = (recorded.offset_minutes() != at.offset_minutes()).then_some(recorded.offset_minutes());
    }

    pub(super) fn checksum(&self) -> i32 {
        // One buffer for the row: hashing piece by piece shows in the time an import takes.
        let mut bytes = [0_u8; 7 * 8];
        let mut put =
            |place: usize, number: i64| bytes[place * 8..place * 8 + 8].copy_from_slice(&number.to_le_bytes());
        put(0, self.at);
        put(1, self.source);
        put(2, i64::from(self.amount) << 32 | i64::from(self.at_offset.cast_unsigned()));
        put(3, self.recorded_after);
        put(4, self.recorded_offset.map_or(i64::MIN, i64::from));
        put(5, self.import.unwrap_or(i64::MIN));
        put(6, self.again.unwrap_or(i64::MIN));
        Crc32::of(&bytes).cast_signed()
    }

    /// Reads a row selected as [`ReadingRow::COLUMNS`] and checks its checksum.
    pub(super) fn read(row: &Row<'_>) -> Result<Self, StoreError> {
        let read = || -> rusqlite::Result<(Self, i32)> {
            let reading = Self {
                at: row.get(0)?,
                source: row.get(1)?,
                amount: row.get(2)?,
                at_offset: row.get(3)?,
                recorded_after: row.get(4)?,
                recorded_offset: row.get(5)?,
                import: row.get(6)?,
                again: row.get(7)?,
            };
            Ok((reading, row.get(8)?))
        };
        match read() {
            Ok((reading, checksum)) if checksum == reading.checksum() => Ok(reading),
            _ => Err(StoreError::Damaged(Damage::Reading)),
        }
    }

    pub(super) fn at(&self) -> Result<Moment, StoreError> {
        Ok(Moment::new(self.at, self.at_offset)?)
    }

    pub(super) fn recorded(&self) -> Result<Moment, StoreError> {
        let offset = self.recorded_offset.unwrap_or(self.at_offset);
        Ok(Moment::new(self.at.saturating_add(self.recorded_after), offset)?)
    }

    pub(super) fn glucose(&self) -> Result<Glucose, StoreError> {
        Ok(from_hundredths(self.amount)?)
    }

    /// The entry it stands for; its `import` is the first that brought it.
    pub(super) fn entry(&self, names: &Names<'_>) -> Result<(Entry, Provenance), StoreError> {
        let (at, recorded, glucose) = (self.at()?, self.recorded()?, self.glucose()?);
        let source = names.source(self.source)?;
        let id = EntryId::of_reading(&source, at, glucose);
        let came = names.came(self.import, self.again)?;
        let what = EntryKind::SensorReading { mg_dl: glucose };
        Ok((Entry { id, at, recorded, source: (*source).clone(), replaces: None, import: came.first(), what }, came))
    }
}

/// One row of `entry`.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct EntryRow {
    pub(super) entry: Entry,
    pub(super) came: Provenance,
    pub(super) origin: Origin,
    pub(super) seq: i64,
}

impl EntryRow {
    /// The columns of `entry AS e`.
    pub(super) const COLUMNS: &str = "e.id, e.at, e.at_offset, e.recorded, e.recorded_offset, e.source, e.replaces, \
                                      e.import, e.again, e.said, e.undoes, e.what, e.seal, e.seq";

    /// The checksum of an entry kept with these slots.
    pub(super) fn checksum(
        entry: &Entry,
        source: i64,
        import: Option<i64>,
        again: Option<i64>,
        origin: Origin,
        what: &str,
    ) -> i32 {
        let (said, undoes) = origin.columns();
        Checksum::default()
            .bytes(entry.id.0.as_bytes())
            .number(entry.at.unix_ms())
            .number(entry.at.offset_minutes().into())
            .number(entry.recorded.unix_ms())
            .number(entry.recorded.offset_minutes().into())
            .number(source)
            .bytes(entry.replaces.as_ref().map_or(&[], |id| id.0.as_bytes()))
            .optional(import)
            .optional(again)
            .number(said.into())
            .optional(undoes)
            .bytes(what.as_bytes())
            .close()
    }

    /// Reads a row selected as [`EntryRow::COLUMNS`] and checks its checksum.
    pub(super) fn read(row: &Row<'_>, names: &Names<'_>) -> Result<Self, StoreError> {
        let damaged = || StoreError::Damaged(Damage::Entry);
        let id = |bytes: [u8; 16]| EntryId(Uuid::from_bytes(bytes));
        let moment = |ms: usize, offset: usize| -> Result<Moment, StoreError> {
            let read = || -> rusqlite::Result<(i64, i32)> { Ok((row.get(ms)?, row.get(offset)?)) };
            read().map_err(|_| damaged()).and_then(|(ms, offset)| Moment::new(ms, offset).map_err(|_| damaged()))
        };
        let (at, recorded) = (moment(1, 2)?, moment(3, 4)?);
        let read = || -> rusqlite::Result<_> {
            let source: i64 = row.get(5)?;
            let origin = Origin::of_columns(row.get(9)?, row.get(10)?);
            let imports: (Option<i64>, Option<i64>) = (row.get(7)?, row.get(8)?);
            let (what, checksum, seq): (String, i32, i64) = (row.get(11)?, row.get(12)?, row.get(13)?);
            let (own, replaces): ([u8; 16], Option<[u8; 16]>) = (row.get(0)?, row.get(6)?);
            Ok((id(own), replaces.map(id), source, imports, origin, what, checksum, seq))
        };
        let (id, replaces, source, (import, again), origin, json, checksum, seq) = read().map_err(|_| damaged())?;
        let name = names.source(source)?;
        let came = names.came(import, again)?;
        let what = serde_json::from_str(&json).map_err(|_| damaged())?;
        let entry = Entry { id, at, recorded, source: (*name).clone(), replaces, import: came.first(), what };
        if Self::checksum(&entry, source, import, again, origin, &json) != checksum {
            return Err(damaged());
        }
        Ok(Self { entry, came, origin, seq })
    }
}

impl Provenance {
    fn first(self) -> Option<EntryId> {
        match self {
            Self::Alone => None,
            Self::With { first, .. } => Some(first),
        }
    }
}

/// The names behind the small numbers of sources and imports, looked up when first asked for.
pub(super) struct Names<'c> {
    connection: &'c Connection,
    sources: RefCell<HashMap<i64, Rc<Source>>>,
    imports: RefCell<HashMap<i64, EntryId>>,
}

impl<'c> Names<'c> {
    pub(super) fn of(connection: &'c Connection) -> Self {
        Self { connection, sources: RefCell::default(), imports: RefCell::default() }
    }

    pub(super) fn source(&self, slot: i64) -> Result<Rc<Source>, StoreError> {
        if let Some(known) = self.sources.borrow().get(&slot) {
            return Ok(Rc::clone(known));
        }
        let name: Option<String> = self
            .connection
            .prepare_cached("SELECT name FROM source WHERE slot = ?")?
            .query_row([slot], |row| row.get(0))
            .optional()?;
        let source = name
            .and_then(|name| Source::new(name).ok())
            .map(Rc::new)
            .ok_or_else(|| StoreError::Damaged(Damage::SourceWithoutName))?;
        self.sources.borrow_mut().insert(slot, Rc::clone(&source));
        Ok(source)
    }

    pub(super) fn import(&self, slot: i64) -> Result<EntryId, StoreError> {
        if let Some(known) = self.imports.borrow().get(&slot) {
            return Ok(*known);
        }
        let id: Option<[u8; 16]> = self
            .connection
            .prepare_cached("SELECT id FROM import WHERE slot = ?")?
            .query_row([slot], |row| row.get(0))
            .optional()?;
        let id = id
            .map(|id| EntryId(Uuid::from_bytes(id)))
            .ok_or_else(|| StoreError::Damaged(Damage::ImportWithoutIdentity))?;
        self.imports.borrow_mut().insert(slot, id);
        Ok(id)
    }

    pub(super) fn came(&self, import: Option<i64>, again: Option<i64>) -> Result<Provenance, StoreError> {
        let Some(import) = import else { return Ok(Provenance::Alone) };
        let first = self.import(import)?;
        let last = again.map_or(Ok(first), |again| self.import(again))?;
        Ok(Provenance::With { first, last })
    }
}
