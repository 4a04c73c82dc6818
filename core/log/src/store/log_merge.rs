//! Two logs made one.

use super::{Facts, Log, MergePreview, Recorded, StoredSetting, Whole, merge, settings};
#[cfg(doc)]
use crate::error::Error;
use crate::error::Result;
use crate::log::Entry;
use crate::time::Moment;

impl Log {
    /// Adds every fact of another log, so that this one holds the union of both, in one transaction.
    ///
    /// Merging is commutative, associative and idempotent, corrections, retractions and taken-back imports included:
    /// phones that merged each other's logs, in whatever order, show the same. Settings and what was learned stay each
    /// log's own. It asks nothing; [`Log::preview_merge`] says beforehand what it would do and what speaks against it.
    ///
    /// # Errors
    /// As [`Log::record_all`] and, for `other`, [`Log::history`]. Nothing is written in any of these cases.
    pub fn merge(&mut self, other: &dyn Facts) -> Result<Recorded> {
        // What the log has already is found out on a copy, so that no program waits to write for longer than the rest takes.
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
