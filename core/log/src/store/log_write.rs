//! What is written into a log: entries, imports, corrections, undoing.

use rusqlite::Connection;

use super::write::{Importing, Recorded, Writer};
use super::{Imported, Log, Undone, read, undo};
#[cfg(doc)]
use crate::error::Error;
use crate::error::Result;
use crate::log::{Entry, EntryId, EntryKind, Source, Text};
use crate::store::rows::Origin;
use crate::store::sqlite_error::StoreError;
use crate::time::Moment;

impl Log {
    /// Records one entry.
    ///
    /// Use [`Log::record_all`] for what came from another log; only what is recorded here can be undone here.
    ///
    /// # Errors
    /// As [`Log::record_all`].
    pub fn record(&mut self, entry: &Entry) -> Result<Recorded> {
        self.record_all_said(std::slice::from_ref(entry))
    }

    /// Records what somebody says of a time, by hand and as an entry of its own.
    ///
    /// # Errors
    /// As [`Log::record_all`].
    pub fn note(&mut self, what: EntryKind, at: Moment, now: Moment) -> Result<Entry> {
        let entry = Entry::new(at, now, Source::by_hand(), what)?;
        self.record(&entry)?;
        Ok(entry)
    }

    /// As [`Log::record`], of several in one transaction.
    ///
    /// # Errors
    /// As [`Log::record_all`].
    pub fn record_all_said(&mut self, entries: &[Entry]) -> Result<Recorded> {
        self.write(|connection| {
            let mut writer = Writer::begin(connection)?;
            for entry in entries {
                let origin = match entry.what {
                    EntryKind::SensorReading { .. } | EntryKind::SensorBeyond { .. } => Origin::Brought,
                    _ => Origin::Said,
                };
                writer.put(entry, origin)?;
            }
            Ok(writer.finish())
        })
    }

    /// Records entries in one transaction: all of them, or none if one cannot be taken.
    ///
    /// Their order does not matter and recording one again changes nothing. Recording every fact of another log (see
    /// [`Log::each_fact`]) makes this log the union of both.
    ///
    /// # Errors
    /// - [`Error::OutOfRange`], [`Error::Invalid`] for an entry that cannot be, as [`Entry::check`];
    /// - [`Error::ReadOnly`], [`Error::DiskFull`], [`Error::Busy`], [`Error::DamagedLog`], [`Error::Database`].
    ///
    /// Nothing is written in any of these cases.
    pub fn record_all(&mut self, entries: impl IntoIterator<Item = Entry>) -> Result<Recorded> {
        self.write(|connection| put_all(connection, entries.into_iter().map(Ok)))
    }

    /// Brings in entries that a caller already has as a whole, which can be taken back as a whole. A file is read with
    /// [`Log::import_file`].
    ///
    /// `entries` may fail, as reading a file may; then nothing is written and its error is returned. Taking the import
    /// back ([`Log::retract`] of [`Imported::id`]) hides what came with no other import and not on its own.
    ///
    /// # Errors
    /// Those of `entries` and of [`Log::record_all`].
    pub fn import(
        &mut self,
        name: Text,
        entries: impl IntoIterator<Item = Result<Entry>>,
        now: Moment,
    ) -> Result<Imported> {
        let import = Entry::new(now, now, Source::by_hand(), EntryKind::Import { name })?;
        let id = import.id;
        self.write(|connection| {
            Writer::begin(connection)?.put(&import, Origin::Said)?;
            let with_import = |entry: Result<Entry>| entry.map(|entry| Entry { import: Some(id), ..entry });
            let recorded = put_all(connection, entries.into_iter().map(with_import))?;
            Ok(Imported { id, recorded })
        })
    }

    /// As [`Log::import`], of entries that `bring` hands over one by one as it reads them, each of which it may weigh
    /// against what the log knew before. Where it hands over none, nothing is written.
    pub(crate) fn import_while<T>(
        &mut self,
        name: Text,
        now: Moment,
        bring: impl FnOnce(&mut Importing<'_>) -> Result<T>,
    ) -> Result<(T, Option<Imported>)> {
        let import = Entry::new(now, now, Source::by_hand(), EntryKind::Import { name })?;
        self.write(|connection| {
            let mut importing = Importing::begin(connection, import)?;
            let brought = bring(&mut importing);
            importing.end(brought)
        })
    }

    /// The imports, oldest first, each with whether it stands or was taken back.
    ///
    /// # Errors
    /// As [`Log::history`].
    pub fn imports(&self) -> Result<Vec<(Entry, bool)>> {
        self.read(read::imports)
    }

    /// Corrects an entry, or brings back a hidden one, by adding an entry that replaces what speaks for it now.
    ///
    /// # Errors
    /// [`Error::NoSuchEntry`]; [`Error::Invalid`] where the correction would not hold; those of [`Log::record_all`].
    pub fn correct(&mut self, id: EntryId, at: Moment, what: EntryKind, now: Moment) -> Result<Entry> {
        self.write(|connection| undo::correct(connection, id, at, what, now))
    }

    /// Hides an entry and its corrections, or takes back an import. Of a hidden entry, returns what hides it.
    ///
    /// # Errors
    /// [`Error::NoSuchEntry`]; those of [`Log::record_all`].
    pub fn retract(&mut self, id: EntryId, now: Moment) -> Result<Entry> {
        self.write(|connection| undo::retract(connection, id, now))
    }

    /// Undoes what was said last on this device and is not undone: an entry is hidden, a correction or retraction gives
    /// way to what stood before it, an import is taken back. Again, it undoes what was said before that.
    ///
    /// Returns nothing where there is nothing left to undo. Sensor readings and other logs' entries are not undone.
    ///
    /// # Errors
    /// As [`Log::record_all`].
    pub fn undo_last(&mut self, now: Moment) -> Result<Option<Undone>> {
        self.write(|connection| undo::undo_last(connection, now))
    }
}

fn put_all(connection: &Connection, entries: impl Iterator<Item = Result<Entry>>) -> Result<Recorded, StoreError> {
    let mut writer = Writer::begin(connection)?;
    for entry in entries {
        writer.put(&entry?, Origin::Brought)?;
    }
    Ok(writer.finish())
}
