//! Correcting, retracting and undoing: each adds an entry and takes nothing away.

use rusqlite::Connection;

use crate::error::{Error, Quantity, Why};
use crate::log::{Entry, EntryId, EntryKind};
use crate::store::read::{self, Chain};
use crate::store::rows::Origin;
use crate::store::sqlite_error::StoreError;
use crate::store::write::Writer;
use crate::time::Moment;

/// What undoing did.
#[derive(Clone, Debug, PartialEq)]
pub struct Undone {
    /// The entry that no longer holds.
    pub undone: Entry,
    /// The entry that undid it.
    pub by: Entry,
}

fn put(connection: &Connection, entry: Entry, origin: Origin) -> Result<Entry, StoreError> {
    let mut writer = Writer::begin(connection)?;
    writer.put(&entry, origin)?;
    Ok(entry)
}

/// The entry that speaks for `id` now: the last of its corrections or retractions.
fn speaker(chain: &Chain, id: EntryId) -> Result<&Entry, StoreError> {
    chain.entries.get(&chain.standing.tip(id)).ok_or_else(|| Error::NoSuchEntry { id: id.0 }.into())
}

pub(super) fn correct(
    connection: &Connection,
    id: EntryId,
    at: Moment,
    what: EntryKind,
    now: Moment,
) -> Result<Entry, StoreError> {
    let invalid = |why| StoreError::from(Error::Invalid { what: Quantity::Correction, why });
    let chain = Chain::of(connection, id)?;
    let speaker = speaker(&chain, id)?;
    let original = content(&chain, speaker.id)?;
    let is_import = |what: &EntryKind| matches!(what, EntryKind::Import { .. });
    if what == EntryKind::Retraction {
        return Err(invalid(Why::RetractInstead));
    }
    if is_import(&what) != is_import(&original.what) {
        return Err(invalid(Why::ImportOnlyRenamed));
    }
    let mut correction = speaker.corrected(now, at, what)?;
    correction.source = original.source.clone();
    let correction = put(connection, correction, Origin::Said)?;
    if Chain::of(connection, correction.id)?.standing.holds(correction.id) {
        Ok(correction)
    } else {
        // Nothing is kept: the caller's transaction ends with this error.
        Err(invalid(Why::ImportTakenBack))
    }
}

pub(super) fn retract(connection: &Connection, id: EntryId, now: Moment) -> Result<Entry, StoreError> {
    let chain = Chain::of(connection, id)?;
    let speaker = speaker(&chain, id)?;
    if speaker.what == EntryKind::Retraction {
        return Ok(speaker.clone());
    }
    put(connection, speaker.retracted(now), Origin::Said)
}

pub(super) fn undo_last(connection: &Connection, now: Moment) -> Result<Option<Undone>, StoreError> {
    let Some((undone, row)) = read::last_said(connection)? else { return Ok(None) };
    let chain = Chain::of(connection, undone.id)?;
    let speaker = speaker(&chain, undone.id)?;
    // Another correction of the same entry came from another device and holds: taking this one back would change nothing.
    if speaker.what != EntryKind::Retraction && !chain.standing.holds(speaker.id) {
        return Err(Error::Invalid { what: Quantity::Entry, why: Why::CorrectedElsewhere }.into());
    }
    let by = match undone.replaces.and_then(|replaced| chain.entries.get(&replaced)) {
        // What was corrected, or hidden, is said again.
        Some(before) if before.what != EntryKind::Retraction => {
            let mut again = speaker.corrected(now, before.at, before.what.clone())?;
            again.source = before.source.clone();
            again
        }
        _ => speaker.retracted(now),
    };
    let by = put(connection, by, Origin::Undo(row))?;
    Ok(Some(Undone { undone, by }))
}

/// The entry whose content stood last before any retraction: `id` itself unless that is one.
fn content(chain: &Chain, id: EntryId) -> Result<&Entry, StoreError> {
    let mut id = id;
    for _ in 0..=chain.entries.len() {
        match chain.entries.get(&id) {
            Some(Entry { what: EntryKind::Retraction, replaces: Some(replaced), .. }) => id = *replaced,
            Some(entry) => return Ok(entry),
            None => break,
        }
    }
    Err(Error::NoSuchEntry { id: id.0 }.into())
}
