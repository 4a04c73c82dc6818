//! What a shell is notified of without asking.

use crate::error::ApiError;
use crate::prompt::Occasion;
use crate::records::Moment;

/// A prompt that should be asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, uniffi::Record, serde::Serialize)]
pub struct Due {
    /// Since when.
    pub at: Moment,
    /// On what occasion the prompt before it was asked for.
    pub occasion: Occasion,
}

/// Implemented by the shell. It is called on the thread of the call that caused it, with no lock held, so it may call back;
/// what it throws is ignored, since what it is notified of has already happened.
#[uniffi::export(with_foreign)]
pub trait Watcher: Send + Sync {
    /// The log holds something else than before: list it and ask again.
    ///
    /// # Errors
    /// Whatever the shell throws.
    fn log_changed(&self) -> Result<(), ApiError>;

    /// The settings are others: draw everything again.
    ///
    /// # Errors
    /// Whatever the shell throws.
    fn settings_changed(&self) -> Result<(), ApiError>;

    /// It is time to look again.
    ///
    /// # Errors
    /// Whatever the shell throws.
    fn prompt_due(&self, due: Due) -> Result<(), ApiError>;
}
