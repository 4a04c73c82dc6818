//! The log on disk: one SQLite file that only ever gains facts.
//!
//! What has been acknowledged (a call came back without an error) survives a killed program and a lost battery: every
//! change is one transaction, written through to the disk. Opening never destroys anything: a damaged file, a newer
//! layout and a file of somebody else are refused and left as they are. Several handles and processes may use one file.
//!
//! The store keeps what was said and returns what holds; the rules for that are [`crate::log::resolve`]'s. It judges
//! nothing else. It has no clock: `now` always comes from the caller.

mod act;
mod around;
mod beginning;
mod fault;
mod merge;
mod open;
mod read;
mod recover;
mod rows;
mod schema;
mod settings;
mod side;
mod staging;
mod write;

use std::path::{Path, PathBuf};
use std::time::Duration;

use rusqlite::{Connection, TransactionBehavior};
use serde::Serialize;
use serde::de::DeserializeOwned;
use uuid::Uuid;

pub use act::Undone;
pub use around::Damage;
pub use fault::of_file;
pub use merge::{Agreement, Brings, Facts, Hidden, MergePreview, MergeWarning, Whole};
pub(crate) use open::SQLITE_MAGIC;
pub(crate) use open::is_of_a_log;
pub(crate) use read::Carried;
pub use read::{Contradiction, Count};
pub use recover::Recovered;
pub use settings::{Learned, StoredSetting};
pub use staging::{Conflict, More, Stage, Staged};
pub use write::Recorded;

