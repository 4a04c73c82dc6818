//! Going around damage: what is sound of a damaged log can still be read, and that it is damaged can be asked.
//!
//! A prompt at night is better made of what is left, and says so, than not made. So a log opened with
//! [`crate::store::Log::open_sound`] reads on in a copy of its sound rows, held in memory, from the first damage it finds.

use std::cell::OnceCell;
use std::path::Path;
use std::sync::{Arc, OnceLock};

use rusqlite::Connection;

use crate::error::{Damage, Error};
use crate::store::recover;
use crate::time::Moment;

/// Whether damage was found. It outlives the log it is of, so that a shell can say it at the end of whatever was done.
#[derive(Clone, Debug, Default)]
pub struct FoundDamage(Arc<OnceLock<(std::path::PathBuf, Damage)>>);

impl FoundDamage {
    /// The damage found first, as the error it would have been.
    #[must_use]
    pub fn found(&self) -> Option<Error> {
        self.0.get().map(|(path, what)| Error::DamagedLog { path: path.clone(), what: *what })
    }

    pub(super) fn note(&self, path: &Path, what: Damage) {
        // Of several the first is reported.
        let _ = self.0.set((path.to_owned(), what));
    }
}

/// How a log that goes around damage does it.
#[derive(Debug)]
pub(super) struct Around {
    now: Moment,
    pub(super) damage: FoundDamage,
    /// The sound rows, once damage was found.
    view: OnceCell<Connection>,
}

impl Around {
    pub(super) fn new(now: Moment) -> Self {
        Self { now, damage: FoundDamage::default(), view: OnceCell::new() }
    }

    pub(super) fn view(&self) -> Option<&Connection> {
        self.view.get()
    }

    /// Makes the copy of what is sound; nothing where nothing of a log is found.
    pub(super) fn go(&self, path: &Path, what: Damage) -> Option<&Connection> {
        self.damage.note(path, what);
        if self.view.get().is_none() {
            let view = recover::view(path, self.now).ok()?;
            let _ = self.view.set(view);
        }
        self.view.get()
    }

    /// Forgets the copy after a change: it is made again when it is next needed.
    pub(super) fn forget(&mut self) {
        self.view.take();
    }
}
