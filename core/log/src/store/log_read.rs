//! What is asked of a log.

use super::read::{Carried, Chain, Count, Stretch};
use super::{Log, read};
#[cfg(doc)]
use crate::error::Error;
use crate::error::Result;
use crate::log::{Entry, EntryId, History, Reading, Source};
use crate::time::Moment;

impl Log {
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

    /// When the log was written to last, if that lies ahead of `now` by more than device clocks differ: the clock was
    /// set back, and entries made now would look old.
    ///
    /// # Errors
    /// As [`Log::history`].
    pub fn clock_behind(&self, now: Moment) -> Result<Option<Moment>> {
        let last = self.read(read::last_recorded)?;
        Ok(last.filter(|last| last.unix_ms() > now.unix_ms().saturating_add(Entry::AHEAD_OF_CLOCK_MS)))
    }
}
