//! What a shell can do something about.

use ebbstead_core::Error;
use ebbstead_core::words::Words;

/// Why a call failed. Each kind asks for something else of the shell; `advice` is a sentence for the wearer, in their language.
///
/// Nothing the wearer logged or typed is in it, and no path, so it may go into a crash report.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error, uniffi::Error)]
pub enum ApiError {
    /// What was given cannot be taken: show the advice beside the field.
    #[error("{field} cannot be taken: {advice}")]
    InvalidInput {
        /// The quantity: `glucose`, `insulin`, `carbohydrate`, `time`, `number`, `text`, `low line`, ...
        field: String,
        /// For the wearer.
        advice: String,
    },
    /// No entry has this identity: list the log again.
    #[error("no such entry: {advice}")]
    NotFound {
        /// For the wearer.
        advice: String,
    },
    /// The companion was closed: open it again.
    #[error("closed: {advice}")]
    Closed {
        /// For the wearer.
        advice: String,
    },
    /// A newer version wrote the log, which was left as it is: the app needs an update.
    #[error("newer log: {advice}")]
    NewerLog {
        /// The layout in the file.
        found: i64,
        /// The newest this version reads.
        known: i64,
        /// For the wearer.
        advice: String,
    },
    /// The file is damaged or no log; it was kept as it is: offer to copy it, then open another path.
    #[error("damaged: {advice}")]
    Damaged {
        /// For the wearer.
        advice: String,
    },
    /// No room on the device; nothing of this was written: say so and try again.
    #[error("no room: {advice}")]
    NoRoom {
        /// For the wearer.
        advice: String,
    },
    /// Another program is writing to the log: try again.
    #[error("busy: {advice}")]
    Busy {
        /// For the wearer.
        advice: String,
    },
    /// The file or the device refused, or the core failed: show the advice.
    #[error("failed: {advice}")]
    Failed {
        /// For the wearer.
        advice: String,
    },
}

/// The facade's result.
pub(crate) type ApiResult<T> = Result<T, ApiError>;

impl ApiError {
    /// The kind a core error is of, with advice in these words.
    pub(crate) fn of(error: &Error, words: Words) -> Self {
        let advice = words.advice(error);
        match error {
            Error::OutOfRange { what, .. } | Error::Invalid { what, .. } => {
                Self::InvalidInput { field: what.name().to_owned(), advice }
            }
            Error::WrongPassphrase { .. } => Self::InvalidInput { field: "passphrase".to_owned(), advice },
            Error::Import { .. } => Self::InvalidInput { field: "file".to_owned(), advice },
            Error::NoSuchEntry { .. } => Self::NotFound { advice },
            Error::NewerLog { found, known, .. } => Self::NewerLog { found: *found, known: *known, advice },
            Error::NotALog { .. }
            | Error::DamagedLog { .. }
            | Error::NotASealedLog { .. }
            | Error::DamagedSealedLog { .. } => Self::Damaged { advice },
            Error::DiskFull { .. } => Self::NoRoom { advice },
            Error::Gone { .. } => Self::Closed { advice },
            Error::Busy { .. } => Self::Busy { advice },
            Error::File { .. } | Error::ReadOnly { .. } | Error::Database { .. } => Self::Failed { advice },
        }
    }

    /// What it says to the wearer.
    pub(crate) fn advice(self) -> String {
        match self {
            Self::InvalidInput { advice, .. }
            | Self::NotFound { advice }
            | Self::Closed { advice }
            | Self::NewerLog { advice, .. }
            | Self::Damaged { advice }
            | Self::NoRoom { advice }
            | Self::Busy { advice }
            | Self::Failed { advice } => advice,
        }
    }

    pub(crate) fn closed(words: Words) -> Self {
        Self::Closed { advice: words.closed_or_failed().to_owned() }
    }

    pub(crate) fn panicked(words: Words) -> Self {
        Self::Failed { advice: words.closed_or_failed().to_owned() }
    }
}

/// What a shell's own watcher throws without saying so.
impl From<uniffi::UnexpectedUniFFICallbackError> for ApiError {
    fn from(_: uniffi::UnexpectedUniFFICallbackError) -> Self {
        Self::Failed { advice: String::new() }
    }
}
