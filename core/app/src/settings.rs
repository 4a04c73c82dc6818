//! The wearer's settings, filled in and kept.

use crate::error::Result;
use crate::forms::settings::read;
use crate::forms::{Filled, Form};
use crate::store::Log;
use crate::time::Moment;
use crate::wearer::Wearer;
use crate::words::{Spoken, Words};

/// Keeps settings as they were changed from `before`. Alerts that rang at a line move with it.
///
/// # Errors
/// Those of [`Wearer::check`] and of writing the log.
pub fn store(log: &mut Log, before: &Wearer, wearer: Wearer, now: Moment) -> Result<Wearer> {
    let wearer = wearer.with_alerts_moved(before);
    log.set_wearer(&wearer, now)?;
    Ok(wearer)
}

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
    let wearer = store(log, &before, wearer, now)?;
    let words = Words::of(&wearer);
    Ok((read(&Filled::new(), &wearer, words).0, Some(words)))
}
