//! Saving from damage.

use ebbstead_core::Result;
use ebbstead_core::sentences;
use ebbstead_core::store::Log;

use crate::error::{ApiError, ApiResult};
use crate::records::Moment;
use crate::settings::spoken;

/// Saves what can be read of a damaged log into a new one. The damaged file is only read, and kept. For when
/// [`crate::EbbsteadCompanion::open`] says that a log is damaged. Returns what was saved, in words.
///
/// # Errors
/// [`ApiError::Damaged`] where nothing of a log is found; `Failed` where `into` is there already or a file cannot be read; `NoRoom`;
/// `InvalidInput` for a time outside 2000 to 2199. Nothing is left at `into` in any of these cases.
#[uniffi::export]
pub fn recover_log(damaged: &str, into: &str, language: &str, now: Moment) -> ApiResult<Vec<String>> {
    let words = spoken(language);
    let recover = || -> Result<_> { Log::recover(damaged, into, now.try_into()?) };
    let done = std::panic::catch_unwind(std::panic::AssertUnwindSafe(recover));
    let recovered = done.map_err(|_| ApiError::panicked(words))?.map_err(|error| ApiError::of(&error, words))?;
    Ok(sentences::merge::recovered_lines(&recovered, words))
}
