//! A bundle into a log.

use std::io::Read;

use super::read::{Finding, FindingCode, Options, Report, read};
use crate::error::Result;
use crate::log::{Entry, Text};
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
/// # Errors
/// Those of [`read`] and [`Log::import`]. Nothing is written in any of these cases.
pub fn import(log: &mut Log, input: impl Read, name: Text, only_look: bool, options: &Options) -> Result<Outcome> {
    let (mut entries, mut report) = read(input, options)?;
    let mut kept = Vec::with_capacity(entries.len());
    for (place, entry) in entries.drain(..) {
        let code = match (log.get(entry.id)?, entry.replaces) {
            (Some(held), _) if !same(&held, &entry) => FindingCode::OtherContent,
            (None, Some(replaced)) if log.get(replaced)?.is_some() => FindingCode::CorrectsKnown,
            _ => {
                kept.push(entry);
                continue;
            }
        };
        report.leave_out(Finding { entry: place, element: "id", code });
        report.taken -= 1;
    }
    let imported = if only_look || kept.is_empty() {
        None
    } else {
        Some(log.import(name, kept.into_iter().map(Ok), options.now)?)
    };
    Ok(Outcome { report, imported })
}

/// Whether two copies of one fact say the same. When each was recorded, and with which offset, may differ: two phones heard it.
fn same(one: &Entry, other: &Entry) -> bool {
    (one.at.unix_ms(), &one.source, one.replaces, &one.what)
        == (other.at.unix_ms(), &other.source, other.replaces, &other.what)
}
