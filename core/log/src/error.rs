//! What can go wrong, said so that a person can act on it.
//!
//! Messages carry no glucose history, notes or SQL: at most the one value that was just given.

use std::path::PathBuf;

use uuid::Uuid;

pub use ebbstead_engine::{Quantity, Unit, Why};

use crate::exchange::{csv, fhir};

/// The crate's result.
pub type Result<T, E = Error> = std::result::Result<T, E>;

/// Everything this crate can refuse.
#[derive(Debug, thiserror::Error)]
pub enum Error {
    /// A number is not finite, or outside what the thing it measures can be.
    #[error("{what} must be {low:.1} to {high:.1} {unit}, not {given}")]
    OutOfRange {
        /// The quantity, in the trade's words.
        what: Quantity,
        /// What was given, in `unit`.
        given: f64,
        /// The lowest value taken, in `unit`.
        low: f64,
        /// The highest value taken, in `unit`.
        high: f64,
        /// The unit of the three numbers.
        unit: Unit,
    },
    /// A text, time or combination cannot be taken; says which and why.
    #[error("{what}: {why}")]
    Invalid {
        /// The field or option.
        what: Quantity,
        /// Why it cannot be taken and what would be.
        why: Why,
    },
    /// No entry has this identity.
    #[error("no entry {id} in this log")]
    NoSuchEntry {
        /// The identity asked for.
        id: Uuid,
    },
    /// A file cannot be understood.
    #[error("{}:{line}{}: {why:?}", file.display(), column.map_or(String::new(), |c| format!(":{c}")))]
    Import {
        /// The file.
        file: PathBuf,
        /// The line, counted from 1.
        line: u64,
        /// The column, counted from 1, where one is to blame.
        column: Option<usize>,
        /// What is wrong with it.
        why: Refusal,
    },
    /// The operating system refused a file.
    #[error("{}: {source}", path.display())]
    File {
        /// The file or folder.
        path: PathBuf,
        /// What the system said.
        source: std::io::Error,
    },
    /// The file is there but is no Ebbstead log; it was left as it is.
    #[error("{}: not an Ebbstead log; the file was left as it is. Give another path", path.display())]
    NotALog {
        /// The file.
        path: PathBuf,
    },
    /// The log was written by a newer version; it was left as it is.
    #[error("{}: written by a newer Ebbstead (layout {found}, this one reads up to {known}); the file was left as it is. Update Ebbstead", path.display())]
    NewerLog {
        /// The file.
        path: PathBuf,
        /// The layout's version in the file.
        found: i64,
        /// The newest version this build reads.
        known: i64,
    },
    /// The log is damaged; it was kept as it is.
    #[error("{}: the log is damaged ({what}); the file was kept as it is. Copy it before anything else", path.display())]
    DamagedLog {
        /// The file.
        path: PathBuf,
        /// What the check found.
        what: Damage,
    },
    /// The disk is full; what was acknowledged before is safe, this was not written.
    #[error("{}: no room left on the disk; nothing of this was written. Free some space and try again", path.display())]
    DiskFull {
        /// The log.
        path: PathBuf,
    },
    /// The log may not be written.
    #[error("{}: the log cannot be written (read-only file or folder)", path.display())]
    ReadOnly {
        /// The log.
        path: PathBuf,
    },
    /// The log's file was deleted, moved or replaced while it was open.
    #[error("{}: the log was deleted, moved or replaced while it was open; nothing of this was written. Open it again", path.display())]
    Gone {
        /// Where it was.
        path: PathBuf,
    },
    /// Another process holds the log.
    #[error("{}: another program is writing to the log; try again", path.display())]
    Busy {
        /// The log.
        path: PathBuf,
    },
    /// The file is there but is no sealed log that this build can open.
    #[error("{}: not a sealed log, or one that a newer Ebbstead sealed", path.display())]
    NotASealedLog {
        /// The file.
        path: PathBuf,
    },
    /// The passphrase does not open the sealed log.
    #[error("{}: the passphrase does not open it; nothing was changed. If you are sure of it, the file's first lines may be damaged", path.display())]
    WrongPassphrase {
        /// The file.
        path: PathBuf,
    },
    /// The sealed log is damaged, though the passphrase may be right.
    #[error("{}: the sealed log is damaged ({what}); nothing was taken from it. Use another copy", path.display())]
    DamagedSealedLog {
        /// The file.
        path: PathBuf,
        /// What was found.
        what: Damage,
    },
    /// SQLite failed in a way none of the others names.
    #[error("{}: the log could not be used ({source})", path.display())]
    Database {
        /// The log.
        path: PathBuf,
        /// What SQLite said.
        source: rusqlite::Error,
    },
}

