//! What SQLite says, turned into what a person can act on.

use std::io;
use std::path::Path;

use rusqlite::ErrorCode;
use rusqlite::ffi;

use crate::error::{Damage, Error};

/// A failure inside the store, before it is known which file it was about.
#[derive(Debug)]
pub(super) enum StoreError {
    /// SQLite failed.
    Sqlite(rusqlite::Error),
    /// A row cannot be what was written; says which kind of row.
    Damaged(Damage),
    /// The file cannot be read past SQLite.
    Io(io::Error),
    /// An error that is complete already.
    Said(Error),
}

impl From<rusqlite::Error> for StoreError {
    fn from(error: rusqlite::Error) -> Self {
        Self::Sqlite(error)
    }
}

impl From<ebbstead_engine::Error> for StoreError {
    fn from(error: ebbstead_engine::Error) -> Self {
        Self::Said(error.into())
    }
}

impl From<Error> for StoreError {
    fn from(error: Error) -> Self {
        Self::Said(error)
    }
}

impl StoreError {
    /// Names the file.
    pub(super) fn of(self, path: &Path) -> Error {
        let path = path.to_owned();
        let is_misread = |error: &rusqlite::Error| {
            use rusqlite::Error as E;
            matches!(
                error,
                E::FromSqlConversionFailure(..)
                    | E::InvalidColumnType(..)
                    | E::IntegralValueOutOfRange(..)
                    | E::Utf8Error(..)
                    | E::QueryReturnedNoRows
            )
        };
        match self {
            Self::Said(error) => error,
            Self::Sqlite(error) if is_misread(&error) => Error::DamagedLog { path, what: Damage::Value },
            Self::Io(source) => of_file(&path, source),
            Self::Damaged(what) => Error::DamagedLog { path, what },
            // The store's own questions are right, so it is the layout they were asked of that is not.
            Self::Sqlite(rusqlite::Error::SqlInputError { .. }) => Error::DamagedLog { path, what: Damage::Table },
            Self::Sqlite(source) => match source.sqlite_error_code() {
                Some(ErrorCode::DiskFull) => Error::DiskFull { path },
                Some(ErrorCode::ReadOnly | ErrorCode::PermissionDenied) => Error::ReadOnly { path },
                Some(ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked) => Error::Busy { path },
                Some(ErrorCode::NotADatabase) => Error::NotALog { path },
                Some(ErrorCode::TooBig) => Error::DamagedLog { path, what: Damage::RowTooLarge },
                // A page or a file that ends early is damage as well, whatever code says so.
                Some(ErrorCode::DatabaseCorrupt) => Error::DamagedLog { path, what: Damage::Pages },
                _ if source.sqlite_extended_error_code() == Some(ffi::SQLITE_IOERR_SHORT_READ) => {
                    Error::DamagedLog { path, what: Damage::EndsEarly }
                }
                // The index of the side file is the one file that SQLite makes larger before it writes anything.
                _ if is_without_room(&source) => Error::DiskFull { path },
                Some(ErrorCode::Unknown) => Error::DamagedLog { path, what: Damage::Table },
                _ => Error::Database { path, source },
            },
        }
    }

    /// Whether SQLite could not make or open one of its files, for want of leave or of room.
    pub(super) fn cannot_open(&self) -> bool {
        matches!(self, Self::Sqlite(error) if matches!(
            error.sqlite_error_code(),
            Some(ErrorCode::CannotOpen | ErrorCode::ReadOnly | ErrorCode::PermissionDenied)
        )) || self.is_without_room()
    }

    /// Whether the disk has no room for what SQLite needs even to read.
    pub(super) fn is_without_room(&self) -> bool {
        matches!(self, Self::Sqlite(error)
            if error.sqlite_error_code() == Some(ErrorCode::DiskFull) || is_without_room(error))
    }

    /// What is not as it was written; otherwise the error it is.
    pub(super) fn into_damage(self, path: &Path) -> Result<Damage, Error> {
        match self.of(path) {
            Error::DamagedLog { what, .. } => Ok(what),
            other => Err(other),
        }
    }
}

/// Whether the index beside a side file found no room.
fn is_without_room(error: &rusqlite::Error) -> bool {
    let code = error.sqlite_extended_error_code();
    matches!(code, Some(ffi::SQLITE_IOERR_SHMSIZE | ffi::SQLITE_IOERR_SHMMAP | ffi::SQLITE_IOERR_SHMOPEN))
}

/// What the operating system said about a file.
pub fn of_file(path: &Path, source: io::Error) -> Error {
    let path = path.to_owned();
    match source.kind() {
        io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded => Error::DiskFull { path },
        io::ErrorKind::ReadOnlyFilesystem => Error::ReadOnly { path },
        _ => Error::File { path, source },
    }
}
