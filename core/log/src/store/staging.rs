//! A file into the log: read where nothing waits for it, weighed against what the log says, then written in one transaction.

use crate::error::Result;
use crate::log::{Entry, EntryId, EntryKind, Text};
use crate::store::write::Importing;
use crate::store::{Imported, Log};
use crate::time::Moment;

/// Entries read into memory before the log is written to, about 40 bytes each: ten years of readings. Of a larger file the rest is read
/// while the log is held, so that memory does not grow with it.
const MOST_HELD: u64 = 1_000_000;

/// Why an entry of a file is left out: what the log says of it already stands. Merging two logs carries corrections, a file does not;
/// and taking an import back could not undo them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Conflict {
    /// The log has an entry with this identity and another content. An honest file has no such entry, unless a cell of it was changed
    /// by hand; a forged one must not put its content in the place of what the wearer said.
    OtherContent,
    /// It would correct or hide an entry of the log.
    CorrectsKnown,
}

/// Whether a reader has more to read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum More {
    /// It came to the end.
    No,
    /// It stopped because the stage [is full](Stage::is_full).
    Yes,
}

/// Where a reader puts the entries of a file, one by one.
pub struct Stage<'a, 'c> {
    to: To<'a, 'c>,
    /// How many more entries memory takes.
    room: u64,
}

enum To<'a, 'c> {
    /// Nowhere: the file is only looked at.
    Nowhere(&'a Log),
    /// Into memory.
    Memory(&'a Log, &'a mut Importing<'c>),
    /// Into the log.
    Log(&'a mut Importing<'c>),
}

impl Stage<'_, '_> {
    /// Takes an entry, or says why it is left out.
    ///
    /// # Errors
    /// Those of [`Log::import`].
    pub fn put(&mut self, entry: Entry) -> Result<Option<Conflict>> {
        let conflict = match &mut self.to {
            To::Nowhere(log) | To::Memory(log, _) => conflict(&entry, |id| log.get(id))?,
            To::Log(import) => conflict(&entry, |id| import.known_before(id))?,
        };
        if conflict.is_none()
            && let To::Memory(_, import) | To::Log(import) = &mut self.to
        {
            import.put(entry)?;
            self.room = self.room.saturating_sub(1);
        }
        Ok(conflict)
    }

    /// Whether an entry of the same kind, source and time as this one holds in the log or among what was put, apart from one.
    ///
    /// # Errors
    /// Those of reading the log.
    pub fn holds(&mut self, like: &Entry, apart: Option<EntryId>) -> Result<bool> {
        let kind = |what: &EntryKind| (what.sensor().is_some(), what.meter().is_some());
        let is_such = |entry: &Entry| {
            let of_kind = std::mem::discriminant(&entry.what) == std::mem::discriminant(&like.what);
            let measures = kind(&like.what) != (false, false) && kind(&entry.what) == kind(&like.what);
            entry.source == like.source && (of_kind || measures) && Some(entry.id) != apart
        };
        let at = like.at;
        let held = match &self.to {
            To::Nowhere(log) | To::Memory(log, _) => log.current(at, at)?.iter().any(is_such),
            To::Log(_) => false,
        };
        let put = match &mut self.to {
            To::Memory(_, import) | To::Log(import) => import.current(at)?.iter().any(is_such),
            To::Nowhere(_) => false,
        };
        Ok(held || put)
    }

    /// Whether a reader that can stop between two entries is to stop, and to go on when it is called again.
    #[must_use]
    pub const fn is_full(&self) -> bool {
        matches!(self.to, To::Memory(..)) && self.room == 0
    }
}

/// What became of a file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Staged {
    /// What the log made of it; nothing where nothing was to be taken, or it was only looked at.
    pub imported: Option<Imported>,
    /// Entries reported to the reader as taken that had to be left out: something else wrote to the log meanwhile.
    pub late: Vec<Conflict>,
}

impl Log {
    /// Brings in a file as one import, which can be taken back as a whole, or says with `dry_run` what that would come to.
    ///
    /// `read` hands over the entries as it reads them. It is called once; and once more where it stopped because the stage was full.
    /// It may fail, as reading may; then nothing is written and its error is returned. A file with nothing to take leaves no trace.
    ///
    /// # Errors
    /// Those of `read` and of [`Log::import`]. Nothing is written in any of these cases.
    pub fn import_file(
        &mut self,
        name: Text,
        now: Moment,
        dry_run: bool,
        read: &mut dyn FnMut(&mut Stage<'_, '_>) -> Result<More>,
    ) -> Result<Staged> {
        if dry_run {
            read(&mut Stage { to: To::Nowhere(self), room: 0 })?;
            return Ok(Staged { imported: None, late: Vec::new() });
        }
        self.import_holding(MOST_HELD, name, now, read)
    }

