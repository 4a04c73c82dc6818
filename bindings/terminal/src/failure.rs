//! What went wrong, said on standard error, and the exit code for it.

use std::io;
use std::process::ExitCode;

use ebbstead_core::Error;
use ebbstead_core::say;

use crate::context::Context;

/// Why a command did not get done.
#[derive(Debug)]
pub enum Failure {
    /// The core refused.
    Core(Error),
    /// A value given cannot be used; says which and why, in the wearer's language.
    Value(String),
    /// An entry named is not there.
    Missing(String),
    /// All was done, with what is sound of a damaged log.
    Sound(Error),
    /// Standard output could not be written to.
    Output(io::Error),
    /// The same, after the log took what was noted.
    Kept(io::Error),
}

impl From<ebbstead_core::ValueError> for Failure {
    fn from(error: ebbstead_core::ValueError) -> Self {
        Self::Core(error.into())
    }
}

impl From<Error> for Failure {
    fn from(error: Error) -> Self {
        Self::Core(error)
    }
}

impl From<io::Error> for Failure {
    fn from(error: io::Error) -> Self {
        Self::Output(error)
    }
}

impl From<serde_json::Error> for Failure {
    fn from(error: serde_json::Error) -> Self {
        Self::Output(error.into())
    }
}

/// Exit codes as BSD's sysexits.h names them; 2 for usage is what the argument parser gives.
mod code {
    pub const DATA: u8 = 65;
    pub const NO_INPUT: u8 = 66;
    pub const SOFTWARE: u8 = 70;
    pub const INPUT_OUTPUT: u8 = 74;
    pub const TRY_AGAIN: u8 = 75;
    pub const NOT_ALLOWED: u8 = 77;
}

impl Failure {
    /// Says it and gives the exit code. A reader that has had enough (`| head`) is no failure.
    pub fn end(&self, context: &Context) -> ExitCode {
        let text = match self {
            Self::Output(source) | Self::Kept(source) | Self::Core(Error::File { source, .. })
                if source.kind() == io::ErrorKind::BrokenPipe =>
            {
                return ExitCode::SUCCESS;
            }
            Self::Output(error) => say!(context.words(), "terminal-failure-cannot-write-result", error),
            Self::Kept(error) => say!(context.words(), "terminal-failure-kept-result-not-written", error),
            Self::Core(error @ Error::File { source, .. }) if source.kind() == io::ErrorKind::AlreadyExists => {
                let error = context.words().error(error);
                say!(context.words(), "terminal-failure-or-replace", error)
            }
            Self::Core(error) => context.words().error(error),
            Self::Sound(error) => {
                let error = context.words().error(error);
                say!(context.words(), "terminal-failure-what-above-made-what-sound", error)
            }
            Self::Value(text) | Self::Missing(text) => text.clone(),
        };
        context.report(&format!("ebbstead: {}", context.words().marked(&text)));
        ExitCode::from(self.code())
    }

    fn code(&self) -> u8 {
        match self {
            Self::Value(_) | Self::Sound(_) => code::DATA,
            Self::Missing(_) => code::NO_INPUT,
            Self::Output(_) | Self::Kept(_) => code::INPUT_OUTPUT,
            Self::Core(error) => match error {
                Error::OutOfRange { .. }
                | Error::Invalid { .. }
                | Error::Import { .. }
                | Error::NotALog { .. }
                | Error::NewerLog { .. }
                | Error::DamagedLog { .. }
                | Error::NotASealedLog { .. }
                | Error::DamagedSealedLog { .. } => code::DATA,
                Error::WrongPassphrase { .. } => code::NOT_ALLOWED,
                Error::NoSuchEntry { .. } | Error::Gone { .. } => code::NO_INPUT,
                Error::File { source, .. } => match source.kind() {
                    io::ErrorKind::NotFound | io::ErrorKind::IsADirectory | io::ErrorKind::NotADirectory => {
                        code::NO_INPUT
                    }
                    io::ErrorKind::PermissionDenied => code::NOT_ALLOWED,
                    _ => code::INPUT_OUTPUT,
                },
                Error::ReadOnly { .. } => code::NOT_ALLOWED,
                Error::DiskFull { .. } => code::INPUT_OUTPUT,
                Error::Busy { .. } => code::TRY_AGAIN,
                _ => code::SOFTWARE,
            },
        }
    }
}
