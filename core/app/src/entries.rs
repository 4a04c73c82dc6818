//! What a person adds to a log, or puts right in it, by a form. One place for every shell.

use crate::error::{Error, Result};
use crate::forms::log as forms;
use crate::forms::log::Said;
use crate::forms::{Filled, Form};
use crate::log::{Entry, EntryId, Source};
use crate::snapshot::asks_back;
use crate::store::Log;
use crate::time::Moment;
use crate::words::Words;

/// Lays out what can be added, or what the entry named says, with what was filled in.
///
/// # Errors
/// [`Error::NoSuchEntry`]; those of reading the log.
pub fn form(log: &Log, filled: &Filled, correcting: Option<EntryId>, now: Moment) -> Result<Form> {
    let (wearer, old) = (log.wearer()?, old(log, correcting)?);
    Ok(forms::form(filled, old.as_ref(), &wearer, now, Words::of(&wearer)))
}

/// As [`form`], with what was filled in read. Nothing is given where it cannot be taken; that is said beside its field.
///
/// # Errors
/// As [`form`].
pub fn read(log: &Log, filled: &Filled, correcting: Option<EntryId>, now: Moment) -> Result<(Form, Option<Said>)> {
    let (wearer, old) = (log.wearer()?, old(log, correcting)?);
    Ok(forms::read(filled, old.as_ref(), &wearer, now, Words::of(&wearer)))
}

/// What came of keeping an entry.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct EntryKept {
    /// That it was kept, or that nothing changed, in words.
    pub text: String,
    /// Whether anything was written that can be undone.
    pub can_undo: bool,
}

/// Keeps what [`read`] gave: as an entry of its own, or in place of the entry named. Says that it was kept, and asks back about a dose
/// that is probably a slip. It is kept all the same, since it may be none. An entry that says the same already stays as it was.
///
/// # Errors
/// [`Error::NoSuchEntry`]; those of writing.
pub fn keep(log: &mut Log, said: Said, correcting: Option<EntryId>, now: Moment) -> Result<EntryKept> {
    let words = Words::of(&log.wearer()?);
    let entry = match old(log, correcting)? {
        Some(old) if old.what == said.what && old.at == said.at => {
            return Ok(EntryKept { text: forms::unchanged(words).to_owned(), can_undo: false });
        }
        Some(old) => log.correct(old.id, said.at, said.what, now)?,
        None => {
            let entry = Entry::new(said.at, now, Source::by_hand(), said.what)?;
            log.record(&entry)?;
            entry
        }
    };
    let asks = asks_back(log, &entry, now)?;
    Ok(EntryKept { text: forms::kept(&entry, asks, words), can_undo: true })
}

fn old(log: &Log, named: Option<EntryId>) -> Result<Option<Entry>> {
    named.map(|id| log.get(id)?.ok_or(Error::NoSuchEntry { id: id.0 })).transpose()
}