impl From<ebbstead_engine::Error> for Error {
    fn from(error: ebbstead_engine::Error) -> Self {
        match error {
            ebbstead_engine::Error::OutOfRange { what, given, low, high, unit } => {
                Self::OutOfRange { what, given, low, high, unit }
            }
            ebbstead_engine::Error::Invalid { what, why } => Self::Invalid { what, why },
        }
    }
}

/// What is damaged in a log or a sealed log. The words are for developers; a person reads those of `present`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[allow(missing_docs)] // each says itself below
pub enum Damage {
    #[error("the file is missing or empty, but the one beside it with -wal in its name holds entries")]
    SideFileAlone,
    #[error("the first bytes of the file beside it with -wal in its name are not as they were written")]
    SideFileHead,
    #[error("the file beside it with -wal in its name is not as it was written")]
    SideFile,
    #[error("the file beside it with -wal in its name is missing or cut off")]
    SideFileLost,
    #[error("its first page is not readable")]
    FirstPage,
    #[error("its pages contradict each other")]
    Pages,
    #[error("another program rewrote it with auto-vacuum")]
    AutoVacuum,
    #[error("it ends early")]
    EndsEarly,
    #[error("a table is not as it was made")]
    Table,
    #[error("a value is of the wrong kind")]
    Value,
    #[error("a row is larger than any that is written")]
    RowTooLarge,
    #[error("a reading is not as it was written")]
    Reading,
    #[error("an entry is not as it was written")]
    Entry,
    #[error("a setting is not as it was written")]
    Setting,
    #[error("a source has no name")]
    SourceWithoutName,
    #[error("a reading lies before its source begins")]
    ReadingBeforeSource,
    #[error("where a source begins is not as it was written")]
    SourceStart,
    #[error("an import has no identity")]
    ImportWithoutIdentity,
    #[error("an entry names a source or import that is not there")]
    Stray,
    #[error("its own identity is not as it was written")]
    Identity,
    #[error("its head was changed")]
    Head,
    #[error("opening it would take more memory than is given to any sealed log")]
    Memory,
    #[error("a piece of it was changed")]
    Piece,
    #[error("it is empty")]
    Empty,
    #[error("a line in it cannot be read")]
    Line,
    #[error("a reading has no source")]
    ReadingWithoutSource,
    #[error("a reading cannot be")]
    ReadingCannotBe,
    #[error("an entry cannot be")]
    EntryCannotBe,
    #[error("its readings are out of order")]
    ReadingsOutOfOrder,
    #[error("its lines are out of order")]
    LinesOutOfOrder,
    #[error("it counts other than it holds")]
    Counts,
    #[error("something comes after its end")]
    AfterEnd,
    #[error("what was read back is not what was written")]
    ReadBack,
    #[error("its layout says version {found}")]
    Layout { found: i64 },
}

/// Why a file is refused as a whole, by what it was read as.
#[derive(Clone, Debug, PartialEq)]
pub enum Refusal {
    /// As a table of readings.
    Table(csv::RowFault),
    /// As a table that Ebbstead wrote: it is none.
    NotATable,
    /// As a FHIR bundle.
    Bundle(fhir::ResourceFault),
    /// It is a log: it is merged, not imported.
    IsALog,
    /// It is a sealed log: it takes its passphrase.
    IsSealed,
}
