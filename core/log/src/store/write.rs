//! Adding facts. Nothing is ever taken out; of an entry that comes again only how it came is noted.

use std::collections::HashMap;

use rusqlite::{CachedStatement, Connection, OptionalExtension, params};

use crate::error::{Error, Quantity, Result, Why};
use crate::log::current::{Provenance, precedes};
use crate::log::{Entry, EntryId, EntryKind, Source, hundredths};
use crate::store::Imported;
use crate::store::read;
use crate::store::rows::{EntryRow, Names, Origin, ReadingRow};
use crate::store::source_start;
use crate::store::sqlite_error::StoreError;
use crate::time::Moment;

/// What recording did.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Recorded {
    /// Entries the log did not have.
    pub new: u64,
    /// Entries the log had already.
    pub known: u64,
    /// New readings that differ from another of the same source and instant. Both are kept; the lower one counts.
    pub contradictory: u64,
}

/// What became of one entry.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Put {
    /// The log did not have it.
    New,
    /// The log had it.
    Known,
    /// The log had one of this identity that said something else.
    Rewritten,
}

/// Puts entries into the log, inside a transaction of the caller's.
pub(super) struct Writer<'c> {
    connection: &'c Connection,
    names: Names<'c>,
    sources: HashMap<Source, i64>,
    /// The source of the entry before: in nearly every import it is the next one's too.
    last_source: Option<(Source, i64)>,
    imports: HashMap<EntryId, i64>,
    /// Where the readings of a source begin.
    beginnings: HashMap<i64, i64>,
    /// The last source there was before; those after it had no reading.
    last_known_source: i64,
    /// The instant of the newest reading. What is newer than it can neither be known nor contradict anything.
    newest: i64,
    add_reading: CachedStatement<'c>,
    done: Recorded,
}

impl<'c> Writer<'c> {
    pub(super) fn begin(connection: &'c Connection) -> Result<Self, StoreError> {
        let newest: Option<i64> = connection.query_row("SELECT max(at) FROM reading", [], |row| row.get(0))?;
        let add_reading = connection.prepare_cached(
            "INSERT INTO reading (at, source, amount, at_offset, recorded_after, recorded_offset, import, again, seal) \
             VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?) ON CONFLICT (at, source, amount) DO NOTHING",
        )?;
        let last_known_source: Option<i64> =
            connection.query_row("SELECT max(slot) FROM source", [], |row| row.get(0))?;
        Ok(Self {
            connection,
            names: Names::of(connection),
            sources: HashMap::new(),
            last_source: None,
            imports: HashMap::new(),
            beginnings: HashMap::new(),
            last_known_source: last_known_source.unwrap_or(0),
            newest: newest.unwrap_or(i64::MIN),
            add_reading,
            done: Recorded::default(),
        })
    }

    pub(super) fn finish(self) -> Recorded {
        self.done
    }

    /// Puts an entry that was just put, as it came with another import: it counts once.
    pub(super) fn put_again(&mut self, entry: &Entry, origin: Origin) -> Result<Put, StoreError> {
        let counted = self.done;
        let put = self.put(entry, origin);
        self.done = counted;
        put
    }

    pub(super) fn put(&mut self, entry: &Entry, origin: Origin) -> Result<Put, StoreError> {
        entry.check()?;
        if let EntryKind::SensorReading { mg_dl } = entry.what
            && entry.replaces.is_none()
        {
            // `check` saw that its identity follows from the rest.
            return self.put_reading(entry, hundredths(mg_dl));
        }
        let mut entry = entry.clone();
        entry.what = entry.what.into_precision();
        self.put_entry(entry, origin)
    }

    fn put_reading(&mut self, entry: &Entry, amount: u32) -> Result<Put, StoreError> {
        let source = self.source(&entry.source)?;
        let import = entry.import.map(|import| self.import(import)).transpose()?;
        let row = ReadingRow::new(entry, source, amount, import);
        let added = self.add_reading.execute(params![
            row.at,
            row.source,
            row.amount,
            row.at_offset,
            row.recorded_after,
            row.recorded_offset,
            row.import,
            row.again,
            row.checksum()
        ])?;
        if added == 0 {
            self.done.known += 1;
            self.join_reading(row, entry)?;
            return Ok(Put::Known);
        }
        self.done.new += 1;
        self.begin_source(row.source, row.at)?;
        if row.at > self.newest {
            self.newest = row.at;
        } else {
            let others: bool = self
                .connection
                .prepare_cached("SELECT EXISTS (SELECT 1 FROM reading WHERE at = ?1 AND source = ?2 AND amount <> ?3)")?
                .query_row(params![row.at, row.source, row.amount], |found| found.get(0))?;
            self.done.contradictory += u64::from(others);
        }
        Ok(Put::New)
    }

