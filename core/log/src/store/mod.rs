//! The log on disk: one SQLite file that only ever gains facts.
//!
//! What has been acknowledged (a call came back without an error) survives a killed program and a lost battery: every
//! change is one transaction, written through to the disk. Opening never destroys anything: a damaged file, a newer
//! layout and a file that is not an Ebbstead log are refused and left as they are. Several handles and processes may use one file.
//!
//! The store keeps what was said and returns what holds; the rules for that are those of `crate::log::current::Standing`, to which
//! the model in `crate::log::resolve` holds it in tests. It judges nothing else. It has no clock: `now` always comes from the caller.

mod log_merge;
mod log_read;
mod log_settings;
mod log_write;
mod merge;
mod open;
mod read;
mod recover;
mod rows;
mod schema;
mod settings;
mod sound_view;
mod source_start;
mod sqlite_error;
mod staging;
mod undo;
mod wal;
mod write;

use std::path::{Path, PathBuf};
use std::time::Duration;

use rusqlite::{Connection, TransactionBehavior};
use uuid::Uuid;

pub use merge::{Agreement, Brings, Facts, Hidden, MergePreview, MergeWarning, Whole};
pub(crate) use open::SQLITE_MAGIC;
pub(crate) use open::is_of_a_log;
pub use read::Count;
pub use recover::Recovered;
pub use settings::{Learned, StoredSetting};
pub use sound_view::FoundDamage;
pub use sqlite_error::of_file;
pub use staging::{Conflict, More, Stage, Staged};
pub use undo::Undone;
pub use write::Recorded;

use crate::error::{Damage, Error, Result};
use crate::log::EntryId;
use crate::store::open::Access;
use crate::store::sound_view::Around;
use crate::store::sqlite_error::StoreError;
use crate::time::Moment;
use crate::wearer::Wearer;

/// An open log.
///
/// Closed when dropped. It can be sent to another thread but not shared; give each thread its own handle, or a mutex.
///
/// # Example
/// ```
/// use ebbstead_log::log::{Entry, Source, EntryKind};
/// use ebbstead_log::store::Log;
/// use ebbstead_engine::time::Moment;
/// use ebbstead_engine::units::Glucose;
///
/// let now = Moment::parse("2026-03-01T03:05:00+01:00")?;
/// let mut log = Log::in_memory(now)?;
/// let reading = EntryKind::SensorReading { mg_dl: Glucose::from_mg_dl(104.0)? };
/// let entry = Entry::new(now, now, Source::new("sensor 7")?, reading)?;
/// assert_eq!(log.record(&entry)?.new, 1);
/// assert_eq!(log.record(&entry)?.known, 1);
/// assert_eq!(log.history(now, now)?.readings.len(), 1);
/// # Ok::<(), ebbstead_log::Error>(())
/// ```
#[derive(Debug)]
pub struct Log {
    connection: Connection,
    path: PathBuf,
    access: Access,
    /// How damage is gone around; nothing where it is refused.
    around: Option<Around>,
    /// Which file was opened; nothing for a log in memory.
    opened: Option<FileMark>,
    /// Whether the file was there and empty as it was opened.
    was_empty: bool,
    /// How long to wait for another program that writes.
    patience: Duration,
    /// What holds as long as the wearer has set nothing.
    unset: Wearer,
}

/// Which file a path names: another one there, or none, is not the log that was opened.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct FileMark(u64, u64);

impl FileMark {
    #[cfg(unix)]
    fn of(path: &Path) -> Option<Self> {
        use std::os::unix::fs::MetadataExt;
        std::fs::metadata(path).ok().map(|found| Self(found.dev(), found.ino()))
    }

    /// Elsewhere an open file can be neither deleted nor replaced.
    #[cfg(not(unix))]
    fn of(_: &Path) -> Option<Self> {
        None
    }
}

/// Stands for the state of a log; differs after every change, by whichever handle or process it was made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Revision {
    others: i64,
    own: u64,
}

/// What an import did.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Imported {
    /// The import's entry. Retracting it takes the import back.
    pub id: EntryId,
    /// What became of its entries; the import's own entry is not counted.
    pub recorded: Recorded,
}

