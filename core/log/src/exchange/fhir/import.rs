//! A bundle into a log.

use std::io::Read;

use super::read::{Finding, FindingCode, Options, Report, each};
use crate::error::Result;
use crate::log::{Entry, EntryId, Text};
use crate::store::{Imported, Log};

/// What became of a bundle.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Outcome {
    /// What the bundle came to.
    pub report: Report,
    /// What the log made of it; nothing where nothing was to be taken, or it was only looked at.
    pub imported: Option<Imported>,
}

/// Reads a bundle and records its entries as one import, which can be taken back as a whole; or, with `only_look`, says what that
/// would come to.
///
/// An entry whose identity the log has already, with another content, is left out and told of as [`FindingCode::OtherContent`]: an
/// honest bundle has no such entry, and a forged one must not put its content in the place of what the wearer said. For the same
/// reason an entry that corrects one of this log's is left out as [`FindingCode::CorrectsKnown`]: merging two logs carries
/// corrections, a file does not.
///
/// The bundle is read into a log in memory first, where a reading takes about 40 bytes, so that nobody waits to write while it is read.
///
/// # Errors
/// Those of [`super::read()`] and [`Log::import`]. Nothing is written in any of these cases.
pub fn import(log: &mut Log, input: impl Read, name: Text, only_look: bool, options: &Options) -> Result<Outcome> {
    if only_look {
        let report = each(input, options, &mut |_, entry| objection(&entry, |id| log.get(id)))?;
        return Ok(Outcome { report, imported: None });
    }
    let mut read = Log::in_memory(options.now)?;
    let (mut report, held) = read.import_while(name.clone(), options.now, |import| {
        each(input, options, &mut |_, entry| {
            let code = objection(&entry, |id| log.get(id))?;
            if code.is_none() {
                import.put(entry)?;
            }
            Ok(code)
        })
    })?;
    let Some(held) = held else { return Ok(Outcome { report, imported: None }) };
    let ((), imported) = log.import_while(name, options.now, |import| {
        read.each_fact(|entry| {
            if entry.id == held.id {
                return Ok(());
            }
            // Asked once more: somebody else may have written since.
            match objection(&entry, |id| import.known_before(id))? {
                None => import.put(entry),
                Some(code) => {
                    report.taken = report.taken.saturating_sub(1);
                    report.leave_out(Finding { entry: 0, element: "id", code });
                    Ok(())
                }
            }
        })
    })?;
    Ok(Outcome { report, imported })
}

/// Why an entry is left out of what is taken into a log that knows what `known` tells.
fn objection(entry: &Entry, mut known: impl FnMut(EntryId) -> Result<Option<Entry>>) -> Result<Option<FindingCode>> {
    Ok(match (known(entry.id)?, entry.replaces) {
        (Some(held), _) if !same(&held, entry) => Some(FindingCode::OtherContent),
        (None, Some(replaced)) if known(replaced)?.is_some() => Some(FindingCode::CorrectsKnown),
        _ => None,
    })
}

/// Whether two copies of one fact say the same. When each was recorded, and with which offset, may differ: two phones heard it.
fn same(one: &Entry, other: &Entry) -> bool {
    (one.at.unix_ms(), &one.source, one.replaces, &one.what)
        == (other.at.unix_ms(), &other.source, other.replaces, &other.what)
}