    fn import_holding(
        &mut self,
        room: u64,
        name: Text,
        now: Moment,
        read: &mut dyn FnMut(&mut Stage<'_, '_>) -> Result<More>,
    ) -> Result<Staged> {
        let mut memory = Self::in_memory(now)?;
        let (more, held) =
            memory.import_while(name.clone(), now, |import| read(&mut Stage { to: To::Memory(self, import), room }))?;
        let Some(held) = held else { return Ok(Staged { imported: None, late: Vec::new() }) };
        let mut late = Vec::new();
        let ((), imported) = self.import_while(name, now, |import| {
            let mut stage = Stage { to: To::Log(import), room: 0 };
            memory.each_fact(|entry| {
                // Not the import in memory itself; the log makes its own.
                if entry.id != held.id {
                    late.extend(stage.put(entry)?);
                }
                Ok(())
            })?;
            while more == More::Yes && read(&mut stage)? == More::Yes {}
            Ok(())
        })?;
        Ok(Staged { imported, late })
    }
}

/// Why an entry is left out of what is added to a log that knows what `known` gives.
fn conflict(entry: &Entry, mut known: impl FnMut(EntryId) -> Result<Option<Entry>>) -> Result<Option<Conflict>> {
    // A reading's identity follows from what it says.
    if matches!(entry.what, EntryKind::SensorReading { .. }) && entry.replaces.is_none() {
        return Ok(None);
    }
    Ok(match (known(entry.id)?, entry.replaces) {
        (Some(held), _) if !same(&held, entry) => Some(Conflict::OtherContent),
        (None, Some(replaced)) if known(replaced)?.is_some() => Some(Conflict::CorrectsKnown),
        _ => None,
    })
}

/// Whether two copies of one fact say the same. When each was recorded, and with which offset, may differ: two phones received it.
fn same(one: &Entry, other: &Entry) -> bool {
    (one.at.unix_ms(), &one.source, one.replaces, &one.what)
        == (other.at.unix_ms(), &other.source, other.replaces, &other.what)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::log::Source;
    use crate::units::Glucose;

    fn now() -> Moment {
        Moment::parse("2026-03-01T12:00:00+01:00").unwrap()
    }

    fn check(minutes: f64) -> Entry {
        let what = EntryKind::MeterCheck { mg_dl: Glucose::from_mg_dl(104.0).unwrap() };
        Entry::received(now().plus_minutes(-minutes), now(), Source::by_hand(), what).unwrap()
    }

    #[test]
    fn what_memory_does_not_hold_is_read_while_the_log_is_held_and_is_one_import_with_the_rest() {
        let name = || Text::new("file").unwrap();
        for room in [1, 3, 10, 100] {
            let mut log = Log::in_memory(now()).unwrap();
            let mut forged = check(5.0);
            forged.what = EntryKind::Note { text: name() };
            log.record(&forged).unwrap();
            let mut next = 0..10;
            let (mut calls, mut conflicts) = (0, 0);
            let staged = log
                .import_holding(room, name(), now(), &mut |stage| {
                    calls += 1;
                    while !stage.is_full() {
                        let Some(n) = next.next() else { return Ok(More::No) };
                        conflicts += u32::from(stage.put(check(f64::from(n)))?.is_some());
                    }
                    Ok(More::Yes)
                })
                .unwrap();
            assert_eq!((conflicts, staged.late.len()), (1, 0), "{room}");
            assert_eq!(calls, if room > 9 { 1 } else { 2 }, "{room}");
            let imported = staged.imported.unwrap();
            assert_eq!(imported.recorded.new, 9);
            log.retract(imported.id, now()).unwrap();
            assert!(log.history(now().plus_minutes(-60.0), now()).unwrap().meter_checks.is_empty());
        }
    }

    #[test]
    fn what_fails_late_leaves_nothing() {
        let mut log = Log::in_memory(now()).unwrap();
        let mut sent = 0;
        let failed = log.import_holding(2, Text::new("file").unwrap(), now(), &mut |stage| {
            while !stage.is_full() {
                sent += 1;
                if sent > 4 {
                    return Err(crate::Error::ReadOnly { path: "torn".into() });
                }
                stage.put(check(f64::from(sent)))?;
            }
            Ok(More::Yes)
        });
        assert!(matches!(failed, Err(crate::Error::ReadOnly { path }) if path.as_os_str() == "torn"));
        assert_eq!(log.span().unwrap(), None);
    }
}