impl Log {
    /// Opens the log at `path`, or makes it where there is no file or an empty one.
    ///
    /// A new file can be read by its owner only. The folder must exist. Where the file or its folder cannot be written
    /// the log opens for reading, and [`Log::is_read_only`] says so.
    ///
    /// # Errors
    /// - [`Error::NotALog`] for a file that is no log; [`Error::NewerLog`] for one of a newer version;
    /// - [`Error::DamagedLog`] where the damage shows at once, or where the file is missing or empty while entries wait
    ///   in its side file; [`Log::check`] looks everywhere;
    /// - [`Error::File`] where the path names a folder or the system refuses it;
    /// - [`Error::ReadOnly`] where there is no log yet and nothing may be written; one of an older version is read as it is;
    /// - [`Error::DiskFull`], [`Error::Busy`], [`Error::Database`].
    ///
    /// The file is left as it is in every one of these cases.
    pub fn open(path: impl AsRef<Path>, now: Moment) -> Result<Self> {
        let given = path.as_ref();
        // Made absolute, so that neither a name SQLite treats specially nor a change of folder leads elsewhere.
        let path = std::path::absolute(given).map_err(|source| Error::File { path: given.to_owned(), source })?;
        let was_empty = open::is_empty_file(&path);
        let (connection, access) = open::open(&path, now)?;
        let opened = FileMark::of(&path);
        Ok(Self { opened, was_empty, ..Self::on(connection, path, access) })
    }

    /// As [`Log::open`], for a caller that needs an answer more than a refusal: where the log is damaged, or its disk has no room
    /// even to be read by SQLite, what is sound is read all the same.
    ///
    /// [`Log::damage`] says whether damage was found, and grows with every question. Such a log can be written where the damage
    /// does not stand in the way; where entries in its side file do, writing is [`Error::DamagedLog`] until it was recovered.
    ///
    /// # Errors
    /// As [`Log::open`]; [`Error::DamagedLog`] only where nothing of a log can be read.
    pub fn open_sound(path: impl AsRef<Path>, now: Moment) -> Result<Self> {
        let around = Around::new(now);
        let path = path.as_ref();
        let absolute = std::path::absolute(path).map_err(|source| Error::File { path: path.to_owned(), source })?;
        let was_empty = open::is_empty_file(&absolute);
        // What SQLite cannot be let near is read without it.
        let (connection, access) = match open::open(&absolute, now) {
            Ok(opened) => opened,
            Err(error) => {
                let view = recover::view(&absolute, now);
                match (error, view) {
                    (Error::DamagedLog { path, what }, Ok(view)) => {
                        around.damage.note(&path, what);
                        (view, Access::Read)
                    }
                    (Error::DiskFull { .. }, Ok(view)) => (view, Access::ReadForWantOfRoom),
                    (Error::ReadOnly { .. } | Error::File { .. }, Ok(view)) => (view, Access::Read),
                    (error, _) => return Err(error),
                }
            }
        };
        let opened = FileMark::of(&absolute);
        Ok(Self { around: Some(around), opened, was_empty, ..Self::on(connection, absolute, access) })
    }

    /// How long a change waits for another program that writes, unless [`Log::wait_at_most`] says otherwise.
    pub const PATIENCE: Duration = open::PATIENCE;

    /// Waits at most this long for another program that writes, in place of [`Log::PATIENCE`].
    ///
    /// # Errors
    /// [`Error::Database`].
    pub fn wait_at_most(&mut self, patience: Duration) -> Result<()> {
        self.patience = patience;
        self.connection.busy_timeout(patience).map_err(|error| StoreError::from(error).of(&self.path))
    }

    /// Whether damage was found, of a log opened by [`Log::open_sound`]; one that refuses damage reports none.
    #[must_use]
    pub fn damage(&self) -> FoundDamage {
        self.around.as_ref().map(|around| around.damage.clone()).unwrap_or_default()
    }

    /// Looks through the pages and indexes, so that rows that are there and cannot be reached are noticed: about half a second
    /// for a million readings. The checksums of the rows are checked as they are read, and all of them by [`Log::check`].
    ///
    /// # Errors
    /// [`Error::DamagedLog`] for a log that refuses damage, or of which nothing can be read; those of [`Log::history`].
    pub fn look_through(&self) -> Result<()> {
        // Asked of the file, and gone around where it is damaged.
        self.read(pages_are_sound)
    }

    /// Whether the file that was opened is still at its path. Where it was deleted, moved or replaced, what is read is what it
    /// held, and nothing can be written any more ([`Error::Gone`]).
    #[must_use]
    pub fn is_in_place(&self) -> bool {
        self.opened.as_ref().is_none_or(|opened| FileMark::of(&self.path).as_ref() == Some(opened))
    }

