//! A log's settings, and what was learnt.

use serde::Serialize;
use serde::de::DeserializeOwned;

use super::{Learned, Log, settings};
#[cfg(doc)]
use crate::error::Error;
use crate::error::Result;
use crate::time::Moment;
use crate::wearer::Wearer;

impl Log {
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
}