use crate::error::{Error, Result};
use crate::log::{Entry, EntryId, EntryKind, History, Reading, Source, Text};
use crate::store::around::Around;
use crate::store::fault::StoreError;
use crate::store::open::Access;
use crate::store::read::{Chain, Stretch};
use crate::store::rows::Origin;
use crate::store::write::{Importing, Writer};
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

    /// As [`Log::open`], for whoever needs an answer more than a refusal: where the log is damaged, or its disk has no room
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
                        around.damage.note(&path, &what);
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
    pub fn damage(&self) -> Damage {
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

    /// Records one entry.
    ///
    /// Use [`Log::record_all`] for what came from another log; only what is recorded here can be undone here.
    ///
    /// # Errors
    /// As [`Log::record_all`].
    pub fn record(&mut self, entry: &Entry) -> Result<Recorded> {
        self.record_all_said(std::slice::from_ref(entry))
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

    /// What [`Log::record_all`] would do, without doing it.
    ///
    /// # Errors
    /// As [`Log::record_all`].
    pub fn rehearse(&mut self, entries: impl IntoIterator<Item = Entry>) -> Result<Recorded> {
        self.tried(|connection| put_all(connection, entries.into_iter().map(Ok)))
    }

    /// Brings in a file's or another bulk's entries as a whole, which can be taken back as a whole.
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
        self.write(|connection| act::correct(connection, id, at, what, now))
    }

    /// Hides an entry and its corrections, or takes back an import. Of a hidden entry, returns what hides it.
    ///
    /// # Errors
    /// [`Error::NoSuchEntry`]; those of [`Log::record_all`].
    pub fn retract(&mut self, id: EntryId, now: Moment) -> Result<Entry> {
        self.write(|connection| act::retract(connection, id, now))
    }

    /// Undoes what was said last on this device and is not undone: an entry is hidden, a correction or retraction gives
    /// way to what stood before it, an import is taken back. Again, it undoes what was said before that.
    ///
    /// Returns nothing where there is nothing left to undo. Sensor readings and other logs' entries are not undone.
    ///
    /// # Errors
    /// As [`Log::record_all`].
    pub fn undo_last(&mut self, now: Moment) -> Result<Option<Undone>> {
        self.write(|connection| act::undo_last(connection, now))
    }

    /// Every fact with a time in the stretch, both ends included, replaced and hidden ones too, by time, then as they were
    /// recorded.
    ///
    /// # Errors
    /// As [`Log::history`].
    pub fn entries(&self, from: Moment, until: Moment) -> Result<Vec<Entry>> {
        self.read(|connection| read::entries(connection, Stretch::new(from, until)))
    }

    /// As [`Log::entries`], for a copy that says nothing of imports: without what came only with such as were taken back, which would
    /// hold again there.
    pub(crate) fn carried(&self, from: Moment, until: Moment) -> Result<Carried> {
        self.read(|connection| read::carried(connection, Stretch::new(from, until)))
    }

    /// The entries of the stretch, both ends included, that hold: not corrected, not hidden; by time, then as
    /// they were recorded.
    ///
    /// # Errors
    /// As [`Log::history`].
    pub fn current(&self, from: Moment, until: Moment) -> Result<Vec<Entry>> {
        self.read(|connection| read::current(connection, Stretch::new(from, until)))
    }

    /// What holds in the stretch, both ends included, by kind. Sleep, activities and pressed spells that began before
    /// and reach into it belong to it.
    ///
    /// Entries outside the stretch that correct or hide entries inside are heeded.
    ///
    /// # Errors
    /// [`Error::DamagedLog`], [`Error::Busy`], [`Error::Database`].
    pub fn history(&self, from: Moment, until: Moment) -> Result<History> {
        self.read(|connection| read::history(connection, Stretch::new(from, until)))
    }

    /// As [`Log::history`], to ask the engine of: where readings come faster than it uses ([`APART_MS`](crate::log::APART_MS)), most are
    /// left out. Where they do not, it is the same.
    ///
    /// # Errors
    /// As [`Log::history`].
    pub fn history_to_ask(&self, from: Moment, until: Moment) -> Result<History> {
        self.read(|connection| read::history_to_ask(connection, Stretch::new(from, until)))
    }

    /// The entry with this identity, whether it holds or not.
    ///
    /// # Errors
    /// As [`Log::history`].
    pub fn get(&self, id: EntryId) -> Result<Option<Entry>> {
        self.read(|connection| read::get(connection, id))
    }

    /// All that was ever said about one thing, in the order it was recorded: the entry, its corrections, its retractions.
    ///
    /// # Errors
    /// As [`Log::history`].
    pub fn trail(&self, id: EntryId) -> Result<Vec<Entry>> {
        self.read(|connection| Ok(Chain::of(connection, id)?.trail(id)))
    }

    /// The newest reading that holds; the lowest, where several claim its instant.
    ///
    /// # Errors
    /// As [`Log::history`].
    pub fn newest_reading(&self) -> Result<Option<Reading>> {
        self.read(read::newest_reading)
    }

    /// When the newest reading of a source is from that came on its own, not with a file, since a time: what a device sent before is
    /// asked of it no more. Whether it holds does not matter: a reading that was taken back would come back hidden.
    ///
    /// # Errors
    /// As [`Log::history`].
    pub fn newest_received(&self, source: &Source, since: Moment) -> Result<Option<Moment>> {
        self.read(|connection| read::newest_received(connection, source, since))
    }

    /// The sources of which there are readings, by name.
    ///
    /// # Errors
    /// As [`Log::history`].
    pub fn sensors(&self) -> Result<Vec<Source>> {
        self.read(read::sensors)
    }

    /// Counts the facts; takes time in proportion to them.
    ///
    /// # Errors
    /// As [`Log::history`].
    pub fn count(&self) -> Result<Count> {
        self.read(read::count)
    }

    /// Whether nothing was ever recorded in the log: no reading, and no entry but prompts that were shown.
    ///
    /// # Errors
    /// As [`Log::history`].
    pub fn is_unused(&self) -> Result<bool> {
        self.read(read::is_unused)
    }

    /// The earliest and the latest time of any entry, in UTC; nothing where there is none.
    ///
    /// # Errors
    /// As [`Log::history`].
    pub fn span(&self) -> Result<Option<(Moment, Moment)>> {
        let Some((first, last)) = self.read(read::bounds)? else { return Ok(None) };
        Ok(Some((Moment::new(first, 0)?, Moment::new(last, 0)?)))
    }

    /// Instants of the stretch, both ends included, at which one source is said to have read different amounts.
    ///
    /// # Errors
    /// As [`Log::history`].
    pub fn contradictions(&self, from: Moment, until: Moment) -> Result<Vec<Contradiction>> {
        self.read(|connection| read::contradictions(connection, Stretch::new(from, until)))
    }

    /// Gives every fact of the log, one after the other, as it stands at the moment of the call: sensor readings last, in
    /// the order of their times.
    ///
    /// Recording them all in another log makes that log the union of both. A fact that came with two imports is given
    /// twice.
    ///
    /// # Errors
    /// Those of `visit`, which end the iteration, and those of [`Log::history`].
    pub fn each_fact(&self, visit: impl FnMut(Entry) -> Result<()>) -> Result<()> {
        self.read_once(|connection| read::each_fact(connection, visit))
    }

    /// Adds every fact of another log, so that this one holds the union of both, in one transaction.
    ///
    /// Merging is commutative, associative and idempotent, corrections, retractions and taken-back imports included:
    /// phones that merged each other's logs, in whatever order, show the same. Settings and what was learned stay each
    /// log's own. It asks nothing; [`Log::preview_merge`] says beforehand what it would do and what speaks against it.
    ///
    /// # Errors
    /// As [`Log::record_all`] and, for `other`, [`Log::history`]. Nothing is written in any of these cases.
    pub fn merge(&mut self, other: &dyn Facts) -> Result<Recorded> {
        // What the log has already is found out on a copy, so that nobody waits to write for longer than the rest takes.
        let mut changing: Option<Vec<Entry>> = Some(Vec::new());
        let rehearsed = self.on_copy(|connection| {
            let mut before = connection.total_changes();
            merge::put_facts(connection, other, |entry, _| {
                let after = connection.total_changes();
                if after > before
                    && let Some(some) = changing.as_mut()
                {
                    some.push(entry.clone());
                    if some.len() > Self::MOST_HELD {
                        changing = None;
                    }
                }
                before = after;
            })
        })?;
        let (Some(changing), Some(rehearsed)) = (changing, rehearsed) else {
            return self.write(|connection| merge::put_facts(connection, other, |_, _| {}));
        };
        if changing.is_empty() {
            return Ok(rehearsed);
        }
        let done = self.record_all(changing)?;
        Ok(Recorded { known: rehearsed.new + rehearsed.known - done.new, ..done })
    }

    /// The most entries held in memory while two logs are compared.
    const MOST_HELD: usize = 100_000;

    /// What [`Log::merge`] would do, without doing it.
    ///
    /// # Errors
    /// As [`Log::merge`].
    pub fn rehearse_merge(&mut self, other: &dyn Facts) -> Result<Recorded> {
        self.tried(|connection| merge::put_facts(connection, other, |_, _| {}))
    }

    /// Everything a wearer should know before [`Log::merge`]: what it would bring, what it would take back, whether the
    /// other log's readings fit the ones here, and what in it no phone writes by itself. Writes nothing.
    ///
    /// # Errors
    /// As [`Log::merge`].
    pub fn preview_merge(&mut self, other: &dyn Facts, now: Moment) -> Result<MergePreview> {
        let agreement = self.read(|connection| merge::agreement(connection, other))?;
        let preview = self.tried(|connection| merge::rehearse(connection, other, now))?;
        Ok(MergePreview { agreement, ..preview })
    }

    /// Takes over a whole log, with settings and what was learned where this one has none of its own. Only into a log
    /// that [is unused](Log::is_unused); a log that is in use adds another one's facts with [`Log::merge`].
    ///
    /// # Errors
    /// [`Error::Invalid`] where there are entries; those of [`Log::merge`]. Nothing is written in any of these cases.
    pub fn restore(&mut self, whole: &dyn Whole) -> Result<Recorded> {
        self.write(|connection| merge::restore(connection, whole))
    }

    /// Visits every setting, oldest first, and everything learned.
    ///
    /// # Errors
    /// Those of `visit`, which end the iteration, and those of [`Log::history`].
    pub fn each_kept(&self, visit: impl FnMut(StoredSetting) -> Result<()>) -> Result<()> {
        self.read_once(|connection| settings::each_kept(connection, visit))
    }

    /// When the log was written to last, if that lies ahead of `now` by more than device clocks differ: the clock was
    /// set back, and entries made now would look old.
    ///
    /// # Errors
    /// As [`Log::history`].
    pub fn clock_behind(&self, now: Moment) -> Result<Option<Moment>> {
        let last = self.read(read::last_recorded)?;
        Ok(last.filter(|last| last.unix_ms() > now.unix_ms().saturating_add(Entry::AHEAD_OF_CLOCK_MS)))
    }

    /// The wearer's settings; those of [`Log::until_set`] where none were set.
    ///
    /// # Errors
    /// As [`Log::history`].
    pub fn wearer(&self) -> Result<Wearer> {
        Ok(self.read(settings::wearer)?.unwrap_or_else(|| self.unset.clone()))
    }

    /// Says what holds as long as the wearer has set nothing, in place of the usual settings: the language in which they are asked. Nothing
    /// is kept of it.
    pub fn until_set(&mut self, unset: Wearer) {
        self.unset = unset;
    }

    /// Sets the wearer's settings. Earlier ones stay readable in [`Log::wearer_changes`].
    ///
    /// # Errors
    /// As [`Wearer::check`] and [`Log::record_all`].
    pub fn set_wearer(&mut self, wearer: &Wearer, now: Moment) -> Result<()> {
        self.write(|connection| settings::set_wearer(connection, wearer, now))
    }

    /// The settings as they were set, oldest first, each with the time it was set.
    ///
    /// # Errors
    /// As [`Log::history`].
    pub fn wearer_changes(&self) -> Result<Vec<(Moment, Wearer)>> {
        self.read(settings::wearer_changes)
    }

    /// Keeps something learned from the log under a name, in place of what was kept there.
    ///
    /// `evidence` says from how much it was learned, in words.
    ///
    /// # Errors
    /// [`Error::Invalid`] where it has no JSON form or one over 256 KiB, or the name is empty or over 80 bytes; those of [`Log::record_all`].
    pub fn learn<T: Serialize>(&mut self, name: &str, what: &T, evidence: &str, now: Moment) -> Result<()> {
        self.write(|connection| settings::learn(connection, name, what, evidence, now))
    }

    /// What was learned under a name; nothing where nothing was, or by a version that shaped it otherwise.
    ///
    /// # Errors
    /// As [`Log::history`].
    pub fn learned<T: DeserializeOwned>(&self, name: &str) -> Result<Option<Learned<T>>> {
        self.read(|connection| settings::learned(connection, name))
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
        match around.go(&self.path, &what) {
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

    /// Runs `change` and keeps nothing of it: on a copy in memory, so that nobody waits for it; a log that lives there itself is
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
        return Err(StoreError::Damaged("its pages contradict each other".to_owned()));
    }
    schema::identity(connection).map(drop)
}

/// Checks everything there is to check.
fn check_all(connection: &Connection) -> Result<(), StoreError> {
    schema::check(connection)?;
    let found: String = connection.query_row("PRAGMA integrity_check(1)", [], |row| row.get(0))?;
    if found != "ok" {
        return Err(StoreError::Damaged("its pages contradict each other".to_owned()));
    }
    let strays = connection.prepare("PRAGMA foreign_key_check")?.exists([])?;
    if strays {
        return Err(StoreError::Damaged("an entry names a source or import that is not there".to_owned()));
    }
    schema::identity(connection)?;
    read::each_fact(connection, |_| Ok(()))?;
    beginning::check(connection)?;
    settings::check(connection)
}

impl Facts for Log {
    fn each_fact(&self, visit: &mut dyn FnMut(Entry) -> Result<()>) -> Result<()> {
        self.each_fact(visit)
    }
}

impl Whole for Log {
    fn each_kept(&self, keep: &mut dyn FnMut(StoredSetting) -> Result<()>) -> Result<()> {
        self.each_kept(keep)
    }
}

fn put_all(connection: &Connection, entries: impl Iterator<Item = Result<Entry>>) -> Result<Recorded, StoreError> {
    let mut writer = Writer::begin(connection)?;
    for entry in entries {
        writer.put(&entry?, Origin::Brought)?;
    }
    Ok(writer.finish())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Glucose;

    fn now() -> Moment {
        Moment::parse("2026-03-01T12:00:00+01:00").unwrap()
    }

    fn readings(count: i32) -> impl Iterator<Item = Entry> {
        (0..count).map(|n| {
            let at = now().plus_minutes(-5.0 * f64::from(n));
            let what = EntryKind::SensorReading { mg_dl: Glucose::from_mg_dl(104.0).unwrap() };
            Entry::new(at, now(), Source::new("sensor 7").unwrap(), what).unwrap()
        })
    }

    fn place() -> (tempfile::TempDir, PathBuf) {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("log.ebb");
        (folder, path)
    }

    #[test]
    fn the_connection_is_what_the_promises_need() {
        let (_folder, path) = place();
        // Made, then opened again: some settings live in the file and some in the connection.
        for _ in 0..2 {
            let log = Log::open(&path, now()).unwrap();
            let text = |pragma: &str| -> String {
                let ask = |row: &rusqlite::Row<'_>| row.get::<_, rusqlite::types::Value>(0);
                match log.connection.pragma_query_value(None, pragma, ask).unwrap() {
                    rusqlite::types::Value::Integer(number) => number.to_string(),
                    rusqlite::types::Value::Text(text) => text,
                    other => panic!("{other:?}"),
                }
            };
            assert_eq!(text("journal_mode"), "wal");
            assert_eq!(text("synchronous"), "2", "FULL");
            assert_eq!(text("foreign_keys"), "1");
            assert_eq!(text("temp_store"), "2", "MEMORY");
            assert_eq!(text("busy_timeout"), "5000");
            assert_eq!(text("application_id"), i32::from_be_bytes(*b"Ebbs").to_string());
            assert_eq!(text("user_version"), schema::NEWEST.to_string());
            assert_eq!(text("trusted_schema"), "0");
            assert_eq!(text("cell_size_check"), "1");
            assert_eq!(text("journal_size_limit"), (4 << 20).to_string());
        }
    }

    #[test]
    fn the_tables_refuse_what_the_types_refuse() {
        let mut log = Log::in_memory(now()).unwrap();
        log.record_all(readings(1)).unwrap();
        log.record(
            &Entry::new(
                now(),
                now(),
                Source::by_hand(),
                EntryKind::MeterCheck { mg_dl: Glucose::from_mg_dl(99.0).unwrap() },
            )
            .unwrap(),
        )
        .unwrap();
        let refuses = |sql: &str| {
            let error = log.connection.execute(sql, []).expect_err(sql);
            assert_eq!(error.sqlite_error_code(), Some(rusqlite::ErrorCode::ConstraintViolation), "{sql}: {error}");
        };
        for amount in ["1999", "60001", "'104'", "NULL", "-1", "104.5"] {
            refuses(&format!("UPDATE reading SET amount = {amount}"));
        }
        for column in ["at_offset", "recorded_offset"] {
            refuses(&format!("UPDATE reading SET {column} = 961"));
        }
        refuses("UPDATE reading SET at = 0");
        refuses("UPDATE reading SET source = 99");
        refuses("UPDATE reading SET again = 1");
        refuses("UPDATE entry SET id = x'00'");
        refuses("UPDATE entry SET replaces = x'00'");
        for what in [
            r#"{"kind":"meter_check","mg_dl":19}"#,
            r#"{"kind":"meter_check","mg_dl":601}"#,
            r#"{"kind":"meter_check","mg_dl":"99"}"#,
            r#"{"kind":"meter_check"}"#,
            r#"{"kind":"insulin","units":0}"#,
            r#"{"kind":"insulin","units":151}"#,
            r#"{"kind":"carbohydrate","grams":501}"#,
            r#"{"kind":"activity","minutes":1441}"#,
            r#"{"kind":"alcohol","drinks":41}"#,
            r#"{"kind":"alcohol","drinks":0}"#,
            r#"{"kind":"ketones","mmol_l":-0.1}"#,
            r#"{"kind":"ketones","mmol_l":20.1}"#,
            r#"{"kind":"illness","illness":"tired"}"#,
            r#"{"kind":"symptom","felt":"fine"}"#,
            r#"{"kind":"sensor","event":"eaten"}"#,
            r#"{"kind":"note","text":""}"#,
            r#"{"kind":"retraction"}"#,
            r#"{"kind":"something else"}"#,
            "[]",
            "1",
        ] {
            refuses(&format!("UPDATE entry SET what = '{what}'"));
        }
        assert!(log.connection.execute("UPDATE entry SET what = '{'", []).is_err());
        log.check().unwrap();
    }

    #[test]
    fn a_full_disk_is_said_and_nothing_of_it_written() {
        let (_folder, path) = place();
        let mut log = Log::open(&path, now()).unwrap();
        log.record_all(readings(10)).unwrap();
        let pages: i64 = log.connection.pragma_query_value(None, "page_count", |row| row.get(0)).unwrap();
        // SQLite's own limit stands for the disk's; a real full disk is among the integration tests.
        log.connection.pragma_update_and_check(None, "max_page_count", pages + 2, |_| Ok(())).unwrap();
        let refused = log.record_all(readings(5000)).unwrap_err();
        assert!(matches!(refused, Error::DiskFull { .. }), "{refused}");
        assert_eq!(log.rehearse(readings(5000)).unwrap().new, 4990, "trying it out needs no room");
        assert_eq!(log.count().unwrap().readings, 10);
        log.connection.pragma_update_and_check(None, "max_page_count", 1 << 30, |_| Ok(())).unwrap();
        assert_eq!(log.record_all(readings(5000)).unwrap().new, 4990);
        log.check().unwrap();
    }

    #[test]
    fn a_log_that_another_program_keeps_writing_to_is_busy() {
        let (_folder, path) = place();
        let (mut log, other) = (Log::open(&path, now()).unwrap(), Log::open(&path, now()).unwrap());
        log.connection.busy_timeout(Duration::from_millis(20)).unwrap();
        other.connection.execute_batch("BEGIN IMMEDIATE").unwrap();
        let refused = log.record_all(readings(1)).unwrap_err();
        assert!(matches!(refused, Error::Busy { .. }), "{refused}");
        assert!(log.history(now(), now()).is_ok(), "reading goes on");
        other.connection.execute_batch("COMMIT").unwrap();
        assert_eq!(log.record_all(readings(1)).unwrap().new, 1);
    }

    #[test]
    fn a_changed_row_is_noticed_where_it_is_read() {
        let (_folder, path) = place();
        let mut log = Log::open(&path, now()).unwrap();
        log.record_all(readings(3)).unwrap();
        log.record(
            &Entry::new(
                now(),
                now(),
                Source::by_hand(),
                EntryKind::Carbohydrate { grams: 15.0, purpose: crate::log::Purpose::Rescue },
            )
            .unwrap(),
        )
        .unwrap();
        log.set_wearer(&Wearer::default(), now()).unwrap();
        log.learn("lag", &7, "a week", now()).unwrap();
        log.check().unwrap();
        let day_before = now().plus_minutes(-1440.0);
        for (change, back) in [
            ("UPDATE reading SET amount = amount + 1", "UPDATE reading SET amount = amount - 1"),
            (
                "UPDATE reading SET recorded_after = recorded_after + 1",
                "UPDATE reading SET recorded_after = recorded_after - 1",
            ),
            ("UPDATE entry SET what = replace(what, '15', '75')", "UPDATE entry SET what = replace(what, '75', '15')"),
            ("UPDATE entry SET said = 0", "UPDATE entry SET said = 1"),
        ] {
            log.connection.execute(change, []).unwrap();
            let refused = log.history(day_before, now()).unwrap_err();
            assert!(matches!(refused, Error::DamagedLog { .. }), "{change}: {refused}");
            assert!(matches!(log.check(), Err(Error::DamagedLog { .. })));
            log.connection.execute(back, []).unwrap();
            log.check().unwrap();
        }
        log.connection.execute("UPDATE wearer SET settings = replace(settings, '70', '78')", []).unwrap();
        assert!(matches!(log.wearer(), Err(Error::DamagedLog { .. })));
        log.connection.execute("UPDATE learned SET document = '8'", []).unwrap();
        assert!(matches!(log.learned::<i64>("lag"), Err(Error::DamagedLog { .. })));
        log.connection.execute("UPDATE about SET made = made + 1", []).unwrap();
        assert!(matches!(log.id(), Err(Error::DamagedLog { .. })));
    }
}