    /// Opens a log to read it alone, as one that came from elsewhere: it is never made, changed or brought up to date.
    ///
    /// # Errors
    /// As [`Log::open`], and [`Error::File`] where there is no file.
    pub fn open_to_read(path: impl AsRef<Path>) -> Result<Self> {
        let given = path.as_ref();
        let path = std::path::absolute(given).map_err(|source| Error::File { path: given.to_owned(), source })?;
        let connection = open::open_to_read(&path)?;
        let opened = FileMark::of(&path);
        Ok(Self { opened, ..Self::on(connection, path, Access::Read) })
    }

    /// Saves what can be read of a damaged log into a new one at `into`. The damaged file is only read, and kept.
    ///
    /// What is saved is what was written: each row carries a checksum. The new log has an identity of its own, and what was
    /// said on this device can be taken back there entry by entry, but no longer by [`Log::undo_last`].
    ///
    /// # Errors
    /// [`Error::NotALog`] where nothing of a log is found; [`Error::File`] where `into` is there already or a file cannot
    /// be read; those of [`Log::open`]. Nothing is left at `into` in any of these cases.
    pub fn recover(damaged: impl AsRef<Path>, into: impl AsRef<Path>, now: Moment) -> Result<Recovered> {
        recover::recover(damaged.as_ref(), into.as_ref(), now)
    }

    /// Makes a log that lives in memory and is gone when dropped: for demonstrations, tests and trying things out.
    ///
    /// # Errors
    /// [`Error::Database`].
    pub fn in_memory(now: Moment) -> Result<Self> {
        let path = PathBuf::from("memory");
        let connection = open::in_memory(now).map_err(|fault| fault.of(&path))?;
        Ok(Self::on(connection, path, Access::Write))
    }

    /// A log on a connection, without what only some ways of opening one know.
    fn on(connection: Connection, path: PathBuf, access: Access) -> Self {
        let (around, opened) = (None, None);
        let (patience, unset) = (open::PATIENCE, Wearer::default());
        Self { connection, path, access, around, opened, was_empty: false, patience, unset }
    }

    /// Where the log is.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Whether this opening found the file there and empty, and began a log in it: what an earlier log held is gone, if there was one.
    #[must_use]
    pub const fn was_empty(&self) -> bool {
        self.was_empty
    }

    /// Whether the log can only be read, because of its file, its folder or the disk.
    #[must_use]
    pub const fn is_read_only(&self) -> bool {
        !matches!(self.access, Access::Write)
    }

    /// Why a log that can only be read takes nothing: the damage found in it, a full disk, or that it may not be written. Nothing for
    /// one that can be written.
    #[must_use]
    pub fn why_read_only(&self) -> Option<Error> {
        self.is_read_only().then(|| self.damage().found().unwrap_or_else(|| self.takes_nothing()))
    }

    /// The same, of its file, its folder or the disk alone.
    fn takes_nothing(&self) -> Error {
        let path = self.path.clone();
        match self.access {
            Access::ReadForWantOfRoom => Error::DiskFull { path },
            Access::Read | Access::Write => Error::ReadOnly { path },
        }
    }

    /// The identity this log got when it was made. A copy of the file has the same.
    ///
    /// # Errors
    /// As [`Log::history`].
    pub fn id(&self) -> Result<Uuid> {
        self.read(schema::identity)
    }

    /// A mark of the log's present state. While it stays equal nothing has changed; asking is cheap.
    ///
    /// # Errors
    /// As [`Log::history`].
    pub fn revision(&self) -> Result<Revision> {
        self.read(|connection| {
            // data_version moves when another connection commits, total_changes when this one writes.
            let others = connection.pragma_query_value(None, "data_version", |row| row.get(0))?;
            Ok(Revision { others, own: connection.total_changes() })
        })
    }

    /// Looks through the whole file: the pages, the indexes, the ranges, and the checksum of every row.
    ///
    /// Takes time in proportion to the log.
    ///
    /// # Errors
    /// [`Error::DamagedLog`] naming the first damage found; those of [`Log::history`].
    pub fn check(&self) -> Result<()> {
        on(&self.connection, check_all).map_err(|fault| fault.of(&self.path))
    }

    /// Runs `ask` on one unchanging state of the log; again on what is sound of it, where it finds damage and goes around it.
    fn read<T>(&self, ask: impl Fn(&Connection) -> Result<T, StoreError>) -> Result<T> {
        let Some(around) = &self.around else {
            return on(&self.connection, ask).map_err(|fault| fault.of(&self.path));
        };
        if let Some(view) = around.view() {
            return on(view, ask).map_err(|fault| fault.of(&self.path));
        }
        let fault = match on(&self.connection, &ask) {
            Ok(done) => return Ok(done),
            Err(fault) => fault,
        };
        let what = fault.into_damage(&self.path)?;
        match around.go(&self.path, what) {
            Some(view) => on(view, ask).map_err(|fault| fault.of(&self.path)),
            None => Err(Error::DamagedLog { path: self.path.clone(), what }),
        }
    }