    /// A known reading came again: keeps the earlier of both records, and how it came over both times.
    fn join_reading(&self, row: ReadingRow, entry: &Entry) -> Result<(), StoreError> {
        let sql = format!("SELECT {} FROM reading WHERE at = ? AND source = ? AND amount = ?", ReadingRow::COLUMNS);
        let held = self
            .connection
            .prepare_cached(&sql)?
            .query_row(params![row.at, row.source, row.amount], |found| Ok(ReadingRow::read(found)))??;
        let mut joined = held;
        if (entry.recorded, entry.at) < (held.recorded()?, held.at()?) {
            joined.set_times(entry.at, entry.recorded);
        }
        let came = self.names.came(held.import, held.again)?.and(Provenance::of(entry));
        (joined.import, joined.again) = self.slots(came)?;
        if joined == held {
            return Ok(());
        }
        self.connection
            .prepare_cached(
                "UPDATE reading SET at_offset = ?4, recorded_after = ?5, recorded_offset = ?6, import = ?7, again = ?8, \
                 seal = ?9 WHERE at = ?1 AND source = ?2 AND amount = ?3",
            )?
            .execute(params![
                joined.at,
                joined.source,
                joined.amount,
                joined.at_offset,
                joined.recorded_after,
                joined.recorded_offset,
                joined.import,
                joined.again,
                joined.checksum()
            ])?;
        Ok(())
    }

    fn put_entry(&mut self, entry: Entry, origin: Origin) -> Result<Put, StoreError> {
        let sql = format!("SELECT {} FROM entry AS e WHERE e.id = ?", EntryRow::COLUMNS);
        let held = self
            .connection
            .prepare_cached(&sql)?
            .query_row([entry.id.0.as_bytes()], |row| Ok(EntryRow::read(row, &self.names)))
            .optional()?
            .transpose()?;
        let Some(held) = held else {
            self.done.new += 1;
            let came = Provenance::of(&entry);
            self.write_entry(None, &entry, came, origin)?;
            return Ok(Put::New);
        };
        self.done.known += 1;
        let came = held.came.and(Provenance::of(&entry));
        let put = if entry.says() == held.entry.says() { Put::Known } else { Put::Rewritten };
        let first = precedes(&entry, &held.entry);
        if first || came != held.came {
            let kept = if first { entry } else { held.entry };
            self.write_entry(Some(held.seq), &kept, came, held.origin)?;
        }
        Ok(put)
    }

    /// Writes a row at its end or, given `seq`, in place of the row there.
    fn write_entry(
        &mut self,
        seq: Option<i64>,
        entry: &Entry,
        came: Provenance,
        origin: Origin,
    ) -> Result<(), StoreError> {
        let source = self.source(&entry.source)?;
        if let Provenance::With { first, last } = came {
            self.import(first)?;
            self.import(last)?;
        }
        let (import, again) = self.slots(came)?;
        let what = entry.what.canonical();
        let (said, undoes) = origin.columns();
        let checksum = EntryRow::checksum(entry, source, import, again, origin, &what);
        self.connection
            .prepare_cached(
                "INSERT INTO entry (seq, id, at, at_offset, recorded, recorded_offset, source, replaces, import, again, \
                 said, undoes, what, seal) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?) \
                 ON CONFLICT (seq) DO UPDATE SET at = excluded.at, at_offset = excluded.at_offset, \
                 recorded = excluded.recorded, recorded_offset = excluded.recorded_offset, source = excluded.source, \
                 replaces = excluded.replaces, import = excluded.import, again = excluded.again, what = excluded.what, \
                 seal = excluded.seal",
            )?
            .execute(params![
                seq,
                entry.id.0.as_bytes(),
                entry.at.unix_ms(),
                entry.at.offset_minutes(),
                entry.recorded.unix_ms(),
                entry.recorded.offset_minutes(),
                source,
                entry.replaces.as_ref().map(|id| id.0.as_bytes()),
                import,
                again,
                said,
                undoes,
                what,
                checksum
            ])?;
        Ok(())
    }

    fn source(&mut self, source: &Source) -> Result<i64, StoreError> {
        if let Some((last, slot)) = &self.last_source
            && last == source
        {
            return Ok(*slot);
        }
        let slot = match self.sources.get(source) {
            Some(slot) => *slot,
            None => {
                let slot = self.slot(
                    "SELECT slot FROM source WHERE name = ?",
                    "INSERT INTO source (name) VALUES (?)",
                    &source.as_str(),
                )?;
                self.sources.insert(source.clone(), slot);
                slot
            }
        };
        self.last_source = Some((source.clone(), slot));
        Ok(slot)
    }

