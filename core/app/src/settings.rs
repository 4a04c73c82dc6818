//! The wearer's settings, filled in and kept.

use crate::error::Result;
use crate::forms::settings::read;
use crate::forms::{Filled, Form};
use crate::store::Log;
use crate::time::Moment;
use crate::words::{Spoken, Words};

/// Keeps what was filled in, all of it or nothing; what was not touched stays as it was. Gives the form as it is then, and in whose words
/// it is if anything was kept. What cannot be taken is said beside its field.
///
/// # Errors
/// Those of reading and writing the log.
pub fn keep(log: &mut Log, filled: &Filled, now: Moment) -> Result<(Form, Option<Words>)> {
    let before = log.wearer()?;
    let (form, wearer) = read(filled, &before, Words::of(&before));
    let Some(wearer) = wearer else { return Ok((form, None)) };
    if wearer.language != before.language {
        Spoken::require(wearer.language)?;
    }
    log.set_wearer(&wearer, now)?;
    let words = Words::of(&wearer);
    Ok((read(&Filled::new(), &wearer, words).0, Some(words)))
}