    /// As [`Log::read`], of a question that hands out what it finds and so can be asked once only: where damage is to be gone
    /// around, the whole log is looked through first.
    fn read_once<T>(&self, ask: impl FnOnce(&Connection) -> Result<T, StoreError>) -> Result<T> {
        if self.around.is_some() {
            self.read(check_all)?;
        }
        let view = self.around.as_ref().and_then(Around::view);
        on(view.unwrap_or(&self.connection), ask).map_err(|fault| fault.of(&self.path))
    }

    /// Runs `change` and keeps all of it, or nothing if it fails.
    fn write<T>(&mut self, change: impl FnOnce(&Connection) -> Result<T, StoreError>) -> Result<T> {
        self.transact(change, true)
    }

    /// Runs `change` and keeps nothing of it: on a copy in memory, so that no other program waits for it; a log that lives there itself is
    /// its own copy.
    fn tried<T>(&mut self, change: impl FnOnce(&Connection) -> Result<T, StoreError>) -> Result<T> {
        if self.is_read_only() || self.opened.is_none() {
            return self.transact(change, false);
        }
        self.on_copy(change)?.ok_or_else(|| self.takes_nothing())
    }

    /// As [`Log::tried`]; nothing where the log is in memory.
    fn on_copy<T>(&self, change: impl FnOnce(&Connection) -> Result<T, StoreError>) -> Result<Option<T>> {
        if self.is_read_only() || self.opened.is_none() {
            return Ok(None);
        }
        let run = || -> Result<T, StoreError> { change(&schema::copy(&self.connection, &self.path)?) };
        run().map(Some).map_err(|fault| fault.of(&self.path))
    }

    fn transact<T>(&mut self, change: impl FnOnce(&Connection) -> Result<T, StoreError>, keep: bool) -> Result<T> {
        if let Some(error) = self.why_read_only() {
            return Err(error);
        }
        if !self.is_in_place() {
            return Err(Error::Gone { path: self.path.clone() });
        }
        let run = || -> Result<T, StoreError> {
            // Immediate: a transaction that reads first and writes later could find that another process wrote between.
            let transaction = self.connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
            let done = change(&transaction)?;
            if keep {
                transaction.commit()?;
            } else {
                transaction.rollback()?;
            }
            Ok(done)
        };
        let done = run().map_err(|fault| fault.of(&self.path))?;
        if let Some(around) = self.around.as_mut() {
            around.forget();
        }
        if keep {
            open::settle(&self.connection, self.patience);
            // It may have gone while it was written to.
            if !self.is_in_place() {
                return Err(Error::Gone { path: self.path.clone() });
            }
        }
        Ok(done)
    }
}

/// Runs `ask` on one unchanging state.
fn on<T>(connection: &Connection, ask: impl FnOnce(&Connection) -> Result<T, StoreError>) -> Result<T, StoreError> {
    let snapshot = connection.unchecked_transaction()?;
    ask(&snapshot)
}

/// Checks that the pages, the layout and the indexes fit together.
fn pages_are_sound(connection: &Connection) -> Result<(), StoreError> {
    schema::check(connection)?;
    // The ranges are those of the types that rows are read into, and take a fifth of the time.
    connection.pragma_update(None, "ignore_check_constraints", true)?;
    let found: rusqlite::Result<String> = connection.query_row("PRAGMA integrity_check(1)", [], |row| row.get(0));
    connection.pragma_update(None, "ignore_check_constraints", false)?;
    if found? != "ok" {
        return Err(StoreError::Damaged(Damage::Pages));
    }
    schema::identity(connection).map(drop)
}

/// Checks everything there is to check.
fn check_all(connection: &Connection) -> Result<(), StoreError> {
    schema::check(connection)?;
    let found: String = connection.query_row("PRAGMA integrity_check(1)", [], |row| row.get(0))?;
    if found != "ok" {
        return Err(StoreError::Damaged(Damage::Pages));
    }
    let strays = connection.prepare("PRAGMA foreign_key_check")?.exists([])?;
    if strays {
        return Err(StoreError::Damaged(Damage::Stray));
    }
    schema::identity(connection)?;
    read::each_fact(connection, |_| Ok(()))?;
    source_start::check(connection)?;
    settings::check(connection)
}

#[cfg(test)]
mod tests;