    /// Keeps where a source begins, now that it has a reading at this time.
    fn begin_source(&mut self, source: i64, at: i64) -> Result<(), StoreError> {
        let kept = match self.beginnings.get(&source) {
            Some(kept) => Some(*kept),
            None => source_start::of(self.connection, source)?,
        };
        let begins = match kept {
            Some(kept) => kept.min(at),
            None if source > self.last_known_source => at,
            None => source_start::find(self.connection, source)?,
        };
        if kept != Some(begins) {
            source_start::put(self.connection, source, begins)?;
        }
        self.beginnings.insert(source, begins);
        Ok(())
    }

    fn import(&mut self, import: EntryId) -> Result<i64, StoreError> {
        if let Some(slot) = self.imports.get(&import) {
            return Ok(*slot);
        }
        let slot = self.slot(
            "SELECT slot FROM import WHERE id = ?",
            "INSERT INTO import (id) VALUES (?)",
            import.0.as_bytes(),
        )?;
        self.imports.insert(import, slot);
        Ok(slot)
    }

    fn slot(&self, find: &str, add: &str, key: &dyn rusqlite::ToSql) -> Result<i64, StoreError> {
        let found = self.connection.prepare_cached(find)?.query_row([key], |row| row.get(0)).optional()?;
        match found {
            Some(slot) => Ok(slot),
            None => Ok(self.connection.prepare_cached(add)?.insert([key])?),
        }
    }

    /// The slots of the first and the last import, which have one each by now.
    fn slots(&self, came: Provenance) -> Result<(Option<i64>, Option<i64>), StoreError> {
        let find = |import: EntryId| -> Result<i64, StoreError> {
            match self.imports.get(&import) {
                Some(slot) => Ok(*slot),
                None => Ok(self
                    .connection
                    .prepare_cached("SELECT slot FROM import WHERE id = ?")?
                    .query_row([import.0.as_bytes()], |row| row.get(0))?),
            }
        };
        match came {
            Provenance::Alone => Ok((None, None)),
            Provenance::With { first, last } if first == last => Ok((Some(find(first)?), None)),
            Provenance::With { first, last } => Ok((Some(find(first)?), Some(find(last)?))),
        }
    }
}

/// An import under way, inside a transaction of the caller's. Its own entry is written with the first that it brings.
pub(crate) struct Importing<'c> {
    connection: &'c Connection,
    writer: Writer<'c>,
    import: Entry,
    begun: bool,
    /// A failure of the log's own, which is returned in place of what it made of the reading.
    fault: Option<StoreError>,
}

impl<'c> Importing<'c> {
    pub(super) fn begin(connection: &'c Connection, import: Entry) -> Result<Self, StoreError> {
        Ok(Self { connection, writer: Writer::begin(connection)?, import, begun: false, fault: None })
    }

    /// The entry with this identity that the log has otherwise than by this import.
    pub(crate) fn known_before(&mut self, id: EntryId) -> Result<Option<Entry>> {
        let found = read::known_otherwise(self.connection, id, self.import.id);
        self.unless_failed(found)
    }

    /// What holds at a moment, by what was brought so far.
    pub(crate) fn current(&mut self, at: Moment) -> Result<Vec<Entry>> {
        let found = read::current(self.connection, read::Stretch::new(at, at));
        self.unless_failed(found)
    }

    /// Brings an entry.
    pub(crate) fn put(&mut self, entry: Entry) -> Result<()> {
        let put = self.try_put(entry);
        self.unless_failed(put)
    }

    fn try_put(&mut self, entry: Entry) -> Result<(), StoreError> {
        if !self.begun {
            Writer::begin(self.connection)?.put(&self.import, Origin::Said)?;
            self.begun = true;
        }
        self.writer.put(&Entry { import: Some(self.import.id), ..entry }, Origin::Brought).map(drop)
    }

    fn unless_failed<T>(&mut self, done: Result<T, StoreError>) -> Result<T> {
        done.map_err(|fault| {
            self.fault = Some(fault);
            Error::Invalid { what: Quantity::Entry, why: Why::CannotBeTaken }
        })
    }

    pub(super) fn end<T>(self, brought: Result<T>) -> Result<(T, Option<Imported>), StoreError> {
        let brought = match self.fault {
            Some(fault) => return Err(fault),
            None => brought?,
        };
        let imported = self.begun.then(|| Imported { id: self.import.id, recorded: self.writer.finish() });
        Ok((brought, imported))
    }
}
